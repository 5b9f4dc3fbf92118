"""The heatings of a job as tasks, and the limits they set to the shots they serve.

A cup is heated once its last shot is out of it. The heater is its own from the first burst to the end of the
last; then the hands stir and read beside it, while it may have the next cup, and shoot. The stirs between bursts
are in the length of the heating but do not bind the hands: they are short, and come when they may. Every push that
a heating serves ends inside the time that the cup stays in band, counted from the end of the last burst. The two
sides of a shared shot are heated as ``bench.plan.heats`` has it: side A, side B, side A again; and side B again
too where it would fall out of its band meanwhile.

A part has one cup: its next melt is weighed into it when the last is used up. The cups of the first shot are
weighed while the moulds warm, before the timeline begins.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from bench.model.recipe import Part
from bench.plan.cups import WorkingCup
from bench.plan.pours import Pour
from bench.plan.records import Melt
from bench.plan.rhythm import Rhythm
from bench.plan.schedule import After, Task, Within
from bench.plan.work import HANDS, HEATER, LEAST_HEAT_S, LONGEST_BREAK_S, WEIGH_S, Stir, TaskKind, Work


@dataclass(frozen=True, kw_only=True, slots=True)
class Limits:
    """What a heating asks of the shots that it serves: the pushes begin ``within``, and the first of them follows
    ``stir`` at once."""

    after: tuple[After, ...]
    within: tuple[Within, ...]
    stir: Stir


@dataclass(frozen=True, kw_only=True, slots=True)
class _Heating:
    id: str
    words: str
    melt: Melt
    length_s: float
    from_cold: bool


class Firing:
    """Writes heatings in the order in which the cups are used. ``looked_at`` names the task that the first heating
    of a core's melt waits for, by the first round of that melt."""

    def __init__(
        self,
        cups: Mapping[tuple[Part, int], WorkingCup],
        rhythm: Rhythm,
        *,
        weighed: Sequence[Part],
        looked_at: Mapping[int, str],
    ) -> None:
        self._cups = cups
        self._rhythm = rhythm
        self._looked_at = looked_at
        self._hot: set[tuple[Part, int]] = set()
        self._weighed = set(weighed)
        self._used: dict[Part, tuple[After, ...]] = {}

    def heat(self, group: Sequence[Pour], *, ready_by: Sequence[After]) -> tuple[list[Work], Limits]:
        """The tasks that get the cups ready for that group, and what its shots must keep to.

        ``ready_by`` is what else its shots wait for: no cup is stirred for the last time before, since there is no
        time for anything else between stir and push.
        """
        first = group[0]
        works: list[Work] = []
        stirs_s = sum(self._cup(melt).stir_s for melt in first.melts)
        waits = tuple(replace(after, lag_s=max(0.0, after.lag_s - stirs_s)) for after in ready_by)
        ready: list[tuple[After, Within]] = []
        burst: Task | None = None
        heatings = list(self._heatings(first))
        for place, heating in enumerate(heatings):
            # The cup before is cooling: the heater goes from one to the next without a long break.
            follows = () if burst is None else (After(task=burst.id),)
            within = () if burst is None else (Within(task=burst.id, limit_s=LONGEST_BREAK_S),)
            works.extend(self._burst(heating, first, follows, within))
            burst = works[-1].task
            if any(each.melt is heating.melt for each in heatings[place + 1 :]):
                continue
            stir = self._stir(heating)
            done = After(task=burst.id)
            if place < len(heatings) - 1:
                works.append(_beside(stir, first, (done, *waits)))
                done = After(task=stir.id)
            limit_s = self._cup(heating.melt).in_band_s - first.push_s
            ready.append((done, Within(task=burst.id, limit_s=limit_s)))
        for melt in first.melts:
            self._used[melt.part] = tuple(After(task=pour.id) for pour in group)
        after, within = zip(*ready, strict=True)
        return works, Limits(after=after, within=within, stir=stir)

    def _heatings(self, first: Pour) -> Iterator[_Heating]:
        waited_s = 0.0
        for melt in first.melts:
            from_cold = (melt.part, melt.number) not in self._hot
            self._hot.add((melt.part, melt.number))
            guess_s = self._cup(melt).cold_s if from_cold else melt.reheat_s
            heating = self._heating(melt, first, "", guess_s, from_cold=from_cold)
            yield heating
            waited_s = heating.length_s
        if len(first.melts) == 1:
            return
        side_a, side_b = first.melts
        cup_a, cup_b = self._cup(side_a), self._cup(side_b)
        again = self._heating(side_a, first, ".again", cup_a.reheat_s(waited_s, least_s=LEAST_HEAT_S))
        yield again
        waits_s = again.length_s + cup_a.stir_s + first.push_s
        if waits_s > cup_b.in_band_s:
            guess_s = cup_b.reheat_s(again.length_s, least_s=LEAST_HEAT_S)
            yield self._heating(side_b, first, ".again", guess_s)

    def _heating(
        self, melt: Melt, first: Pour, suffix: str, guess_s: float, *, from_cold: bool = False
    ) -> _Heating:
        stem = f"{_serves(first)}.heat.{melt.part}{suffix}"
        length_s = self._rhythm.heats_s.get(stem, max(guess_s, LEAST_HEAT_S))
        again = " again" if suffix else ""
        words = f"heating the {melt.part.words} cup{again} for {first.words}"
        return _Heating(id=stem, words=words, melt=melt, length_s=length_s, from_cold=from_cold)

    def _burst(
        self, heating: _Heating, first: Pour, follows: tuple[After, ...], within: tuple[Within, ...]
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
        task = Task(
            id=heating.id,
            words=heating.words,
            length_s=heating.length_s,
            needs=frozenset({HEATER}),
            after=after,
            within=within,
        )
        yield Work(
            task=task,
            kind=TaskKind.HEAT,
            round=first.round,
            part=melt.part,
            melt=melt.number,
            from_cold=heating.from_cold,
        )

    def _stir(self, heating: _Heating) -> Stir:
        melt = heating.melt
        return Stir(
            id=f"{heating.id}.stir",
            words=f"the stir after {heating.words}",
            length_s=self._cup(melt).stir_s,
            part=melt.part,
            melt=melt.number,
        )

    def _weigh(self, melt: Melt, first: Pour, used: tuple[After, ...]) -> Work:
        task = Task(
            id=f"{_serves(first)}.weigh.{melt.part}",
            words=f"weighing the {melt.part.words} cup for {first.words}",
            length_s=WEIGH_S,
            needs=frozenset({HANDS}),
            after=used,
        )
        return Work(task=task, kind=TaskKind.WEIGH, round=first.round, part=melt.part, melt=melt.number)

    def _cup(self, melt: Melt) -> WorkingCup:
        return self._cups[melt.part, melt.number]


def _beside(stir: Stir, first: Pour, after: tuple[After, ...]) -> Work:
    """A stir on its own, while the other side is heated."""
    task = Task(id=stir.id, words=stir.words, length_s=stir.length_s, needs=frozenset({HANDS}), after=after)
    return Work(task=task, kind=TaskKind.STIR, round=first.round, part=stir.part, melt=stir.melt)


def _serves(pour: Pour) -> str:
    return pour.id.removesuffix(".shot") if pour.round == 0 else f"r{pour.round}"
