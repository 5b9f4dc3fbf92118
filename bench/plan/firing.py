"""The heatings of a job as tasks, and the limits they set to the shots they serve.

A cup is heated once its last shot is out of it, in up to three tasks:

    <heating>.on       hands and heater: the cup is put on the heat and its first burst set
    <heating>          the heater alone: the first burst
    <heating>.finish   hands and heater: stir and read, then the later bursts, each with a stir and a reading

Only a long first burst leaves the hands free; without one the whole heating is the last of the three. Between the
first burst and the rest a cup may wait for a while: it cools, and what it loses is heated again, which
``bench.plan.rhythm`` reckons. Every push that a heating serves ends inside the time that the cup stays in band,
counted from the end of its last task. The two sides of a shared shot are heated as ``bench.plan.heats`` has it:
side A, side B, side A again; and side B again too where it would fall out of its band meanwhile.

A part has one cup: its next melt is weighed into it when the last is used up. The cups of the first shot are
weighed while the moulds warm, before the timeline begins.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from bench.model.recipe import Part
from bench.plan.cups import HeatLengths, WorkingCup
from bench.plan.pours import Pour
from bench.plan.records import Melt
from bench.plan.rhythm import Rhythm
from bench.plan.schedule import After, Task, Within
from bench.plan.work import (
    AT_HEATER,
    BY_HAND,
    BY_HEATER,
    HEAT_ON_S,
    LONGEST_BREAK_S,
    LONGEST_WAIT_S,
    TaskKind,
    Work,
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Limits:
    """What a heating asks of the shots that it serves: the first comes ``after``, all begin ``within``."""

    after: tuple[After, ...]
    within: tuple[Within, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Heating:
    id: str
    words: str
    melt: Melt
    lengths: HeatLengths
    from_cold: bool

    @property
    def total_s(self) -> float:
        """From when the cup is put on the heat to its last stir, without a wait."""
        return (HEAT_ON_S + self.lengths.alone_s if self.lengths.alone_s else 0.0) + self.lengths.finish_s


class Firing:
    """Writes heatings in the order in which the cups are used. ``looked_at`` names the task that the first heating
    of a core's melt waits for, by the first round of that melt."""

    def __init__(
        self,
        cups: Mapping[tuple[Part, int], WorkingCup],
        rhythm: Rhythm,
        *,
        weigh_s: float,
        weighed: Sequence[Part],
        looked_at: Mapping[int, str],
    ) -> None:
        self._cups = cups
        self._rhythm = rhythm
        self._weigh_s = weigh_s
        self._looked_at = looked_at
        self._hot: set[tuple[Part, int]] = set()
        self._weighed = set(weighed)
        self._used: dict[Part, tuple[After, ...]] = {}
        self._guesses: dict[tuple[Part, int, bool], HeatLengths] = {}

    def heat(
        self, group: Sequence[Pour], *, ready_by: Sequence[After], cooled: Sequence[After]
    ) -> tuple[list[Work], Limits]:
        """The tasks that get the cups ready for that group, and what its shots must keep to.

        ``ready_by`` is what else its shots wait for: no cup is finished before, since there is hardly time for
        anything else between that and the push. ``cooled`` are the shots among it: what they needed of the heater
        must be done before a heating that waits for them begins.
        """
        first = group[0]
        works: list[Work] = []
        ready: dict[Part, tuple[After, Within]] = {}
        finish: Task | None = None
        heatings = list(self._heatings(first))
        left_s = [sum(each.total_s for each in heatings[place:]) for place in range(len(heatings))]
        for place, heating in enumerate(heatings):
            follows, within = _sooner(cooled, left_s[0]), tuple[Within, ...]()
            if finish is not None:
                # The cup before is cooling: there is no long break, and no time to ready a mould in between.
                follows = (After(task=finish.id), *_sooner(ready_by, left_s[place]))
                within = (Within(task=finish.id, limit_s=LONGEST_BREAK_S),)
            waits = ready_by if len(heatings) == 1 else ()
            works.extend(self._tasks(heating, first, follows, within, waits, hurried=place > 0))
            finish = works[-1].task
            limit_s = self._cup(heating.melt).in_band_s - first.push_s
            ready[heating.melt.part] = (After(task=finish.id), Within(task=finish.id, limit_s=limit_s))
        for melt in first.melts:
            self._used[melt.part] = tuple(After(task=pour.id) for pour in group)
        after, limits = zip(*ready.values(), strict=True)
        return works, Limits(after=after, within=limits)

    def _heatings(self, first: Pour) -> Iterator[_Heating]:
        waited_s = 0.0
        for melt in first.melts:
            from_cold = (melt.part, melt.number) not in self._hot
            self._hot.add((melt.part, melt.number))
            guess = partial(self._first_guess, melt, from_cold=from_cold)
            heating = self._heating(melt, first, "", guess, from_cold=from_cold)
            yield heating
            waited_s = heating.total_s
        if len(first.melts) == 1:
            return
        side_a, side_b = first.melts
        again = self._heating(side_a, first, ".again", partial(self._cup(side_a).again, waited_s))
        yield again
        if again.total_s + first.push_s > self._cup(side_b).in_band_s:
            yield self._heating(side_b, first, ".again", partial(self._cup(side_b).again, again.total_s))

    def _heating(
        self, melt: Melt, first: Pour, suffix: str, guess: Callable[[], HeatLengths], *, from_cold: bool = False
    ) -> _Heating:
        """As the rhythm has it, or else as long as is guessed."""
        stem = f"{_serves(first)}.heat.{melt.part}{suffix}"
        again = " again" if suffix else ""
        words = f"heating the {melt.part.words} cup{again} for {first.words}"
        return _Heating(
            id=stem,
            words=words,
            melt=melt,
            lengths=self._rhythm.heats.get(stem) or guess(),
            from_cold=from_cold,
        )

    def _first_guess(self, melt: Melt, *, from_cold: bool) -> HeatLengths:
        """Once for every melt: all its reheats are taken to be alike."""
        key = (melt.part, melt.number, from_cold)
        if key not in self._guesses:
            cup = self._cup(melt)
            self._guesses[key] = cup.from_cold() if from_cold else cup.reheated(melt.reheat_s)
        return self._guesses[key]

    def _tasks(
        self,
        heating: _Heating,
        first: Pour,
        follows: tuple[After, ...],
        within: tuple[Within, ...],
        waits: Sequence[After],
        *,
        hurried: bool,
    ) -> Iterator[Work]:
        melt, used = heating.melt, self._used.get(heating.melt.part, ())
        after = (*used, *follows)
        if heating.from_cold and melt.part in self._weighed:
            self._weighed.discard(melt.part)
        elif heating.from_cold:
            weigh = self._weigh(melt, first, used)
            yield weigh
            after = (After(task=weigh.task.id), *follows)
        if heating.from_cold and melt.part is Part.CORE:
            after = (*after, After(task=self._looked_at[melt.first_round]))
        if heating.lengths.alone_s:
            put_on, alone = self._alone(heating, first, after, within)
            yield put_on
            yield alone
            wait_s = LONGEST_BREAK_S if hurried else LONGEST_WAIT_S
            after, within = (After(task=heating.id),), (Within(task=heating.id, limit_s=wait_s),)
        finish_s = heating.lengths.finish_s
        task = Task(
            id=f"{heating.id}.finish",
            words=heating.words,
            length_s=finish_s,
            needs=AT_HEATER,
            after=(*after, *_sooner(waits, finish_s)),
            within=within,
        )
        yield _work(heating, first, TaskKind.FINISH_HEAT, task)

    def _alone(
        self, heating: _Heating, first: Pour, after: tuple[After, ...], within: tuple[Within, ...]
    ) -> tuple[Work, Work]:
        """The cup put on the heat, and its first burst, which follows at once."""
        put_on = Task(
            id=f"{heating.id}.on",
            words=f"putting the {heating.melt.part.words} cup on the heat for {first.words}",
            length_s=HEAT_ON_S,
            needs=AT_HEATER,
            after=after,
            within=within,
        )
        burst = Task(
            id=heating.id,
            words=f"the first burst of {heating.words}",
            length_s=heating.lengths.alone_s,
            needs=BY_HEATER,
            after=(After(task=put_on.id),),
            within=(Within(task=put_on.id, limit_s=0.0),),
        )
        return _work(heating, first, TaskKind.HEAT_ON, put_on), _work(heating, first, TaskKind.HEAT, burst)

    def _weigh(self, melt: Melt, first: Pour, used: tuple[After, ...]) -> Work:
        task = Task(
            id=f"{_serves(first)}.weigh.{melt.part}",
            words=f"weighing the {melt.part.words} cup for {first.words}",
            length_s=self._weigh_s,
            needs=BY_HAND,
            after=used,
        )
        return Work(task=task, kind=TaskKind.WEIGH, round=first.round, part=melt.part, melt=melt.number)

    def _cup(self, melt: Melt) -> WorkingCup:
        return self._cups[melt.part, melt.number]


def _sooner(waits: Sequence[After], seconds: float) -> tuple[After, ...]:
    """The same for what begins so much before what waits."""
    return tuple(
        After(task=each.task, lag_s=max(0.0, each.lag_s - seconds)) if each.lag_s > 0 else each for each in waits
    )


def _work(heating: _Heating, first: Pour, kind: TaskKind, task: Task) -> Work:
    return Work(
        task=task,
        kind=kind,
        round=first.round,
        part=heating.melt.part,
        melt=heating.melt.number,
        from_cold=heating.from_cold,
        heating=heating.id,
    )


def _serves(pour: Pour) -> str:
    return pour.id.removesuffix(".shot") if pour.round == 0 else f"r{pour.round}"
