"""The three ways to warm a mould, each as a step with a length that physics gives."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bench.errors import BenchError
from bench.model.recipe import Build
from bench.model.station import WarmedBy, Warming
from bench.plan.records import Shot
from bench.plan.work import TaskKind
from tests.plan.bench_records import MOULD, STATION, job_of, plan_of

AIR = replace(STATION, warming=Warming(by=WarmedBy.AIR, air_c=90.0, film_w_m2k=40.0))
SHOTS = replace(STATION, warming=Warming(by=WarmedBy.SHOTS))


def test_a_plate_gives_the_mould_its_heat_at_the_power_it_absorbs() -> None:
    plan = plan_of(Build.PLAIN)
    assert plan.warming is WarmedBy.PLATE
    assert plan.warm_mould_s == pytest.approx(1.5 * 896.0 * 25.0 / 220.0)


def test_a_blast_warms_the_lump_exponentially() -> None:
    """C / (h A) ln((90 - 20) / (90 - 45)), from the room to the middle of the window."""
    plan = plan_of(Build.PLAIN, station=AIR)
    assert plan.warming is WarmedBy.AIR
    assert plan.warm_mould_s == pytest.approx(1.5 * 896.0 / (40.0 * 0.05) * math.log(70.0 / 45.0))
    assert plan.rounds_table == plan_of(Build.PLAIN).rounds_table


def test_a_blast_or_a_plate_cooler_than_the_window_is_refused() -> None:
    air = replace(STATION, warming=Warming(by=WarmedBy.AIR, air_c=39.0))
    with pytest.raises(BenchError, match="air at 39 °C never warms a mould to 40 °C"):
        plan_of(Build.PLAIN, station=air)
    plate = replace(STATION, warming=Warming(absorbed_w=220.0, plate_c=40.0))
    with pytest.raises(BenchError, match="a plate at 40 °C never warms a mould to 40 °C"):
        plan_of(Build.PLAIN, station=plate)


def test_what_warms_it_within_its_window_warms_it_to_the_middle_of_what_it_reaches() -> None:
    """Half way from 40 to 44 °C, from a room at 20."""
    air = replace(STATION, warming=Warming(by=WarmedBy.AIR, air_c=44.0, film_w_m2k=40.0))
    way_s = plan_of(Build.PLAIN, station=air).warm_mould_s
    assert way_s == pytest.approx(1.5 * 896.0 / (40.0 * 0.05) * math.log(24.0 / 2.0))
    plate = replace(STATION, warming=Warming(absorbed_w=220.0, plate_c=44.0))
    assert plan_of(Build.PLAIN, station=plate).warm_mould_s == pytest.approx(1.5 * 896.0 * 22.0 / 220.0)


def test_a_plate_hotter_than_the_window_changes_no_plan() -> None:
    """What it absorbs is what was timed on the way there, however hot it is."""
    hot = replace(STATION, warming=Warming(absorbed_w=220.0, plate_c=110.0))
    assert plan_of(Build.PLAIN, station=hot) == plan_of(Build.PLAIN)


def test_shots_alone_are_as_many_as_bring_the_mould_into_its_window() -> None:
    """At most the heat of a whole shot, all of it left in the mould and none lost, and no more than half as many
    again: m c (170 - 20) / C is 6 K a shot, and the window begins 20 K above the room."""
    plan = plan_of(Build.PLAIN, station=SHOTS)
    assert plan.warming is WarmedBy.SHOTS
    assert plan.warm_mould_s == 0.0
    grams = (plan.cavities * plan.volumes.bait_ml + plan.volumes.runner_ml) * 1.030 / (1 + 6e-4 * 150)
    least = math.ceil(20.0 / (grams * 1.8 * 150.0 / (1.5 * 896.0)))
    assert least <= plan.warm_up_shots <= 2 * least
    assert plan.rounds_table[0].shot(Shot.WHOLE).mould_c >= MOULD.warm_c[0] - 1.0


def test_the_timeline_has_those_shots_into_every_mould() -> None:
    roomy = replace(SHOTS, vessel=replace(SHOTS.vessel, volume_ml=1000.0))
    job = job_of(Build.PLAIN, station=roomy, moulds=2)
    assert job.plan.moulds == 2
    warm_ups = [row for row in job.timeline.rows if row.kind is TaskKind.WARM_UP_SHOT]
    assert len(warm_ups) == job.plan.moulds * job.plan.warm_up_shots
    first = min(row.mould_c for row in job.timeline.rows if row.kind is TaskKind.SHOT and row.mould_c is not None)
    assert first > STATION.room.temperature_c + 10.0


def test_moulds_that_no_cup_can_warm_are_left_out() -> None:
    job = job_of(Build.PLAIN, station=SHOTS, moulds=4)
    assert job.plan.warm_up_shots == plan_of(Build.PLAIN, station=SHOTS).warm_up_shots


def test_a_number_asked_for_is_kept() -> None:
    assert plan_of(Build.PLAIN, station=SHOTS, warm_up_shots=1).warm_up_shots == 1


def test_a_mould_too_heavy_to_warm_by_shots_is_told_and_the_cup_still_holds_a_round() -> None:
    heavy = replace(MOULD, mass_g=15000.0, area_m2=0.3)
    plan = plan_of(Build.PLAIN, station=SHOTS, mould=heavy)
    assert 0 < plan.warm_up_shots <= 20
    assert any("below its window from 40 °C" in warning for warning in plan.warnings)
    assert plan.parts[0].melts[0].volume_ml <= STATION.vessel.usable_ml


def test_a_plate_without_a_power_is_a_fault() -> None:
    found = list(replace(STATION, warming=Warming()).faults())
    assert [fault.key for fault in found] == ["warming.absorbed"]


def test_a_plate_no_warmer_than_its_room_is_a_fault() -> None:
    found = list(replace(STATION, warming=Warming(absorbed_w=220.0, plate_c=20.0)).faults())
    assert [fault.key for fault in found] == ["warming.plate"]
