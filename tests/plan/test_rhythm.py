"""The rhythm's lengths against those that the plan itself has."""

from __future__ import annotations

import math

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.physics.cup import seconds_until, temperature_after
from bench.plan.cups import working_cups
from bench.plan.records import Shot
from bench.plan.rhythm import Beat, Fire, MouldWalk, heat_lengths, planned
from tests.plan.bench_records import MOULD, PLASTIC, STATION, plan_of

RELAXATION_S = 1.5 * 896.0 / (8.0 * 0.05)


@pytest.mark.parametrize("build", list(Build))
def test_settings_are_those_of_the_plan_at_the_plans_own_temperatures(build: Build) -> None:
    plan = plan_of(build, count=40)
    walk = MouldWalk(plan, mould=MOULD, plastic=PLASTIC, station=STATION)
    for each in plan.rounds_table:
        for shot in each.shots:
            setting = walk.setting(shot.shot, shot.mould_c)
            assert setting.set_s == pytest.approx(shot.set_s, rel=0.02)
            assert setting.hold_s == pytest.approx(shot.hold_s, rel=0.02)


def test_a_plan_of_one_round_still_knows_that_a_warmer_mould_sets_slower() -> None:
    plan = plan_of(Build.PLAIN, count=2)
    longer = plan_of(Build.PLAIN, count=40)
    walk = MouldWalk(plan, mould=MOULD, plastic=PLASTIC, station=STATION)
    assert walk.setting(Shot.WHOLE, 50.0).set_s == pytest.approx(
        longer.rounds_table[-1].shot(Shot.WHOLE).set_s, rel=0.03
    )


@pytest.mark.parametrize(("build", "shot"), [(Build.PLAIN, Shot.WHOLE), (Build.CORE, Shot.SHELL)])
def test_one_shot_warms_the_mould_by_the_heat_it_brings(build: Build, shot: Shot) -> None:
    """m c (T_shot - T_mean) / C of the mould. A cylinder at a cold wall has a mean excess of 2 J1(2.405) / 2.405,
    0.43 of that of its axis (Carslaw and Jaeger, Conduction of Heat in Solids, ch. 7, from memory)."""
    plan = plan_of(build, count=40, tail=Tail.KEPT)
    first = plan.rounds_table[0].shots[0]
    beats = tuple(Beat(start_s=0.0, end_s=0.0, round=number, shot=shot) for number in (1, 2))
    at_c = MouldWalk(plan, mould=MOULD, plastic=PLASTIC, station=STATION).temperatures(beats)
    assert at_c[1, shot] == 45.0
    grams = (first.volume_ml + first.top_off_ml) * 1.030 / (1 + 6e-4 * 150)
    mean_c = 45.0 + 0.43 * (60.0 - 45.0)
    assert at_c[2, shot] - 45.0 == pytest.approx(grams * 1.8 * (170.0 - mean_c) / (1500.0 * 0.896), rel=0.01)


def test_a_mould_cools_between_shots_by_newtons_law() -> None:
    plan = plan_of(Build.PLAIN, count=40)
    walk = MouldWalk(plan, mould=MOULD, plastic=PLASTIC, station=STATION)
    beat = Beat(start_s=600.0, end_s=630.0, round=1, shot=Shot.WHOLE)
    expected_c = 20.0 + 25.0 * math.exp(-600.0 / RELAXATION_S)
    assert walk.temperatures([beat]) == {(1, Shot.WHOLE): pytest.approx(expected_c)}


def test_a_mould_shot_again_at_once_is_told_to_cool_until_it_is_inside_its_window() -> None:
    plan = plan_of(Build.PLAIN, count=12)
    walk = MouldWalk(plan, mould=MOULD, plastic=PLASTIC, station=STATION)
    beats = tuple(
        Beat(start_s=200.0 * number, end_s=200.0 * number + 30.0, round=number, shot=Shot.WHOLE)
        for number in (1, 2, 3)
    )
    asked = walk.walk(beats, planned(plan).settings)
    wait_s = asked.cooling_s[3, Shot.WHOLE]
    patient = (*beats[:2], Beat(start_s=430.0 + wait_s, end_s=460.0 + wait_s, round=3, shot=Shot.WHOLE))
    assert walk.temperatures(beats)[3, Shot.WHOLE] > 50.0
    assert walk.temperatures(patient)[3, Shot.WHOLE] == pytest.approx(50.0, abs=2.0)


def test_a_cup_is_reheated_for_as_long_as_it_stood() -> None:
    """Once it has fallen by 20 K it lacks them, m c and the glass together."""
    plan = plan_of(Build.LAMINATE, count=40)
    cups = working_cups(plan, plastic=PLASTIC, station=STATION)
    cup = cups[Part.SIDE_A, 1]
    again_s = 300.0 + seconds_until(cup.cup, start_c=170.0, until_c=150.0, room_c=20.0)
    fires = (
        Fire(id="cold", part=Part.SIDE_A, melt=1, from_cold=True, start_s=0.0, end_s=300.0),
        Fire(id="again", part=Part.SIDE_A, melt=1, from_cold=False, start_s=again_s, end_s=again_s + 20.0),
    )
    joules = 20.0 * (cup.cup.mass_g * 1.8 + 180.0 * 0.83)
    again = heat_lengths(fires, cups)["again"]
    stirs = round((again.finish_s - joules / 400.0) / STATION.pace.stir_s)
    assert again.alone_s == 0.0
    assert stirs >= 1
    assert again.finish_s - stirs * STATION.pace.stir_s == pytest.approx(joules / 400.0, rel=1e-3)


def test_what_a_cup_loses_while_it_waits_is_heated_again() -> None:
    """60 % of the rise is in it by then; what it loses from there in a minute is put back, with a stir if it is
    much."""
    plan = plan_of(Build.CORE, count=40)
    cup = working_cups(plan, plastic=PLASTIC, station=STATION)[Part.CORE, 1]
    at_once, later = cup.from_cold(), cup.from_cold(waits_s=60.0)
    assert at_once.alone_s == later.alone_s == cup.cold_s[0] >= 20.0
    assert at_once.finish_s == pytest.approx(sum(cup.cold_s[1:]) + len(cup.cold_s) * cup.stir_s)
    joules_k = cup.cup.mass_g * 1.8 + 180.0 * 0.83
    hot_c = 170.0 - sum(cup.cold_s[1:]) * 400.0 / joules_k
    lost_k = hot_c - temperature_after(cup.cup, start_c=hot_c, seconds=60.0, room_c=20.0)
    longer_s = later.finish_s - at_once.finish_s
    assert longer_s - lost_k * joules_k / 400.0 in (pytest.approx(0.0), pytest.approx(cup.stir_s))
    assert lost_k > 1.0


def test_a_heating_that_left_the_hands_free_still_does_with_a_burst_a_little_shorter() -> None:
    plan = plan_of(Build.CORE, count=40)
    cup = working_cups(plan, plastic=PLASTIC, station=STATION)[Part.CORE, 1]
    least_s = next(stood_s for stood_s in range(3600) if cup.again(float(stood_s)).alone_s)
    over, under = cup.again(least_s + 1.0), cup.again(least_s - 1.0)
    assert over.alone_s == pytest.approx(20.0, abs=1.0)
    assert under.alone_s == 0.0
    assert cup.again(least_s - 1.0, before=over).alone_s == pytest.approx(20.0, abs=1.0)
    assert cup.again(least_s + 1.0, before=under).alone_s == over.alone_s
    assert cup.again(0.0, before=over).alone_s == 0.0
