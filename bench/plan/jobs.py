"""A job as it is done: a plan and its timeline, which agree on the number of moulds and on how long it all takes.

Every mould that is used has warm-up shots of its own, so what is weighed depends on how many are used, and how
many are worth using only a timeline shows. So each number of moulds up to the one there is gets its own plan and a
draft of its timeline, as long as one more could be worth having, and drafts that come near the shortest are
bettered.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from bench.errors import BenchError, reckonable
from bench.model.colourant import Colourant
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Recipe, Tail
from bench.model.station import Station, WarmedBy
from bench.plan import pace
from bench.plan.collector import collector_resting
from bench.plan.make import look_warnings_of, reckon_plan
from bench.plan.records import Ask, Plan, RoundPlan, Shot, ShotPlan
from bench.plan.rows import Row
from bench.plan.schedule import NoOrder
from bench.plan.scope import MOST_MOULDS, Scope, settle
from bench.plan.sets import SetTimes
from bench.plan.timeline import Timeline, TimelineMaker
from bench.plan.warnings import with_rounds
from bench.plan.work import TaskKind
from bench.units import Seconds

NEAR_ENOUGH = 1.05
"""A timeline no longer than this many times the work of the hands is left as it is: another mould could better it
by one part in twenty at most, since what the hands do with one mould they do with any number."""

COULD_BE_ENOUGH = 1.10
"""A draft no longer than this may come near enough when it is bettered."""

SURELY = 1.05
"""What one mould alone needs is reckoned from a plan for two to about one part in forty, its cups' heating among
it."""

WORTH_BETTERING = 1.05
"""A search is not worth its time for a draft that is longer than the shortest by more than this."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedJob:
    """``plan.moulds`` and ``timeline.mould_count`` are the moulds that are used, maybe fewer than asked for.
    ``plan.total_s`` is the opening, the timeline and the closing, and the plan's rounds are as the timeline has
    them; what limit that does not keep is among ``plan.warnings`` too. ``fewer`` is a sentence that says why fewer
    moulds are used, empty where all are; it is among the plan's warnings as well."""

    plan: Plan
    timeline: Timeline
    fewer: str
    reckon_gain_s: Callable[[], float | None] = field(repr=False, compare=False)

    @property
    def gain_s(self) -> Seconds | None:
        """How much sooner the last bait would be out with one more mould than asked for, 0 where it would not
        help; None where no more can be planned. Reckoned when asked, as costly as the job itself."""
        with reckonable(), collector_resting():
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
    with reckonable(), collector_resting():
        return _planned(
            settle(recipe=recipe, mould=mould, plastic=plastic, station=station, ask=ask), colourants, ask
        )


def _planned(scope: Scope, colourants: Mapping[str, Colourant], ask: Ask) -> PlannedJob:
    recipe, mould, plastic, station = scope.recipe, scope.mould, scope.plastic, scope.station
    tries = _Tries(scope, colourants)
    best = tries.best(ask.moulds)
    plan, timeline = best.plan, best.timeline
    looks = look_warnings_of(plan, recipe=recipe, mould=mould, plastic=plastic, colourants=colourants)
    fewer = tries.why_fewer(plan.moulds, ask.moulds)
    told = tuple(each for each in (timeline.broken, fewer) if each)
    rounds = as_timed(plan.rounds_table, timeline.rows)
    total_s = opening_s(plan, station) + timeline.end_s + closing_s(plan, station)
    if not math.isfinite(total_s):
        raise ArithmeticError("a job beyond all numbers")
    own = with_rounds(plan.warnings, scope=scope, rounds=rounds, moulds=plan.moulds)
    return PlannedJob(
        plan=replace(
            plan,
            total_s=total_s,
            warnings=(*own, *looks, *told),
            rounds_table=rounds,
        ),
        timeline=timeline,
        fewer=fewer,
        reckon_gain_s=lambda: tries.gain_s(ask.moulds),
    )


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


def one_mould_s(plan: Plan, mould: Mould, station: Station) -> float:
    """How long one mould alone needs for all rounds of a plan, which its timeline cannot be shorter than: what is
    done at it, for a core what is done with its shells before they come back, the rests it needs however soon the
    cups are ready, and the heating that waits for it.

    From a plan for more moulds it is about as much, as each of these has longer to cool."""
    hands = station.pace
    round_s = pace.open_s(mould, hands)
    if plan.build.has_core:
        cut = plan.cavities if plan.tail is Tail.CUT else 0
        round_s += pace.rods_in_s(mould, hands) + pace.shell_out_s(mould, cut, hands)
    shots_s = sum(
        _heated_at_mould_s(shot) + pace.shot_s(hands) + shot.set_s
        for each in plan.rounds_table
        for shot in each.shots
    )
    return plan.rounds * round_s + shots_s + sum(each.rest_s for each in plan.rounds_table)


def _heated_at_mould_s(shot: ShotPlan) -> float:
    """What of the heating before a shot only begins once its mould is ready: a lone cup's bursts after its first,
    or what follows the first heating of two sides."""
    first, *others = shot.heats
    if others:
        return sum(heating.total_s for heating in others)
    return first.total_s - sum(first.bursts_s[:1])


