"""Makes a plan: amounts, melts and rounds put together.

What is done, one thing after another with one mould, and what ``total_s`` is the sum of until a timeline gives a
better one (``bench.plan.jobs``):

    opening   ready the bench; warm the mould
    rounds    as bench.plan.rounds has them, the cups heated as bench.plan.heats says
    closing   heat off (no time); purge the air; clean; lay out every bait made, spares included

Hands go by bench.plan.pace. Nothing is reckoned to run beside anything else, so a maker who warms the mould while
a cup heats is done sooner.

Amounts are reckoned with each shot's largest top-off over the mould's window; each shot of the table has the
top-off of its own temperature.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from bench.errors import BenchError, reckonable
from bench.model.colourant import Colourant
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Recipe
from bench.model.station import Station, WarmedBy
from bench.physics.air import air_changes_per_h, minutes_to_clear
from bench.physics.mould import Block, never_that_warm, warm_in_air_s
from bench.plan import pace
from bench.plan.amounts import PartAmount, ShotVolume, part_amounts, shot_volumes
from bench.plan.heats import Heats
from bench.plan.look import cups_g_of, look_at
from bench.plan.look_words import look_warnings
from bench.plan.melts import make_melts, with_reheats
from bench.plan.records import Ask, DosePlan, Melt, PartPlan, Plan, Shot
from bench.plan.rounds import Times, time_rounds
from bench.plan.scope import Scope, settle
from bench.plan.sets import SetTimes
from bench.plan.shooting import Shooter, shell_after_air_c, start_c, top_off_of, window_top_c
from bench.plan.warnings import warnings, with_rounds

_SETTLED_S = 0.5
_PASSES = 12


def make_plan(
    *,
    recipe: Recipe,
    mould: Mould,
    plastic: Plastic,
    station: Station,
    colourants: Mapping[str, Colourant],
    ask: Ask,
    sets: SetTimes | None = None,
) -> Plan:
    """The plan for ``ask``, with what its look warns of. All times and temperatures are estimates. ``sets`` of an
    earlier plan for the same recipe, mould, plastic and station spares solving the same coolings again.

    Raises BenchError, in one sentence, when these do not go together or the job cannot be done with them.
    """
    with reckonable():
        return _planned(
            settle(recipe=recipe, mould=mould, plastic=plastic, station=station, ask=ask), sets, colourants
        )


def _planned(scope: Scope, sets: SetTimes | None, colourants: Mapping[str, Colourant]) -> Plan:
    recipe, mould, plastic = scope.recipe, scope.mould, scope.plastic
    plan = reckon_plan(scope, sets=sets or SetTimes(scope), colourants=colourants)
    if not math.isfinite(plan.total_s):
        raise ArithmeticError("a plan beyond all numbers")
    looks = look_warnings_of(plan, recipe=recipe, mould=mould, plastic=plastic, colourants=colourants)
    told = with_rounds(plan.warnings, scope=scope, rounds=plan.rounds_table, moulds=plan.moulds)
    return replace(plan, warnings=(*told, *looks))


def reckon_plan(scope: Scope, *, sets: SetTimes, colourants: Mapping[str, Colourant]) -> Plan:
    """The plan of that scope without what its colours and its rounds warn of. Raises BenchError as ``make_plan``
    does."""
    station = scope.station
    top_offs_ml = largest_top_offs_ml(scope, sets)
    if station.warming.by is WarmedBy.SHOTS and scope.chooses_warm_up:
        scope = _warmed_by_shots(scope, sets, top_offs_ml)
    amounts = part_amounts(scope, top_off_ml=top_offs_ml)
    cold = [melt for amount in amounts for melt in make_melts(scope, amount, colourants=colourants)]
    melts, times = _with_rounds(scope, sets, amounts, cold)
    return _plan(scope, amounts, melts, times)


def look_warnings_of(
    plan: Plan, *, recipe: Recipe, mould: Mould, plastic: Plastic, colourants: Mapping[str, Colourant]
) -> tuple[str, ...]:
    """What the recipe's colours will do wrong, in the grams and drops of each part's first cup."""
    look = look_at(
        recipe=recipe,
        mould=mould,
        plastic=plastic,
        colourants=colourants,
        tail=plan.tail,
        cups_g=cups_g_of(plan),
    )
    return tuple(look_warnings(look))


def _plan(scope: Scope, amounts: Sequence[PartAmount], melts: Sequence[Melt], times: Times) -> Plan:
    recipe, mould, plastic, station = scope.recipe, scope.mould, scope.plastic, scope.station
    return Plan(
        recipe=recipe.name,
        recipe_title=recipe.title,
        mould=mould.name,
        mould_title=mould.title,
        plastic=plastic.name,
        station=station.name,
        build=scope.build,
        tail=scope.tail,
        count=scope.count,
        cavities=mould.cavities,
        rounds=scope.rounds,
        warm_up_shots=scope.warm_up_shots,
        volumes=mould.volumes,
        warm_mould_s=warm_mould_s(scope),
        warm_up_heats=times.warm_up_heats,
        warm_up_set_s=times.warm_up.set_s,
        purge_s=purge_s(station),
        cure_s=plastic.cure_s,
        total_s=_opening_s(scope) + times.seconds + _closing_s(scope),
        parts=tuple(_parts(scope, amounts, melts)),
        rounds_table=tuple(each.plan for each in times.rounds),
        warnings=tuple(warnings(scope, amounts=amounts, melts=melts, times=times)),
        moulds=scope.moulds,
        warming=station.warming.by,
        spares_pct=scope.spares_pct,
    )


def largest_top_offs_ml(scope: Scope, sets: SetTimes) -> dict[Shot, float]:
    """The largest top-off of each shot: at one end of the window, because in between the mean temperature at the
    end of the hold has at most a hump."""
    ends_c = (scope.mould.warm_c[0], window_top_c(scope))
    return {
        shot.shot: max(_top_off_ml(scope, sets, shot, mould_c) for mould_c in ends_c)
        for shot in shot_volumes(scope)
    }


def _top_off_ml(scope: Scope, sets: SetTimes, shot: ShotVolume, mould_c: float) -> float:
    shell_c = None
    if shot.shot is Shot.CORE:
        shell_c = shell_after_air_c(scope, mean_open_c=sets.solved(Shot.SHELL, mould_c=mould_c).mean_c)
    return top_off_of(scope, shot, sets.solved(shot.shot, mould_c=mould_c, shell_c=shell_c))


def _with_rounds(
    scope: Scope, sets: SetTimes, amounts: Sequence[PartAmount], melts: Sequence[Melt]
) -> tuple[list[Melt], Times]:
    """Melts with their reheats, and the rounds timed with exactly these.

    A cup cools for as long as a round lasts, and a round lasts longer for the reheats: taken in turns until
    neither moves.
    """
    current = list(melts)
    times = time_rounds(scope, sets, Heats(scope, amounts, current))
    for _ in range(_PASSES):
        before = current
        current = [
            melt
            for amount in amounts
            for melt in with_reheats(
                scope,
                amount,
                [each for each in before if each.part is amount.part],
                cycle_s=times.mean_cycle_s,
            )
        ]
        times = time_rounds(scope, sets, Heats(scope, amounts, current))
        if all(abs(new.reheat_s - old.reheat_s) < _SETTLED_S for new, old in zip(current, before, strict=True)):
            break
    return current, times


def _warmed_by_shots(scope: Scope, sets: SetTimes, top_offs_ml: Mapping[Shot, float]) -> Scope:
    """With as many warm-up shots as bring the mould into its window, or as a first cup holds beside a round."""
    shots = Shooter(scope, sets).shots_to_warm(scope.room_c)
    usable_ml = scope.station.vessel.usable_ml
    while shots > 0:
        warmed = replace(scope, warm_up_shots=shots)
        amounts = part_amounts(warmed, top_off_ml=top_offs_ml)
        if all(amount.melt_ml(1, first=True) <= usable_ml for amount in amounts):
            return warmed
        shots -= 1
    return replace(scope, warm_up_shots=0)


def warm_mould_s(scope: Scope) -> float:
    """From room temperature to where the first shot meets the mould, s. Several moulds are warmed side by side.

    Raises BenchError for a plate or a blast of air that is not warmer than the mould is to be.
    """
    mould, warming, to_c = scope.mould, scope.station.warming, start_c(scope.mould, scope.station)
    block = Block(
        mass_g=mould.mass_g,
        area_m2=mould.area_m2,
        c_j_kgk=mould.heat_capacity_j_kgk,
        loss_w_m2k=mould.loss_w_m2k,
    )
    if warming.by is WarmedBy.AIR:
        return warm_in_air_s(
            block, start_c=scope.room_c, to_c=to_c, air_c=warming.air_c, film_w_m2k=warming.film_w_m2k
        )
    if warming.by is WarmedBy.SHOTS:
        return 0.0
    if warming.absorbed_w is None:
        raise BenchError(f"{scope.station.title} does not say what a mould takes up on its hot plate")
    if warming.plate_c is not None and warming.plate_c <= to_c:
        raise never_that_warm("a plate", warming.plate_c, to_c)
    return block.capacity_j_k * (to_c - scope.room_c) / warming.absorbed_w


def purge_s(station: Station) -> float:
    """How long the fan runs once the heat is off, s. An aid, never a claim that the air is safe."""
    ach = air_changes_per_h(room_m3=station.room.volume_m3, fan_m3_h=station.fan.flow_m3_h)
    return 60 * minutes_to_clear(ach=ach, share_left=station.fan.left_pct / 100, mixing=station.room.mixing)


def _opening_s(scope: Scope) -> float:
    return pace.ready_s(scope.station.pace) + warm_mould_s(scope)


def _closing_s(scope: Scope) -> float:
    baits = scope.rounds * scope.mould.cavities
    hands = scope.station.pace
    return purge_s(scope.station) + pace.clean_s(hands) + pace.lay_out_s(baits, hands)


def _parts(scope: Scope, amounts: Sequence[PartAmount], melts: Sequence[Melt]) -> Iterator[PartPlan]:
    for amount in amounts:
        own = tuple(melt for melt in melts if melt.part is amount.part)
        yield PartPlan(
            part=amount.part,
            per_round_ml=amount.per_round_ml,
            total_ml=sum(melt.volume_ml for melt in own),
            total_g=sum(melt.mass_g for melt in own),
            trimmed_g=amount.trimmed_ml * scope.shot_g_per_ml,
            doses=tuple(_summed(doses) for doses in zip(*(melt.doses for melt in own), strict=True)),
            melts=own,
            taken=amount.taken(scope.rounds, melts=len(own)),
        )


def _summed(doses: Sequence[DosePlan]) -> DosePlan:
    drops = [dose.drops for dose in doses if dose.drops is not None]
    return DosePlan(
        colourant=doses[0].colourant,
        title=doses[0].title,
        load_pct=doses[0].load_pct,
        mass_g=sum(dose.mass_g for dose in doses),
        drops=sum(drops) if drops else None,
    )
