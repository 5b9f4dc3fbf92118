"""A job as it is done: a plan and its timeline, which agree on the number of moulds and on how long it all takes.

Every mould that is used has warm-up shots of its own, so what is weighed depends on how many are used, and how
many are worth using only a timeline shows. So each number of moulds up to the one there is gets its own plan and
timeline, as long as one more could be worth having.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from bench.errors import BenchError
from bench.model.colourant import Colourant
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Recipe
from bench.model.station import Station
from bench.plan import pace
from bench.plan.make import make_plan
from bench.plan.records import Ask, Plan, RoundPlan, Shot
from bench.plan.rows import Row
from bench.plan.scope import MOST_MOULDS, settle
from bench.plan.sets import SetTimes
from bench.plan.timeline import Timeline, make_timeline
from bench.plan.work import TaskKind
from bench.units import Seconds

NEAR_ENOUGH = 1.05
"""A timeline no longer than this many times the work of the hands is left as it is: another mould could better it
by one part in twenty at most, since what the hands do with one mould they do with any number."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedJob:
    """``plan.moulds`` and ``timeline.mould_count`` are the moulds that are used, maybe fewer than asked for.
    ``plan.total_s`` is the opening, the timeline and the closing, and the plan's rounds are as the timeline has
    them; what limit that does not keep is among ``plan.warnings`` too."""

    plan: Plan
    timeline: Timeline
    reckon_gain_s: Callable[[], float | None] = field(repr=False, compare=False)

    @property
    def gain_s(self) -> Seconds | None:
        """How much sooner the last bait would be out with one more mould than asked for, 0 where it would not
        help; None where no more can be planned. Reckoned when asked, as costly as the job itself."""
        return self.reckon_gain_s()


def plan_job(
    *,
    recipe: Recipe,
    mould: Mould,
    plastic: Plastic,
    station: Station,
    colourants: Mapping[str, Colourant],
    ask: Ask,
) -> PlannedJob:
    """The job with up to ``ask.moulds`` identical moulds. All times and temperatures are estimates.

    Raises BenchError, in one sentence, when these do not go together or the job cannot be done with them.
    """
    tries = _Tries(recipe=recipe, mould=mould, plastic=plastic, station=station, colourants=colourants, ask=ask)
    plan, timeline = tries.best(ask.moulds)
    return PlannedJob(plan=plan, timeline=timeline, reckon_gain_s=lambda: tries.gain_s(ask.moulds))


def opening_s(plan: Plan, station: Station) -> float:
    """Readying the bench and warming the moulds."""
    return pace.ready_s(station.pace) + plan.warm_mould_s


def closing_s(plan: Plan, station: Station) -> float:
    """Purging the air, cleaning up and laying out every bait made, spares included."""
    baits = plan.rounds * plan.cavities
    return plan.purge_s + pace.clean_s(station.pace) + pace.lay_out_s(baits, station.pace)


def as_timed(rounds: Sequence[RoundPlan], rows: Sequence[Row]) -> tuple[RoundPlan, ...]:
    """The rounds with the moulds' temperatures, rests, holds and sets that the timeline has."""
    lasts_s: dict[tuple[int, Shot | None, TaskKind], float] = {}
    mould_c: dict[tuple[int, Shot | None], float] = {}
    for row in rows:
        key = (row.round, None if row.kind is TaskKind.REST_MOULD else row.shot, row.kind)
        lasts_s[key] = lasts_s.get(key, 0.0) + row.end_s - row.start_s
        if row.mould_c is not None:
            mould_c[row.round, row.shot] = row.mould_c
    return tuple(_timed(each, lasts_s, mould_c) for each in rounds)


def _timed(
    each: RoundPlan,
    lasts_s: Mapping[tuple[int, Shot | None, TaskKind], float],
    mould_c: Mapping[tuple[int, Shot | None], float],
) -> RoundPlan:
    shots = []
    for shot in each.shots:
        hold_s = lasts_s[each.round, shot.shot, TaskKind.HOLD]
        set_s = hold_s + lasts_s[each.round, shot.shot, TaskKind.SET]
        shots.append(replace(shot, mould_c=mould_c[each.round, shot.shot], hold_s=hold_s, set_s=set_s))
    rest_s = lasts_s.get((each.round, None, TaskKind.REST_MOULD), 0.0)
    return replace(each, mould_c=shots[0].mould_c, rest_s=rest_s, shots=tuple(shots))


class _Tries:
    """Plans and timelines by number of moulds; each is made once."""

    def __init__(
        self,
        *,
        recipe: Recipe,
        mould: Mould,
        plastic: Plastic,
        station: Station,
        colourants: Mapping[str, Colourant],
        ask: Ask,
    ) -> None:
        self._recipe, self._mould, self._plastic, self._station = recipe, mould, plastic, station
        self._colourants, self._ask = colourants, ask
        scope = settle(recipe=recipe, mould=mould, plastic=plastic, station=station, ask=ask)
        self._sets = SetTimes(scope)
        self._rounds = scope.rounds
        self._made: dict[int, tuple[Plan, Timeline]] = {}

    def best(self, moulds: int) -> tuple[Plan, Timeline]:
        """The one soonest done with up to so many; one that keeps every limit goes before one that does not."""
        best = self._with(1)
        for number in range(2, min(moulds, self._rounds) + 1):
            if best[1].makespan_s <= best[1].hands_busy_s * NEAR_ENOUGH and not best[1].broken:
                break
            try:
                other = self._with(number, to_beat_s=math.inf if best[1].broken else best[1].makespan_s)
            except BenchError:
                # The warm-up shots of more moulds may be more than a cup holds, or the hands too slow for limits
                # that fewer moulds keep.
                continue
            if other[0].warm_up_shots == best[0].warm_up_shots:
                best = min(best, other, key=lambda made: (bool(made[1].broken), made[1].makespan_s))
        return best

    def gain_s(self, moulds: int) -> float | None:
        """What one more would gain."""
        if moulds >= MOST_MOULDS:
            return None
        (_, now), (_, then) = self.best(moulds), self.best(moulds + 1)
        return max(0.0, now.makespan_s - then.makespan_s)

    def _with(self, moulds: int, *, to_beat_s: float = math.inf) -> tuple[Plan, Timeline]:
        if moulds not in self._made:
            self._made[moulds] = self._make(moulds, to_beat_s)
        return self._made[moulds]

    def _make(self, moulds: int, to_beat_s: float) -> tuple[Plan, Timeline]:
        plan = make_plan(
            recipe=self._recipe,
            mould=self._mould,
            plastic=self._plastic,
            station=self._station,
            colourants=self._colourants,
            ask=replace(self._ask, moulds=moulds),
            sets=self._sets,
        )
        timeline = make_timeline(
            plan, mould=self._mould, plastic=self._plastic, station=self._station, to_beat_s=to_beat_s
        )
        total_s = opening_s(plan, self._station) + timeline.end_s + closing_s(plan, self._station)
        told = (timeline.broken,) if timeline.broken else ()
        return (
            replace(
                plan,
                total_s=total_s,
                warnings=(*plan.warnings, *told),
                rounds_table=as_timed(plan.rounds_table, timeline.rows),
            ),
            timeline,
        )
