"""A plan as tasks: what the hands, the heater and each mould have to do, and what waits for what.

    warm-up    shot; set; open                                                      for each mould
    round      rods in; shot and hold; set; open; look
    core work  ... open; rods out; look; trim; shells back; core shot and hold; set; open; look

Heatings are as ``bench.plan.firing`` has them, shots are dealt as ``bench.plan.pours`` does. Baits are looked at
when the hands are free, but before the next come out of the same mould. The core's shot comes at most the
station's time for shells after they began to come out of the mould.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.model.mould import Mould
from bench.model.recipe import Part
from bench.model.station import Station
from bench.plan import pace
from bench.plan.cups import WorkingCup
from bench.plan.firing import Firing, Limits
from bench.plan.handwork import Handwork
from bench.plan.pours import Pour, groups, round_run, warm_up_runs
from bench.plan.records import Plan, Shot
from bench.plan.rhythm import Rhythm
from bench.plan.schedule import After, Task, Within
from bench.plan.work import BY_HAND, TaskKind, Work, mould_resource


@dataclass(frozen=True, kw_only=True, slots=True)
class Bench:
    """What all tasks of a job are written from."""

    plan: Plan
    mould: Mould
    station: Station
    cups: Mapping[tuple[Part, int], WorkingCup]
    handwork: Handwork


def works_of(bench: Bench, *, together: int, rhythm: Rhythm) -> tuple[Work, ...]:
    """All tasks of the rounds, about in the order in which they will be done, with at most ``together`` shots of a
    round to a heating; warm-up shots share one while they fit."""
    plan, moulds, push_s = bench.plan, bench.plan.moulds, pace.shot_s(bench.station.pace)
    handwork, writer = bench.handwork, _Writer(bench, rhythm)
    firing = Firing(
        bench.cups,
        rhythm,
        weigh_s=pace.weigh_s(bench.station.pace),
        weighed=plan.rounds_table[0].shots[0].parts,
        looked_at={each.round: handwork.looked_at(each.round) for each in plan.rounds_table},
    )
    runs = warm_up_runs(plan, moulds=moulds, push_s=push_s)
    for shot in plan.rounds_table[0].shots:
        runs.append(round_run(plan, shot.shot, moulds=moulds, push_s=push_s, rhythm=rhythm))
    waves: list[tuple[int, int, Sequence[Work]]] = []
    for number, run in enumerate(runs):
        warming = number < plan.warm_up_shots
        for group in groups(run, bench.cups, together=moulds if warming else together):
            waits = [writer.waits(pour) for pour in group]
            heats, limits = firing.heat(
                group,
                ready_by=[after for each in waits for after in each.ready_by],
                cooled=[after for each in waits for after in each.cooled],
            )
            for place, pour in enumerate(group):
                wave = number if warming else plan.warm_up_shots + (pour.round - 1) // moulds
                waves.append((wave, 2 * number, heats if place == 0 else []))
                waves.append((wave, 2 * number, handwork.rods_in(pour)))
                waves.append((wave, 2 * number, writer.shot(pour, waits[place], limits, first=group[0])))
                waves.append((wave, 2 * number + 1, handwork.opened(pour)))
    return tuple(work for *_, works in sorted(waves, key=lambda each: each[:2]) for work in works)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Waits:
    """What a pour waits for besides its cups and its turn: what is done at its mould before, the shot from which
    that has to be ``cooled``, and the rods that belong in it."""

    done: tuple[After, ...]
    cooled: tuple[After, ...]
    rods: tuple[After, ...]

    @property
    def ready_by(self) -> tuple[After, ...]:
        """All of them."""
        return (*self.done, *self.cooled, *self.rods)


class _Writer:
    """Writes the shots."""

    def __init__(self, bench: Bench, rhythm: Rhythm) -> None:
        self._handwork = bench.handwork
        self._rhythm = rhythm
        self._shells_s = bench.station.shell_out_s - pace.open_s(bench.mould, bench.station.pace)
        self._at = {number: frozenset({mould_resource(number)}) for number in range(1, bench.plan.moulds + 1)}
        self._hands_at = {number: BY_HAND | at for number, at in self._at.items()}

    def shot(self, pour: Pour, waits: _Waits, limits: Limits, *, first: Pour) -> list[Work]:
        """The shot and its set. The ``first`` of a heating follows the heating."""
        within, heated = limits.within, limits.after if pour is first else (After(task=first.id),)
        if pour.shot is Shot.CORE:
            within = (*within, Within(task=f"r{pour.round}.{Shot.SHELL}.open", limit_s=self._shells_s))
        push = Task(
            id=pour.id,
            words=pour.words,
            length_s=pour.length_s,
            needs=self._hands_at[pour.mould],
            after=(*heated, *waits.ready_by, *self._in_turn(pour)),
            within=within,
        )
        setting = Task(
            id=pour.sibling("set"),
            words=f"the set of {pour.words}",
            length_s=pour.set_s - pour.hold_s,
            needs=self._at[pour.mould],
            after=(After(task=pour.id),),
        )
        kind = TaskKind.SHOT if pour.round else TaskKind.WARM_UP_SHOT
        return [
            self._work(pour, push, kind, hold_s=pour.hold_s),
            self._work(pour, setting, TaskKind.SET),
        ]

    def waits(self, pour: Pour) -> _Waits:
        """What that pour waits for."""
        if pour.shot is Shot.CORE:
            shell, shells = f"r{pour.round}.{Shot.SHELL}", (After(task=f"r{pour.round}.shells-back"),)
            return _Waits(done=shells, cooled=self._cooled(pour, shell), rods=())
        before = self._handwork.before(pour)
        return _Waits(
            done=() if before is None else (After(task=f"{before}.open"),),
            cooled=() if before is None else self._cooled(pour, before),
            rods=tuple(After(task=rods.task.id) for rods in self._handwork.rods_in(pour)),
        )

    def _work(self, pour: Pour, task: Task, kind: TaskKind, *, hold_s: float = 0.0) -> Work:
        shot = None if kind is TaskKind.WARM_UP_SHOT else pour.shot
        return Work(task=task, kind=kind, round=pour.round, mould=pour.mould, shot=shot, hold_s=hold_s)

    def _cooled(self, pour: Pour, before: str) -> tuple[After, ...]:
        """The shot before into the same mould, which has to cool from it."""
        cooling_s = self._rhythm.cooling_s.get((pour.round, pour.shot), 0.0)
        return (After(task=f"{before}.shot", lag_s=cooling_s),)

    def _in_turn(self, pour: Pour) -> tuple[After, ...]:
        return (After(task=f"r{pour.round - 1}.{pour.shot}.shot"),) if pour.round > 1 else ()
