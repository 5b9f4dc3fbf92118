"""Rounds: the mould from shot to shot, walked again by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bench.errors import BenchError
from bench.model.mould import Mould
from bench.model.recipe import PARTS, Build, Part, Tail
from bench.plan.records import Heating, Plan, RoundPlan, Shot
from tests.plan.bench_records import MOULD, STATION, plan_of

ROOM_C = 20.0
RELAXATION_S = 1.5 * 896.0 / (8.0 * 0.05)
HOT_G_PER_ML = 1.030 / (1 + 6e-4 * 150)

CASES = [(build, tail) for build in Build for tail in Tail if build.has_core or tail is Tail.KEPT]


def cooled(mould_c: float, seconds: float) -> float:
    return ROOM_C + (mould_c - ROOM_C) * math.exp(-seconds / RELAXATION_S)


def heat_s(plan: Plan, parts: tuple[Part, ...], number: int) -> float:
    """All heatings right before the shot of those parts; test_heats.py says which they are."""
    shots = plan.rounds_table[number - 1].shots
    return sum(on_and_stirred_s(heating) for shot in shots if shot.parts == parts for heating in shot.heats)


def on_and_stirred_s(heating: Heating) -> float:
    """The heater's own time, and 12 s to stir and read after every burst."""
    return sum(heating.bursts_s) + 12.0 * len(heating.bursts_s)


def out_s(plan: Plan) -> float:
    """Open 4 x 5, rods out 4 x 8, look 20, trim 4 x 5 when cut, shells back 4 x 10."""
    return 20.0 + 32.0 + 20.0 + (20.0 if plan.tail is Tail.CUT else 0.0) + 40.0


@pytest.mark.parametrize(("build", "tail"), CASES)
def test_the_mould_walks_from_shot_to_shot_by_heat_and_time(build: Build, tail: Tail) -> None:
    """Between two shots the mould gains m c (T_shot - T_mean) and loses by exp(-t U A / m c). The mean at opening
    is not in the plan, so what it must have been is worked out and has to lie between mould and opening, 60."""
    plan = plan_of(build, tail=tail, count=40)
    before = None
    for each in plan.rounds_table:
        for place, shot in enumerate(each.shots):
            if before is not None:
                previous, seconds = before
                waited = seconds + (ahead_s(plan, each) if place == 0 else 0.0)
                hot_c = ROOM_C + (shot.mould_c - ROOM_C) * math.exp(waited / RELAXATION_S)
                grams = (previous.volume_ml + previous.top_off_ml) * HOT_G_PER_ML
                mean_c = 170.0 - (hot_c - previous.mould_c) * 1500.0 * 0.896 / (grams * 1.8)
                assert previous.mould_c < mean_c < 60.0
            last = place == len(each.shots) - 1
            to_next_s = 20.0 + 20.0 if last else out_s(plan) + heat_s(plan, (Part.CORE,), each.round)
            before = (shot, 12.0 + shot.set_s + to_next_s)


def ahead_s(plan: Plan, each: RoundPlan) -> float:
    """What comes before the first shot of a round that is not the first."""
    rods_s = 4 * 12.0 if plan.build.has_core else 0.0
    return each.rest_s + heat_s(plan, each.shots[0].parts, each.round) + rods_s


@pytest.mark.parametrize(("build", "tail"), CASES)
def test_no_shot_finds_the_mould_above_its_window(build: Build, tail: Tail) -> None:
    lagged = replace(MOULD, loss_w_m2k=4.0)
    plan = plan_of(build, tail=tail, count=100, mould=lagged)
    temps = [shot.mould_c for each in plan.rounds_table for shot in each.shots]
    assert max(temps) <= 50.0 + 0.06
    resting = [each for each in plan.rounds_table if each.rest_s > 0]
    assert resting
    # A rest is no longer than it must be: it ends with one shot at the very top of the window.
    for each in resting:
        assert max(shot.mould_c for shot in each.shots) == pytest.approx(50.0, abs=1e-3)


def test_the_first_round_starts_in_the_middle_less_what_is_lost_while_cups_heat() -> None:
    plan = plan_of(Build.PLAIN, warm_up_shots=0)
    first = plan.rounds_table[0]
    assert first.mould_c == pytest.approx(cooled(45.0, heat_s(plan, (Part.BODY,), 1)))
    assert first.rest_s == 0.0


def test_warm_up_shots_find_the_mould_after_the_heating_and_leave_it_warmer() -> None:
    cold, warmed = (plan_of(Build.PLAIN, warm_up_shots=shots) for shots in (0, 1))
    assert warmed.rounds_table[0].mould_c > cold.rounds_table[0].mould_c + 2.0


def test_the_shots_of_a_round_name_their_parts_in_order() -> None:
    for build in Build:
        shots = plan_of(build).rounds_table[0].shots
        assert tuple(part for shot in shots for part in shot.parts) == PARTS[build]
        kinds = [shot.shot for shot in shots]
        assert kinds == ([Shot.SHELL, Shot.CORE] if build.has_core else [Shot.WHOLE])


def test_a_shell_too_hot_for_the_window_still_begins_inside_it() -> None:
    light = replace(MOULD, mass_g=700.0, warm_c=(40.0, 44.0))
    plan = plan_of(Build.CORE, mould=light, count=40)
    later = plan.rounds_table[3:]
    assert all(each.shot(Shot.SHELL).mould_c == pytest.approx(40.0, abs=0.01) for each in later)
    assert all(each.shot(Shot.CORE).mould_c > 44.0 for each in later)
    assert any("before the core shot, above its window" in warning for warning in plan.warnings)


def test_a_mould_too_light_for_its_warm_up_shots_is_refused_in_one_sentence() -> None:
    light: Mould = replace(MOULD, mass_g=350.0)
    with pytest.raises(BenchError, match=r"Leech would come to .* so a shot would never set"):
        plan_of(Build.CORE, mould=light, warm_up_shots=3)


def test_a_slower_hand_lets_the_shell_and_so_the_core_cool() -> None:
    slow = replace(STATION, pace=replace(STATION.pace, shell_back_s=120.0))
    quick_core, slow_core = (
        plan_of(Build.CORE, station=station, warm_up_shots=0).rounds_table[0].shot(Shot.CORE)
        for station in (STATION, slow)
    )
    assert slow_core.mould_c < quick_core.mould_c
    assert slow_core.set_s < quick_core.set_s
