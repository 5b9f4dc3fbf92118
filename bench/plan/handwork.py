"""What the hands do at the moulds besides shooting: rods seated, moulds opened, and what comes out seen to.

None of it depends on a rhythm, on how long shots set or on which of them share a heating. So it is written once,
and all drafts of a timeline share it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bench.model.mould import Mould
from bench.model.recipe import Tail
from bench.model.station import Station
from bench.plan import pace
from bench.plan.pours import Pour
from bench.plan.records import Plan, Shot
from bench.plan.schedule import After, Task
from bench.plan.work import BY_HAND, TaskKind, Work, mould_resource


class Handwork:
    """Writes it for one plan. Of a pour it reads what it is, never how long it takes."""

    def __init__(self, plan: Plan, *, mould: Mould, station: Station) -> None:
        self._plan = plan
        self._mould = mould
        self._pace = station.pace
        self._cut = plan.cavities if plan.build.has_core and plan.tail is Tail.CUT else 0
        self._hands_at = {number: BY_HAND | {mould_resource(number)} for number in range(1, plan.moulds + 1)}
        self._written: dict[tuple[str, TaskKind], tuple[Work, ...]] = {}

    def looked_at(self, number: int) -> str:
        """The task after which a core's colour is settled."""
        return f"r{number}.{'trim' if self._has_tails else 'look-at-shells'}"

    def before(self, pour: Pour) -> str | None:
        """The last pour into that mould before this one's round; None for a mould's first."""
        moulds = self._plan.moulds
        if pour.round > moulds:
            return f"r{pour.round - moulds}.{self._plan.rounds_table[0].shots[-1].shot}"
        number = pour.number - 1 if pour.round == 0 else self._plan.warm_up_shots
        return f"m{pour.mould}.warm-up{number}" if number else None

    def rods_in(self, pour: Pour) -> tuple[Work, ...]:
        """The rods seated for that pour, if it is one that goes round rods."""
        return self._once(pour, TaskKind.RODS_IN, self._rods_in)

    def opened(self, pour: Pour) -> tuple[Work, ...]:
        """What follows its set: opening, and what is done with what comes out."""
        return self._once(pour, TaskKind.OPEN, self._opened)

    def _once(self, pour: Pour, kind: TaskKind, write: Callable[[Pour], Iterator[Work]]) -> tuple[Work, ...]:
        if (pour.id, kind) not in self._written:
            self._written[pour.id, kind] = tuple(write(pour))
        return self._written[pour.id, kind]

    @property
    def _has_tails(self) -> bool:
        return self._plan.volumes.tail_ml > 0

    def _rods_in(self, pour: Pour) -> Iterator[Work]:
        if pour.shot is Shot.SHELL and pour.round > 0:
            before = self.before(pour)
            after = () if before is None else (After(task=f"{before}.open"),)
            rods_s = pace.rods_in_s(self._mould, self._pace)
            yield self._by_hand(pour, TaskKind.RODS_IN, rods_s, after, at_mould=True)

    def _opened(self, pour: Pour) -> Iterator[Work]:
        set_by: tuple[After, ...] = (After(task=pour.sibling("set")),)
        if pour.shot is not Shot.CORE and pour.round > self._plan.moulds:
            set_by = (*set_by, After(task=f"r{pour.round - self._plan.moulds}.look"))
        opening = Task(
            id=pour.sibling("open"),
            words=f"opening the mould after {pour.words}",
            length_s=pace.open_s(self._mould, self._pace),
            needs=self._hands_at[pour.mould],
            after=set_by,
        )
        yield Work(task=opening, kind=TaskKind.OPEN, round=pour.round, mould=pour.mould, shot=pour.shot)
        done = (After(task=opening.id),)
        if pour.shot is Shot.SHELL and pour.round > 0:
            yield from self._shells(pour, done)
        elif pour.round > 0:
            yield self._look(pour, done)

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

    def _look(self, pour: Pour, after: tuple[After, ...]) -> Work:
        task = Task(
            id=f"r{pour.round}.look",
            words=f"the look at the baits of round {pour.round}",
            length_s=pace.look_s(self._pace),
            needs=BY_HAND,
            after=after,
            counts=False,
        )
        return Work(task=task, kind=TaskKind.LOOK_AT_BAITS, round=pour.round, mould=pour.mould)

    def _by_hand(
        self, pour: Pour, kind: TaskKind, length_s: float, after: tuple[After, ...], *, at_mould: bool
    ) -> Work:
        task = Task(
            id=f"r{pour.round}.{kind.replace(' ', '-')}",
            words=f"{kind} in round {pour.round}",
            length_s=length_s,
            needs=self._hands_at[pour.mould] if at_mould else BY_HAND,
            after=after,
        )
        return Work(task=task, kind=kind, round=pour.round, mould=pour.mould)
