"""A plan as tasks: what the hands, the heater and each mould have to do, and what waits for what.

    warm-up    shot; set; open                                                      for each mould
    round      rods in; shot and hold; set; open; look
    core work  ... open; rods out; look; trim; shells back; core shot and hold; set; open; look

Heatings are as ``bench.plan.firing`` has them, shots are dealt as ``bench.plan.pours`` does. Baits are looked at
when the hands are free, but before the next come out of the same mould. The core's shot comes at most the
station's time for shells after they began to come out of the mould.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from bench.model.mould import Mould
from bench.model.recipe import Part, Tail
from bench.model.station import Station
from bench.plan import pace
from bench.plan.cups import WorkingCup
from bench.plan.firing import Firing, Limits
from bench.plan.pours import Pour, groups, round_run, warm_up_runs
from bench.plan.records import Plan, Shot
from bench.plan.rhythm import Rhythm
from bench.plan.schedule import After, Task, Within
from bench.plan.work import HANDS, TaskKind, Work, mould_resource


@dataclass(frozen=True, kw_only=True, slots=True)
class Bench:
    """What all tasks of a job are written from."""

    plan: Plan
    mould: Mould
    station: Station
    cups: Mapping[tuple[Part, int], WorkingCup]


def works_of(bench: Bench, *, moulds: int, together: int, rhythm: Rhythm) -> tuple[Work, ...]:
    """All tasks of the rounds, about in the order in which they will be done, with at most ``together`` shots of a
    round to a heating; warm-up shots share one while they fit."""
    plan, push_s = bench.plan, pace.shot_s(bench.station.pace)
    writer = _Writer(bench, moulds, rhythm)
    firing = Firing(
        bench.cups,
        rhythm,
        weigh_s=pace.weigh_s(bench.station.pace),
        weighed=plan.rounds_table[0].shots[0].parts,
        looked_at={each.round: writer.looked_at(each.round) for each in plan.rounds_table},
    )
    runs = warm_up_runs(plan, moulds=moulds, push_s=push_s)
    for shot in plan.rounds_table[0].shots:
        runs.append(round_run(plan, shot.shot, moulds=moulds, push_s=push_s, rhythm=rhythm))
    waves: list[tuple[int, int, list[Work]]] = []
    for number, run in enumerate(runs):
        warming = number < plan.warm_up_shots
        for group in groups(run, bench.cups, together=moulds if warming else together):
            ready_by = [after for pour in group for after in writer.ready_by(pour)]
            cooled = [after for pour in group for after in writer.cooled(pour)]
            heats, limits = firing.heat(group, ready_by=ready_by, cooled=cooled)
            for place, pour in enumerate(group):
                wave = number if warming else plan.warm_up_shots + (pour.round - 1) // moulds
                waves.append((wave, 2 * number, heats if place == 0 else []))
                waves.append((wave, 2 * number, writer.shot(pour, limits, first=group[0])))
                waves.append((wave, 2 * number + 1, writer.opened(pour)))
    return tuple(work for *_, works in sorted(waves, key=lambda each: each[:2]) for work in works)


class _Writer:
    """Writes what is done at the moulds."""

    def __init__(self, bench: Bench, moulds: int, rhythm: Rhythm) -> None:
        self._plan = bench.plan
        self._mould = bench.mould
        self._pace = bench.station.pace
        self._shell_out_s = bench.station.shell_out_s
        self._moulds = moulds
        self._rhythm = rhythm
        self._cut = bench.plan.cavities if bench.plan.build.has_core and bench.plan.tail is Tail.CUT else 0

    def looked_at(self, number: int) -> str:
        """The task after which a core's colour is settled."""
        return f"r{number}.{'trim' if self._has_tails else 'look-at-shells'}"

    def shot(self, pour: Pour, limits: Limits, *, first: Pour) -> list[Work]:
        """The shot, what readies its mould, and its set. The ``first`` of a heating follows the heating."""
        works: list[Work] = []
        within, heated = limits.within, limits.after if pour is first else (After(task=first.id),)
        if pour.shot is Shot.CORE:
            out_s = self._shell_out_s - pace.open_s(self._mould, self._pace)
            within = (*within, Within(task=f"r{pour.round}.{Shot.SHELL}.open", limit_s=out_s))
        if self._has_rods(pour):
            rods_s = pace.rods_in_s(self._mould, self._pace)
            works.append(self._by_hand(pour, TaskKind.RODS_IN, rods_s, self._opened_before(pour), at_mould=True))
        at_mould = mould_resource(pour.mould)
        push = Task(
            id=pour.id,
            words=pour.words,
            length_s=pour.length_s,
            needs=frozenset({HANDS, at_mould}),
            after=(*heated, *self.ready_by(pour), *self._in_turn(pour)),
            within=within,
        )
        setting = Task(
            id=_sibling(pour, "set"),
            words=f"the set of {pour.words}",
            length_s=pour.set_s - pour.hold_s,
            needs=frozenset({at_mould}),
            after=(After(task=pour.id),),
        )
        kind = TaskKind.SHOT if pour.round else TaskKind.WARM_UP_SHOT
        shot = replace(self._work(pour, push, kind), hold_s=pour.hold_s)
        return [*works, shot, self._work(pour, setting, TaskKind.SET)]

    def ready_by(self, pour: Pour) -> tuple[After, ...]:
        """What the pour waits for besides its cups and its turn: its mould, cool enough and with what belongs in
        it."""
        if pour.shot is Shot.CORE:
            return (After(task=f"r{pour.round}.shells-back"), *self.cooled(pour))
        rods = (After(task=f"r{pour.round}.rods-in"),) if self._has_rods(pour) else ()
        return (*self._opened_before(pour), *self.cooled(pour), *rods)

    def opened(self, pour: Pour) -> list[Work]:
        """What follows the set: opening, and what is done with what comes out."""
        set_by: tuple[After, ...] = (After(task=_sibling(pour, "set")),)
        if pour.shot is not Shot.CORE and pour.round > self._moulds:
            set_by = (*set_by, After(task=f"r{pour.round - self._moulds}.look"))
        opening = Task(
            id=_sibling(pour, "open"),
            words=f"opening the mould after {pour.words}",
            length_s=pace.open_s(self._mould, self._pace),
            needs=frozenset({HANDS, mould_resource(pour.mould)}),
            after=set_by,
        )
        works = [self._work(pour, opening, TaskKind.OPEN)]
        if pour.round == 0:
            return works
        done = (After(task=opening.id),)
        if pour.shot is Shot.SHELL:
            return [*works, *self._shells(pour, done)]
        look = Task(
            id=f"r{pour.round}.look",
            words=f"the look at the baits of round {pour.round}",
            length_s=pace.look_s(self._pace),
            needs=frozenset({HANDS}),
            after=done,
            counts=False,
        )
        return [*works, self._work(pour, look, TaskKind.LOOK_AT_BAITS)]

    @property
    def _has_tails(self) -> bool:
        return self._plan.volumes.tail_ml > 0

    def _has_rods(self, pour: Pour) -> bool:
        return pour.shot is Shot.SHELL and pour.round > 0

    def _shells(self, pour: Pour, after: tuple[After, ...]) -> Iterator[Work]:
        hands = self._pace
        steps = [
            (TaskKind.RODS_OUT, pace.rods_out_s(self._mould, hands)),
            (TaskKind.LOOK_AT_SHELLS, pace.look_s(hands)),
            *([(TaskKind.TRIM, pace.trim_s(self._cut, hands))] if self._has_tails else []),
            (TaskKind.SHELLS_BACK, pace.shells_back_s(self._mould, hands)),
        ]
        for kind, length_s in steps:
            work = self._by_hand(pour, kind, length_s, after, at_mould=kind is TaskKind.SHELLS_BACK)
            after = (After(task=work.task.id),)
            yield work

    def _by_hand(
        self, pour: Pour, kind: TaskKind, length_s: float, after: tuple[After, ...], *, at_mould: bool
    ) -> Work:
        task = Task(
            id=f"r{pour.round}.{kind.replace(' ', '-')}",
            words=f"{kind} in round {pour.round}",
            length_s=length_s,
            needs=frozenset({HANDS, mould_resource(pour.mould)} if at_mould else {HANDS}),
            after=after,
        )
        return self._work(pour, task, kind)

    def _work(self, pour: Pour, task: Task, kind: TaskKind) -> Work:
        shot = pour.shot if kind in _OF_A_SHOT else None
        return Work(task=task, kind=kind, round=pour.round, mould=pour.mould, shot=shot)

    def _opened_before(self, pour: Pour) -> tuple[After, ...]:
        """The opening that leaves the mould free for a round's first pour; none for a mould's first."""
        before = self._before(pour)
        return () if before is None else (After(task=f"{before}.open"),)

    def cooled(self, pour: Pour) -> tuple[After, ...]:
        """The shot before into the same mould, which has to cool from it."""
        before = f"r{pour.round}.{Shot.SHELL}" if pour.shot is Shot.CORE else self._before(pour)
        cooling_s = self._rhythm.cooling_s.get((pour.round, pour.shot), 0.0)
        return () if before is None else (After(task=f"{before}.shot", lag_s=cooling_s),)

    def _before(self, pour: Pour) -> str | None:
        """The last pour into that mould before this one's round."""
        if pour.round > self._moulds:
            return f"r{pour.round - self._moulds}.{self._plan.rounds_table[0].shots[-1].shot}"
        number = pour.number - 1 if pour.round == 0 else self._plan.warm_up_shots
        return f"m{pour.mould}.warm-up{number}" if number else None

    def _in_turn(self, pour: Pour) -> tuple[After, ...]:
        return (After(task=f"r{pour.round - 1}.{pour.shot}.shot"),) if pour.round > 1 else ()


_OF_A_SHOT = frozenset({TaskKind.SHOT, TaskKind.SET, TaskKind.OPEN})


def _sibling(pour: Pour, what: str) -> str:
    return f"{pour.id.removesuffix('.shot')}.{what}"
