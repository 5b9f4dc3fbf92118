"""The rhythm's lengths against those that the plan itself has."""

from __future__ import annotations

import math

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.plan.cups import working_cups
from bench.plan.records import Shot
from bench.plan.rhythm import Beat, Burst, MouldWalk, planned, reheats_s
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
def test_one_shot_warms_the_mould_as_much_as_in_the_plan(build: Build, shot: Shot) -> None:
    """The plan's own second temperature comes out when the walk is given the plan's own times."""
    plan = plan_of(build, count=40, tail=Tail.KEPT, warm_up_shots=0)
    first, second = (
        (plan.rounds_table[0].shots[0], plan.rounds_table[0].shots[1])
        if build is Build.CORE
        else (plan.rounds_table[0].shots[0], plan.rounds_table[1].shots[0])
    )
    start_s = RELAXATION_S * math.log((45.0 - 20.0) / (first.mould_c - 20.0))
    heats_s = sum(heating.total_s for heating in second.heats)
    # Core: push, set, out of the mould for 112, heat. Plain: push, set, open and look 40, rest, heat.
    between_s = 112.0 if build is Build.CORE else 40.0 + plan.rounds_table[1].rest_s
    gap_s = 12.0 + first.set_s + between_s + heats_s
    later = 2 if build is Build.PLAIN else 1
    beats = (
        Beat(start_s=start_s, end_s=start_s + 30.0, round=1, shot=shot),
        Beat(start_s=start_s + gap_s, end_s=start_s + gap_s + 30.0, round=later, shot=second.shot),
    )
    walk = MouldWalk(plan, mould=MOULD, plastic=PLASTIC, station=STATION)
    at_c = walk.temperatures(beats)
    assert at_c[1, shot] == pytest.approx(first.mould_c, abs=1e-6)
    assert at_c[later, second.shot] == pytest.approx(second.mould_c, abs=0.15)


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
    """The plan brings side A back after side B was heated: the same cup, the same time, the same length."""
    plan = plan_of(Build.LAMINATE, count=40)
    side_a, side_b, again, *_ = plan.warm_up_heats
    cups = working_cups(plan, plastic=PLASTIC, station=STATION)
    bursts = (
        Burst(id="a", part=Part.SIDE_A, melt=1, from_cold=True, start_s=0.0, end_s=side_a.heat_s),
        Burst(
            id="again",
            part=Part.SIDE_A,
            melt=1,
            from_cold=False,
            start_s=side_a.heat_s + side_b.total_s,
            end_s=side_a.heat_s + side_b.total_s + 20.0,
        ),
    )
    assert reheats_s(bursts, cups, least_s=5.0) == {"again": pytest.approx(again.heat_s)}
    assert reheats_s(bursts, cups, least_s=90.0) == {"again": 90.0}
