"""A whole plan: its table against the physics, its total against every task in it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bench.errors import BenchError
from bench.model.recipe import Build, Part, Tail
from bench.physics.cooling import Section, Substance, cool_core, cool_shell, cool_solid
from bench.plan.make import make_plan
from bench.plan.records import Ask, Plan, Shot
from tests.plan.bench_records import COLOURANTS, MOULD, PLASTIC, STATION, plan_of, recipe
from tests.plan.test_rounds import CASES, heat_s, on_and_stirred_s, out_s

SOFT = Substance(k_w_mk=0.16, rho_kg_m3=1030.0, c_j_kgk=1800.0)
WITH_TAIL = Section(body_mm=10.0, rod_mm=4.0, tail_mm=2.0, gate_mm=4.0)
NO_TAIL = Section(body_mm=10.0, rod_mm=4.0, gate_mm=4.0)


@pytest.mark.parametrize(("build", "tail"), CASES)
def test_set_times_are_those_of_the_cooling_at_that_mould(build: Build, tail: Tail) -> None:
    plan = plan_of(build, tail=tail)
    for each in plan.rounds_table:
        shell_c = 0.0
        for shot in each.shots:
            if shot.shot is Shot.WHOLE:
                cooling = cool_solid(WITH_TAIL, SOFT, shot_c=170.0, mould_c=shot.mould_c)
            elif shot.shot is Shot.SHELL:
                cooling = cool_shell(WITH_TAIL, SOFT, shot_c=170.0, mould_c=shot.mould_c)
                shell_c = after_air_c(cooling.mean_c, out_s(plan))
            else:
                section = WITH_TAIL if tail is Tail.CUT else NO_TAIL
                cooling = cool_core(section, SOFT, shot_c=170.0, shell_c=shell_c, mould_c=shot.mould_c)
            assert shot.set_s == pytest.approx(cooling.set_s, rel=0.01)
            assert shot.hold_s == pytest.approx(cooling.hold_s, rel=0.01)


def after_air_c(mean_c: float, seconds: float) -> float:
    relaxation_s = 1030.0 * 1800.0 * (0.010**2 - 0.004**2) / (4 * 0.010 * 10.0)
    return 20.0 + (mean_c - 20.0) * math.exp(-seconds / relaxation_s)


@pytest.mark.parametrize(("build", "tail"), CASES)
@pytest.mark.parametrize(("count", "warm_up_shots"), [(1, 0), (20, 1), (90, 2)])
def test_the_total_is_the_sum_of_every_task(build: Build, tail: Tail, count: int, warm_up_shots: int) -> None:
    plan = plan_of(build, tail=tail, count=count, warm_up_shots=warm_up_shots)
    opening_s = 600.0 + plan.warm_mould_s
    warm_up_s = warm_up_shots * (12.0 + plan.warm_up_set_s + 20.0)
    warm_up_s += sum(on_and_stirred_s(heating) for heating in plan.warm_up_heats)
    closing_s = plan.purge_s + 600.0 + 6.0 * plan.rounds * 4
    rounds_s = sum(round_s(plan, number) for number in range(1, plan.rounds + 1))
    assert plan.total_s == pytest.approx(opening_s + warm_up_s + rounds_s + closing_s)


def round_s(plan: Plan, number: int) -> float:
    each = plan.rounds_table[number - 1]
    first, *later = each.shots
    seconds = each.rest_s + heat_s(plan, first.parts, number) + 12.0 + first.set_s + 20.0 + 20.0
    if later:
        # The shells' opening is in out_s, the baits' in the line above; rods in 4 x 12.
        seconds += 48.0 + out_s(plan) + heat_s(plan, (Part.CORE,), number) + 12.0 + later[0].set_s
    return seconds


@pytest.mark.parametrize(("build", "tail"), CASES)
def test_parts_add_up_to_their_melts(build: Build, tail: Tail) -> None:
    plan = plan_of(build, tail=tail, count=90)
    for part in plan.parts:
        warm_ml = 0.0
        if part.part is not Part.CORE:
            share = recipe(build).parts[part.part].share_pct / 100
            warm_ml = share * (4 * plan.volumes.bait_ml + plan.volumes.runner_ml)
        shots_ml = (plan.rounds * part.per_round_ml + warm_ml) * 1.05
        assert part.total_ml == pytest.approx(shots_ml + 14.0 * len(part.melts))
        assert part.total_g == pytest.approx(part.total_ml * 1.030 / (1 + 6e-4 * 150))
        assert sum(melt.mass_g for melt in part.melts) == pytest.approx(part.total_g)
        assert [dose.mass_g for dose in part.doses] == pytest.approx([0.01 * part.total_g, 0.002 * part.total_g])
        red, pearl = part.doses
        assert red.drops == pytest.approx(red.mass_g / 0.03)
        assert pearl.drops is None


@pytest.mark.parametrize(("build", "tail"), CASES)
def test_what_is_melted_feeds_every_shot_as_it_is_timed(build: Build, tail: Tail) -> None:
    # Amounts take the largest top-off of the window, so no round of the table asks for more than its share.
    plan = plan_of(build, tail=tail, count=90)
    for part in plan.parts:
        share = 1.0 if part.part is Part.CORE else recipe(build).parts[part.part].share_pct / 100
        for each in plan.rounds_table:
            shot = next(shot for shot in each.shots if part.part in shot.parts)
            assert share * (shot.volume_ml + shot.top_off_ml) <= part.per_round_ml * 1.0005


def test_trimmed_tails_are_weighed_by_side() -> None:
    plan = plan_of(Build.LAMINATE_CORE, tail=Tail.CUT)
    tails_g = 6 * 4 * (2 * 10 * 30 / 1000) * 1.030 / (1 + 6e-4 * 150)
    assert [part.trimmed_g for part in plan.parts] == pytest.approx([0.7 * tails_g, 0.3 * tails_g, 0.0])


def test_the_hot_plate_brings_the_mould_to_the_middle_of_its_window() -> None:
    assert plan_of(Build.PLAIN).warm_mould_s == pytest.approx(1.5 * 896.0 * (45.0 - 20.0) / 220.0)


def test_the_fan_runs_as_long_as_the_published_table_says() -> None:
    # 10 air changes an hour to 99 %: 28 min in CDC, Guidelines for Environmental Infection Control in Health-Care
    # Facilities (2003), table B.1, which is for perfect mixing; the room's factor is 3.
    assert plan_of(Build.PLAIN).purge_s / 60 == pytest.approx(3 * 28.0, rel=0.02)


def test_a_longer_job_takes_longer_and_only_repeats_what_it_has_learnt() -> None:
    lagged = replace(MOULD, loss_w_m2k=5.0)
    short, long = (plan_of(Build.CORE, count=count, mould=lagged) for count in (40, 80))
    assert long.total_s > short.total_s
    steady = [each for each in long.rounds_table if each.rest_s > 0][3:]
    assert {round(each.mould_c, 1) for each in steady} == {round(steady[0].mould_c, 1)}


def test_plans_are_the_same_every_time() -> None:
    assert plan_of(Build.LAMINATE_CORE) == plan_of(Build.LAMINATE_CORE)


def test_the_fullest_job_is_still_planned() -> None:
    plan = plan_of(Build.CORE, count=10_000, spares_pct=0.0)
    assert plan.rounds == len(plan.rounds_table) == 2500


def test_an_unknown_colourant_stops_the_plan() -> None:
    with pytest.raises(BenchError, match='no colourant is called "pearl"'):
        make_plan(
            recipe=recipe(Build.PLAIN),
            mould=MOULD,
            plastic=PLASTIC,
            station=STATION,
            colourants={"red": COLOURANTS["red"]},
            ask=Ask(count=4),
        )


def test_reheats_follow_from_the_length_of_the_rounds() -> None:
    slow = replace(STATION, pace=replace(STATION.pace, look_s=300.0))
    quick, slower = (
        plan_of(Build.PLAIN, station=station).melt(Part.BODY, 1).reheat_s for station in (STATION, slow)
    )
    assert 0 < quick < slower
