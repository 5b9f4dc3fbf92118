"""The script: what steps a plan becomes."""

from __future__ import annotations

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.model.step_kind import StepKind
from bench.plan.records import Shot
from bench.session.script import script_length_s
from bench.session.step import Ending
from tests.session.bench_sessions import job

ALL_BUILDS = [
    (Build.PLAIN, Tail.KEPT),
    (Build.LAMINATE, Tail.KEPT),
    (Build.CORE, Tail.KEPT),
    (Build.CORE, Tail.CUT),
    (Build.LAMINATE_CORE, Tail.KEPT),
    (Build.LAMINATE_CORE, Tail.CUT),
]


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("warm_up_shots", [0, 1, 3])
def test_the_steps_add_up_to_the_plans_total(build: Build, tail: Tail, warm_up_shots: int) -> None:
    made = job(build, tail=tail, count=20, warm_up_shots=warm_up_shots)
    assert script_length_s(made.script) == pytest.approx(made.plan.total_s, abs=1e-6)


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
def test_ids_are_unique_and_every_clock_has_its_beginning(build: Build, tail: Tail) -> None:
    script = job(build, tail=tail).script
    ids = [step.id for step in script]
    assert len(ids) == len(set(ids))
    for place, step in enumerate(script):
        assert not step.since or step.since in ids[:place]


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
def test_a_job_opens_and_closes_alike_whatever_the_build(build: Build, tail: Tail) -> None:
    kinds = [step.kind for step in job(build, tail=tail).script]
    assert kinds[:3] == [StepKind.CAUTIONS, StepKind.READY, StepKind.WARM_MOULD]
    assert kinds[-5:] == [
        StepKind.HEAT_OFF,
        StepKind.PURGE_AIR,
        StepKind.CLEAN,
        StepKind.LAY_OUT,
        StepKind.CURE,
    ]


def test_a_core_round_goes_in_the_order_of_the_trade() -> None:
    script = job(Build.CORE, warm_up_shots=0).script
    kinds = [step.kind for step in script if step.round == 2 and step.kind is not StepKind.REST_MOULD]
    assert kinds == [
        StepKind.RODS_IN,
        StepKind.HEAT,
        StepKind.SHOT,
        StepKind.HOLD,
        StepKind.SET,
        StepKind.OPEN,
        StepKind.RODS_OUT,
        StepKind.LOOK_AT_SHELLS,
        StepKind.TRIM,
        StepKind.SHELLS_BACK,
        StepKind.HEAT,
        StepKind.SHOT,
        StepKind.HOLD,
        StepKind.SET,
        StepKind.OPEN,
        StepKind.LOOK_AT_BAITS,
    ]


def test_plain_work_has_no_rods_no_shells_and_no_trimming() -> None:
    kinds = {step.kind for step in job(Build.PLAIN).script}
    assert not kinds & {StepKind.RODS_IN, StepKind.RODS_OUT, StepKind.LOOK_AT_SHELLS, StepKind.TRIM}


def test_both_sides_of_a_laminate_are_hot_together() -> None:
    """The first side cooled while the second was heated: it is read again last."""
    heats = [step.parts for step in job(Build.LAMINATE).script if step.kind is StepKind.HEAT and step.round == 2]
    assert heats == [(Part.SIDE_A,), (Part.SIDE_B,), (Part.SIDE_A,)]


def test_a_cup_that_gave_warm_up_shots_is_brought_back_to_its_band() -> None:
    steps = [step for step in job(Build.CORE, warm_up_shots=2).script if step.round == 1 or "warm-up" in step.id]
    kinds = [step.kind for step in steps]
    last_warm_up = max(place for place, step in enumerate(steps) if "warm-up" in step.id)
    shell_shot = next(place for place, step in enumerate(steps) if step.shot is Shot.SHELL)
    assert StepKind.HEAT in kinds[last_warm_up:shell_shot]


def test_hold_runs_inside_the_set_and_both_count_from_the_shot() -> None:
    steps = {step.id: step for step in job(Build.CORE).script}
    hold, setting = steps["r1.shell.hold"], steps["r1.shell.set"]
    assert hold.since == setting.since == "r1.shell.shot"
    assert hold.ending is setting.ending is Ending.CLOCK
    assert 0 < hold.length_s < setting.length_s


def test_every_length_comes_from_the_plan() -> None:
    made = job(Build.CORE)
    for round_plan in made.plan.rounds_table:
        for shot in round_plan.shots:
            steps = {step.id: step for step in made.script}
            prefix = f"r{round_plan.round}.{shot.shot}"
            assert steps[f"{prefix}.set"].length_s == shot.set_s
            assert steps[f"{prefix}.hold"].length_s == shot.hold_s
            assert steps[f"{prefix}.hold"].top_off_ml == shot.top_off_ml