class _Try:
    """A plan and the draft of its timeline, which is bettered when that is asked for."""

    def __init__(self, plan: Plan, scope: Scope, *, loosened: bool) -> None:
        self.plan = plan
        self._maker = TimelineMaker(plan, mould=scope.mould, plastic=scope.plastic, station=scope.station)
        self._draft = self._maker.draft(loosened=loosened)

    @cached_property
    def drafted(self) -> Timeline:
        """As the draft has it."""
        return self._maker.drafted(self._draft)

    @cached_property
    def bettered(self) -> Timeline:
        """Searched for more thoroughly."""
        return self._maker.bettered(self._draft)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Choice:
    """A try with its timeline as far as it is known where one is chosen: drafted or bettered. What another choice
    has bettered must not change this one."""

    tried: _Try
    timeline: Timeline

    @property
    def plan(self) -> Plan:
        """What the timeline is of."""
        return self.tried.plan

    @property
    def rank(self) -> tuple[bool, float, int]:
        """Limits kept go before limits broken, then the one soonest done, then the one with fewest moulds."""
        return bool(self.timeline.broken), self.timeline.makespan_s, self.plan.moulds

    def bettered(self) -> _Choice:
        """With its timeline bettered."""
        return replace(self, timeline=self.tried.bettered)

    def waits_less_than(self, times: float) -> bool:
        """Whether it keeps every limit and is no longer than so many times the work of the hands."""
        return not self.timeline.broken and self.timeline.makespan_s <= self.timeline.hands_busy_s * times


class _Tries:
    """Plans and timelines by number of moulds; each is made once."""

    def __init__(self, scope: Scope, colourants: Mapping[str, Colourant]) -> None:
        self._scope, self._colourants = scope, colourants
        self._sets = SetTimes(scope)
        self._made: dict[tuple[int, bool], _Try | BenchError] = {}
        self._refused: dict[int, str] = {}

    def best(self, moulds: int) -> _Choice:
        """The one with up to so many, the same whatever was asked before."""
        most = min(moulds, self._scope.rounds)
        best = self._past_one(most) or self._with(1, loosened=True)
        others: list[_Choice] = []
        for number in range(best.plan.moulds + 1, most + 1):
            # The hands may have so little to wait that one more mould is not worth trying.
            if best.waits_less_than(COULD_BE_ENOUGH):
                best = best.bettered()
            if best.waits_less_than(NEAR_ENOUGH):
                break
            try:
                other = self._with(number, loosened=bool(best.timeline.broken))
            except NoOrder:
                self._refused[number] = "no order of the work was found that keeps every limit"
            except BenchError as error:
                # The warm-up shots of more moulds may be more than a cup holds.
                self._refused[number] = str(error)
            else:
                if other.plan.warm_up_shots == best.plan.warm_up_shots:
                    best, left = sorted((best, other), key=_rank)
                    others.append(left)
                else:
                    self._refused[number] = "the first cup does not hold the warm-up shots that each needs"
        return _best_bettered([best, *others])

    def _past_one(self, most: int) -> _Choice | None:
        """Two moulds where one alone would take longer with hands and heater that never keep it waiting: there is
        nothing to try with one. None where there may be, as where its warm-up shots would be other ones."""
        scope = self._scope
        by_shots = scope.station.warming.by is WarmedBy.SHOTS and scope.chooses_warm_up
        if most <= 1 or by_shots:
            return None
        try:
            two = self._with(2, loosened=False)
        except BenchError:
            return None
        alone_s = one_mould_s(two.plan, scope.mould, scope.station)
        return two if not two.timeline.broken and two.timeline.makespan_s * SURELY < alone_s else None

    def why_fewer(self, used: int, asked: int) -> str:
        """Why not all that were asked for are used, in a sentence; empty where they are."""
        if used == asked:
            return ""
        rounds = self._scope.rounds
        numbers: dict[str, list[str]] = {}
        for number in range(used + 1, asked + 1):
            few = "there is one round only" if rounds == 1 else f"there are {rounds} rounds only"
            other = few if number > rounds else "the last bait would be out hardly any sooner"
            numbers.setdefault(self._refused.get(number, other), []).append(str(number))
        reasons = [
            why if why.startswith("there ") else f"with {'more' if len(numbers) == 1 else ' or '.join(each)} {why}"
            for why, each in numbers.items()
        ]
        return f"{used} of {asked} moulds {'is' if used == 1 else 'are'} used: {'; '.join(reasons)}."

    def gain_s(self, moulds: int) -> float | None:
        """What one more would gain."""
        if moulds >= MOST_MOULDS:
            return None
        now, then = self.best(moulds), self.best(moulds + 1)
        return max(0.0, now.timeline.makespan_s - then.timeline.makespan_s)

    def _with(self, moulds: int, *, loosened: bool) -> _Choice:
        key = moulds, loosened
        if key not in self._made:
            try:
                self._made[key] = self._try(moulds, loosened=loosened)
            except BenchError as error:
                self._made[key] = error
        made = self._made[key]
        if isinstance(made, BenchError):
            raise made
        return _Choice(tried=made, timeline=made.drafted)

    def _try(self, moulds: int, *, loosened: bool) -> _Try:
        scope = replace(self._scope, moulds=moulds)
        plan = reckon_plan(scope, sets=self._sets, colourants=self._colourants)
        return _Try(plan, scope, loosened=loosened)


def _rank(one: _Choice) -> tuple[bool, float, int]:
    return one.rank


def _best_bettered(choices: Sequence[_Choice]) -> _Choice:
    """Those whose drafts come near the best are bettered, as that might change which is best."""
    is_broken, makespan_s, _ = min(choices, key=_rank).rank
    near = [each for each in choices if each.rank <= (is_broken, makespan_s * WORTH_BETTERING, MOST_MOULDS)]
    return min((each.bettered() for each in near), key=_rank)
