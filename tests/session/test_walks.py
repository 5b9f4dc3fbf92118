"""Whole sessions of every build, driven against a clock that goes only when told to."""

from __future__ import annotations

import pytest

from bench.model.recipe import Build, Tail
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.session import Session, State
from bench.session.stamp import span
from bench.session.step import Ending
from bench.session.summary import summarise
from bench.session.view import view
from tests.session.bench_sessions import maker
from tests.session.test_script import ALL_BUILDS

SIDE_B_SLACK_K = 2.0
"""The second side of a laminate waits while the first is brought back: the plan says so in a warning."""


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
def test_every_build_runs_from_the_first_caution_to_the_cure(build: Build, tail: Tail) -> None:
    hands = maker(build, tail=tail)
    hands.walk_to_the_end()
    assert hands.session.state is State.COMPLETE
    visited = [hands.session.job.script[visit.index].id for visit in hands.session.visits]
    assert visited == [step.id for step in hands.session.job.script]


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
def test_a_saved_session_is_its_job_and_its_events(build: Build, tail: Tail) -> None:
    hands = maker(build, tail=tail)
    hands.walk_to_the_end()
    assert Session(job=hands.session.job).after_all(hands.events) == hands.session


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
def test_a_maker_at_the_planned_pace_takes_the_planned_time(build: Build, tail: Tail) -> None:
    hands = maker(build, tail=tail)
    hands.walk_to_the_end()
    summary = summarise(hands.session)
    assert summary.taken_s == pytest.approx(summary.planned_s, rel=0.002)


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
def test_no_cup_is_shot_from_outside_its_band_at_the_planned_pace(build: Build, tail: Tail) -> None:
    hands = maker(build, tail=tail)
    hands.press()
    low, high = hands.session.job.plastic.band_c
    while not hands.session.state.over:
        if hands.session.step.kind is StepKind.SHOT:
            cups = {cup.part: cup.temp_c for cup in view(hands.session, hands.now()).cups}
            for part in hands.session.step.parts:
                temp_c = cups[part]
                assert temp_c is not None
                assert low - SIDE_B_SLACK_K <= temp_c <= high
        hands.finish_step()


def test_the_view_of_every_moment_can_be_had() -> None:
    hands = maker(Build.LAMINATE_CORE)
    hands.press()
    while not hands.session.state.over:
        for _ in range(3):
            seen = view(hands.session, hands.now())
            assert seen.step == hands.session.step
            hands.clock.advance(1.0)
        hands.finish_step()
    assert view(hands.session, hands.now()).trays is not None


def test_trays_are_ready_a_cure_after_they_were_laid_out() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("r1.look")
    laid_out = hands.now().wall
    hands.walk_to_the_end()
    trays = view(hands.session, hands.now()).trays
    assert trays is not None
    assert trays.baits == hands.session.job.plan.rounds * hands.session.job.plan.cavities
    assert (trays.first_ready - laid_out).total_seconds() == pytest.approx(hands.session.job.plan.cure_s)
    assert trays.last_ready > trays.first_ready


def test_a_set_ends_by_itself_and_counts_from_the_shot() -> None:
    hands = maker(Build.CORE)
    hands.walk_to("r1.shell.hold")
    shot = hands.session.ended("r1.shell.shot")
    assert shot is not None
    hands.clock.advance(hands.session.step.length_s + 40)
    hands.tick()
    assert hands.session.step.id == "r1.shell.set"
    setting = hands.session.step
    hands.clock.advance(setting.length_s - span(shot, hands.now()).seconds - 0.5)
    assert not hands.tick()
    hands.clock.advance(1.0)
    assert hands.tick()
    assert hands.session.visits[-2].by is Ending.CLOCK


def test_a_step_that_waits_for_a_reading_does_not_end_by_its_length() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(hands.session.step.length_s * 3)
    assert drive.due(hands.session, hands.now()) is None
    hands.read(150)
    assert drive.due(hands.session, hands.now()) is None
    hands.read(166)
    assert hands.tick()
    assert hands.session.visits[-2].by is Ending.READING
