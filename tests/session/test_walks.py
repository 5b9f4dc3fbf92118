"""Whole sessions of every build, driven against a clock that goes only when told to."""

from __future__ import annotations

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.events import WentBack
from bench.session.session import Session, State
from bench.session.stamp import span
from bench.session.step import Ending
from bench.session.summary import summarise
from bench.session.view import CupView, view
from tests.session.bench_sessions import Maker, maker, placed
from tests.session.test_script import ALL_BUILDS

AT_THE_SHELLS = frozenset(
    {StepKind.OPEN, StepKind.RODS_OUT, StepKind.LOOK_AT_SHELLS, StepKind.TRIM, StepKind.SHELLS_BACK}
)

SIDE_B_SLACK_K = 2.0
"""The second side of a laminate waits while the first is brought back: the plan says so in a warning."""


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("moulds", [1, 2])
def test_every_build_runs_from_the_first_caution_to_the_cure(build: Build, tail: Tail, moulds: int) -> None:
    hands = maker(build, tail=tail, moulds=moulds)
    hands.walk_to_the_end()
    assert hands.session.state is State.COMPLETE
    visited = [hands.session.job.script[visit.index].id for visit in hands.session.visits]
    assert visited == [step.id for step in hands.session.job.script]


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("moulds", [1, 2])
def test_a_saved_session_is_its_job_and_its_events(build: Build, tail: Tail, moulds: int) -> None:
    hands = maker(build, tail=tail, moulds=moulds)
    hands.walk_to_the_end()
    assert Session(job=hands.session.job).after_all(hands.events) == hands.session


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("moulds", [1, 2])
def test_a_maker_at_the_planned_pace_takes_the_planned_time(build: Build, tail: Tail, moulds: int) -> None:
    hands = maker(build, tail=tail, moulds=moulds)
    hands.walk_to_the_end()
    summary = summarise(hands.session)
    assert summary.taken_s == pytest.approx(summary.planned_s, rel=0.002)


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("moulds", [1, 2])
def test_no_cup_is_shot_from_outside_its_band_at_the_planned_pace(build: Build, tail: Tail, moulds: int) -> None:
    hands = maker(build, tail=tail, moulds=moulds)
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
            assert seen.step.id == hands.session.step.id
            hands.clock.advance(1.0)
        hands.finish_step()
    assert view(hands.session, hands.now()).trays is not None


def test_trays_are_ready_a_cure_after_they_were_laid_out() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("r1.shot.open")
    hands.walk_to_the_end()
    opened = hands.session.ended("r1.shot.open")
    assert opened is not None
    trays = view(hands.session, hands.now()).trays
    assert trays is not None
    assert trays.baits == hands.session.job.plan.rounds * hands.session.job.plan.cavities
    assert (trays.first_ready - opened.wall).total_seconds() == pytest.approx(hands.session.job.plan.cure_s)
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


@pytest.mark.parametrize("tail", list(Tail))
def test_a_core_cup_is_on_the_heat_while_the_shells_set_and_the_hands_are_at_them(tail: Tail) -> None:
    hands = maker(Build.CORE, tail=tail, count=76)
    hands.press()
    beside: set[tuple[int, StepKind]] = set()
    while hands.session.step.kind is not StepKind.HEAT_OFF:
        if _core(hands).burst is not None and _core(hands).heating:
            beside.add((hands.session.step.round, hands.session.step.kind))
        hands.finish_step()
    assert beside & {(1, kind) for kind in AT_THE_SHELLS}
    later = {(number, kind) for number, kind in beside if number > 1}
    assert {kind for _, kind in later} & {StepKind.SET, *AT_THE_SHELLS}, "a cup that cooled for long is put on too"
    assert not {kind for _, kind in beside} & {StepKind.HEAT, StepKind.HEAT_ON}


def _core(hands: Maker) -> CupView:
    return next(cup for cup in view(hands.session, hands.now()).cups if cup.part is Part.CORE)


def test_a_clock_that_is_over_is_passed_over_and_not_gone_back_to() -> None:
    hands = maker(Build.CORE, moulds=2)
    hands.press()
    while not any(visit.passed for visit in hands.session.visits):
        hands.finish_step()
    *_, before, passed, here = hands.session.visits
    assert passed.passed
    assert passed.entered == passed.left == here.entered
    assert hands.session.job.script[passed.index].kind in (StepKind.SET, StepKind.REST_MOULD)
    hands.happen(WentBack(at=hands.now()))
    assert hands.session.visit.index == before.index
    hands.press()
    assert hands.session.visit.index == here.index


def test_a_clock_that_is_not_over_is_waited_for() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("r1.shot.hold")
    hands.happen(drive.forward(hands.session, hands.now()))
    assert hands.session.step.kind is StepKind.SET
    assert drive.remaining_s(hands.session, hands.now()) > 0


class TestSeveralMoulds:
    def test_all_warm_together_and_each_is_taken_off_by_itself(self) -> None:
        hands = maker(Build.CORE, moulds=2)
        hands.walk_to("warm-mould")
        hands.clock.advance(60)
        first, second = view(hands.session, hands.now()).moulds
        assert first.temp_c == pytest.approx(second.temp_c)
        assert first.temp_c > 25
        hands.finish_step()
        assert hands.session.step.id == "warm-mould.2"
        hands.clock.advance(60)
        colder, warmer = view(hands.session, hands.now()).moulds
        assert warmer.temp_c > colder.temp_c
        hands.finish_step()
        before = [mould.temp_c for mould in view(hands.session, hands.now()).moulds]
        hands.clock.advance(60)
        after = [mould.temp_c for mould in view(hands.session, hands.now()).moulds]
        assert all(now_c < then_c for now_c, then_c in zip(after, before, strict=True))

    def test_going_back_puts_the_first_on_again_and_leaves_the_second(self) -> None:
        hands = maker(Build.CORE, moulds=2)
        hands.walk_to("warm-mould.2")
        hands.happen(WentBack(at=hands.now()))
        before = [mould.temp_c for mould in view(hands.session, hands.now()).moulds]
        hands.session = placed(hands.session, hands.now(), mould_c=30.0)
        hands.clock.advance(30)
        first, second = view(hands.session, hands.now()).moulds
        assert first.temp_c > 30.0
        assert second.temp_c >= before[1]

    def test_a_shot_warms_its_own_mould_only(self) -> None:
        hands = maker(Build.CORE, moulds=2)
        hands.walk_to("r1.shell.shot")
        before = {mould.number: mould.temp_c for mould in view(hands.session, hands.now()).moulds}
        hands.press()
        after = {mould.number: mould.temp_c for mould in view(hands.session, hands.now()).moulds}
        assert after[1] > before[1] + 1
        assert after[2] == pytest.approx(before[2])
