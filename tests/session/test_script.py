"""The script: what steps a plan becomes."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.model.station import WarmedBy
from bench.model.step_kind import StepKind
from bench.plan.records import Shot
from bench.session.prepare import followed
from bench.session.script import script_length_s
from bench.session.step import Ending
from bench.session.words import LOOKED_AT, heat_on_words, heat_words, look_words
from tests.plan.bench_records import MOULD, PLASTIC, STATION
from tests.session.bench_sessions import job, planned_job

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
    beside = (StepKind.REST_MOULD, StepKind.WEIGH, StepKind.HEAT_ON)
    kinds = [step.kind for step in script if step.round == 2 and step.kind not in beside]
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


@pytest.mark.parametrize("moulds", [1, 2])
def test_every_length_comes_from_the_timeline(moulds: int) -> None:
    planned = planned_job(Build.CORE, moulds=moulds)
    rows = {row.id: row for row in planned.timeline.rows}
    steps = {step.id: step for step in job(Build.CORE, moulds=moulds).script}
    for round_plan in planned.plan.rounds_table:
        for shot in round_plan.shots:
            prefix = f"r{round_plan.round}.{shot.shot}"
            pushed_s = rows[f"{prefix}.shot"].end_s
            assert steps[f"{prefix}.set"].length_s == pytest.approx(rows[f"{prefix}.set"].end_s - pushed_s)
            assert steps[f"{prefix}.set"].mould_c == rows[f"{prefix}.shot"].mould_c
            assert steps[f"{prefix}.hold"].length_s == pytest.approx(rows[f"{prefix}.hold"].end_s - pushed_s)
            assert steps[f"{prefix}.hold"].top_off_ml == shot.top_off_ml


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("moulds", [1, 2])
def test_what_the_hands_do_stands_in_the_timelines_order(build: Build, tail: Tail, moulds: int) -> None:
    planned = planned_job(build, tail=tail, moulds=moulds)
    script = job(build, tail=tail, moulds=moulds).script
    clocks = (StepKind.SET, StepKind.REST_MOULD)
    steps = [step.id for step in script if step.kind not in clocks and step.length_s != 0.0]
    by_hand = [row.id.removesuffix(".finish") for row in planned.timeline.by_hand if row.end_s > row.start_s]
    done = [step for step in steps if step in by_hand]
    merged = [row for row in by_hand if row not in steps]
    assert done == [row for row in by_hand if row in steps]
    assert all(row.endswith(".on") for row in merged), "a cup that is put on and finished at once is one step"


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("moulds", [1, 2])
def test_before_every_opening_stands_the_set_of_its_own_shot(build: Build, tail: Tail, moulds: int) -> None:
    script = job(build, tail=tail, moulds=moulds).script
    for before, step in pairwise(script):
        if step.kind is StepKind.OPEN:
            assert before.kind is StepKind.SET
            assert before.mould == step.mould
            assert before.id.removesuffix(".set") == step.id.removesuffix(".open")
            assert before.since.removesuffix(".shot") == step.id.removesuffix(".open")
        if before.kind is StepKind.SET:
            assert before.passes


def test_a_rest_leaves_the_time_in_which_its_cup_is_finished() -> None:
    script = job(Build.CORE, count=20).script
    rests = [place for place, step in enumerate(script) if step.kind is StepKind.REST_MOULD]
    assert rests
    for place in rests:
        following = [step.kind for step in script[place + 1 : place + 3]]
        assert StepKind.SHOT in following or StepKind.RODS_IN in following


class TestSeveralMoulds:
    def test_a_number_is_said_only_where_there_are_several(self) -> None:
        one = " ".join(step.title for step in job(Build.CORE).script)
        two = [step for step in job(Build.CORE, moulds=2).script if step.kind is StepKind.OPEN]
        assert not re.search(r"\d", one)
        assert {step.title for step in two} == {"Open mould 1", "Open mould 2"}

    def test_each_has_its_own_warming_the_first_at_full_length(self) -> None:
        warming = [step for step in job(Build.CORE, moulds=2).script if step.kind is StepKind.WARM_MOULD]
        assert warming[0].do.startswith("Put all moulds on the warm plate, closed. Read mould 1")
        assert warming[1].do.startswith("Read mould 2")
        assert all(step.do.endswith("Take it off when it is warm.") for step in warming)
        assert [step.mould for step in warming] == [1, 2]
        assert warming[0].length_s > 5 * warming[1].length_s > 0

    def test_a_second_one_fills_the_waiting(self) -> None:
        one, two = (job(Build.CORE, count=20, moulds=moulds) for moulds in (1, 2))
        assert script_length_s(two.script) < script_length_s(one.script) - 60


@pytest.mark.parametrize("by", list(WarmedBy))
def test_moulds_are_warmed_as_the_station_has_it(by: WarmedBy) -> None:
    planned = planned_job(Build.PLAIN)
    planned = replace(planned, plan=replace(planned.plan, warming=by))
    _, script = followed(planned, mould=MOULD, plastic=PLASTIC, station=STATION)
    warming = [step for step in script if step.kind is StepKind.WARM_MOULD]
    assert len(warming) == (0 if by is WarmedBy.SHOTS else 1)
    assert all(("air" in step.do) == (by is WarmedBy.AIR) for step in warming)


def test_no_step_forbids_the_burst_that_another_sets() -> None:
    """A first burst is planned to be long (common practice, no source); what is not done is the whole way without
    a look into the cup."""
    for part in Part:
        for weighed in (False, True):
            do = heat_words(part, fresh=True, weighed=weighed).do
            assert "long burst" not in do
            assert "Never all the way without a stir and a reading." in do


def test_the_letter_of_a_cup_keeps_its_size_in_a_title() -> None:
    assert heat_on_words(Part.SHELL_A, fresh=True).title == "Shell A cup on the heat"


@pytest.mark.parametrize("build", [Build.PLAIN, Build.LAMINATE, Build.CORE])
def test_a_look_says_that_one_verdict_is_for_all_of_its_round(build: Build) -> None:
    looks = [step for step in job(build).script if step.kind in LOOKED_AT]
    assert len(looks) == job(build).plan.rounds * (2 if build.has_core else 1)
    assert all(step.do.endswith("A digit for all 4: the look of most, or the worst fault.") for step in looks)


@pytest.mark.parametrize("kind", sorted(LOOKED_AT))
def test_where_a_round_is_one_bait_its_digit_is_for_that(kind: StepKind) -> None:
    assert look_words(kind, count=1).do.endswith(" Press the digit of what you see.")
    assert "all" not in look_words(kind, count=1).do
