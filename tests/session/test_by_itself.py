"""A burst that runs by itself while the hands do something else."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Part
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import Asked, asks_first
from bench.session.events import (
    Aborted,
    CautionsAcknowledged,
    SkipReason,
    StepSkipped,
    StopReason,
    StopRequested,
    WentBack,
)
from bench.session.stepping import first_burst_s
from bench.session.view import CupView, view
from tests.session.bench_sessions import Maker, maker

ON = "r1.heat.core.on"
HEAT = "r1.heat.core"
AFTER = "r1.shells-back"


def by_itself() -> Maker:
    """A core session, at the step where its first core cup goes on the heat: the shells wait beside it."""
    hands = maker(Build.CORE, warm_up_shots=0)
    hands.walk_to(ON)
    return hands


def core(hands: Maker) -> CupView:
    return next(cup for cup in view(hands.session, hands.now()).cups if cup.part is Part.CORE)


def temp_c(hands: Maker) -> float:
    known = core(hands).temp_c
    assert known is not None
    return known


def started() -> tuple[Maker, float]:
    """The burst has just begun; the second is how long it is."""
    hands = by_itself()
    seconds = view(hands.session, hands.now()).set_burst_s
    assert seconds is not None
    hands.press()
    return hands, seconds


class TestItRuns:
    def test_being_about_to_put_it_on_heats_nothing(self) -> None:
        hands = by_itself()
        hands.clock.advance(100)
        assert core(hands).temp_c is None
        assert core(hands).burst is None

    def test_it_is_on_the_heat_while_the_hands_are_at_the_shells(self) -> None:
        hands, seconds = started()
        assert hands.session.step.id == AFTER
        hands.clock.advance(seconds / 2)
        seen = core(hands)
        assert seen.heating
        assert seen.burst is not None
        assert seen.burst.left_s == pytest.approx(seconds / 2)
        half_c = temp_c(hands)
        hands.happen(drive.hold_or_resume(hands.session, hands.now()))
        assert temp_c(hands) == pytest.approx(half_c)
        hands.clock.advance(seconds / 2 - 0.1)
        assert temp_c(hands) > half_c + 10

    def test_it_ends_by_itself_and_the_cup_cools(self) -> None:
        hands, seconds = started()
        hands.clock.advance(seconds)
        hottest_c = temp_c(hands)
        hands.clock.advance(40)
        seen = core(hands)
        assert not seen.heating
        assert seen.burst_over_s == pytest.approx(40)
        assert temp_c(hands) < hottest_c
        hands.happen(WentBack(at=hands.now()))
        hands.clock.advance(20)
        assert core(hands).burst_over_s == pytest.approx(60), "however many steps go by"

    def test_it_is_one_first_burst_and_no_more(self) -> None:
        hands, seconds = started()
        assert seconds > 20
        hands.clock.advance(seconds)
        room_c, shot_c = hands.session.job.station.room.temperature_c, hands.session.job.plastic.shot_c
        assert temp_c(hands) - room_c == pytest.approx(0.6 * (shot_c - room_c), rel=0.15)

    def test_its_heating_goes_on_from_where_it_is(self) -> None:
        hands, seconds = started()
        hands.clock.advance(seconds + 30)
        hands.walk_to(HEAT)
        burst = view(hands.session, hands.now()).burst
        assert burst is not None
        assert (burst.number, burst.heating) == (1, False), "first it is stirred"
        assert burst.next_burst_s is not None
        assert core(hands).burst is None
        hands.clock.advance(burst.left_s + 1)
        hands.put_on()
        second = view(hands.session, hands.now()).burst
        assert second is not None
        assert (second.number, second.heating) == (2, True)

    def test_a_heating_that_is_reached_early_waits_for_its_burst(self) -> None:
        hands, seconds = started()
        hands.press()
        assert hands.session.step.id == HEAT
        burst = view(hands.session, hands.now()).burst
        assert burst is not None
        assert (burst.number, burst.heating) == (1, True)
        assert burst.left_s == pytest.approx(seconds)
        left_s = drive.remaining_s(hands.session, hands.now())
        assert left_s == pytest.approx(hands.session.step.length_s + seconds)

    def test_heat_spent_counts_once(self) -> None:
        """Through steps and readings it comes to what one burst and the cooling after it use up."""
        straight, seconds = started()
        stepped, _ = started()
        straight.clock.advance(seconds + 60)
        for _ in range(6):
            stepped.clock.advance((seconds + 60) / 6)
            if stepped.session.step.kind in (StepKind.TRIM, StepKind.SHELLS_BACK):
                reading = drive.mould_reading(stepped.session, 45.0, stepped.now())
                stepped.happen(reading)
        assert core(stepped).spent_pct == pytest.approx(core(straight).spent_pct, rel=0.05)
        assert core(stepped).spent_pct > 0


class TestItIsGuarded:
    def test_the_cautions_of_the_heat_stand_while_it_runs(self) -> None:
        hands, seconds = started()
        names = {caution.name for caution in view(hands.session, hands.now()).cautions}
        assert "never-leave" in names
        hands.clock.advance(seconds + 1)
        names = {caution.name for caution in view(hands.session, hands.now()).cautions}
        assert "never-leave" not in names

    def test_a_reading_over_the_scorch_limit_alarms_at_any_step(self) -> None:
        hands, seconds = started()
        hands.clock.advance(seconds / 2)
        hot_c = hands.session.job.plastic.scorch_c + 5
        hands.read(hot_c)
        assert hands.session.alarm is not None
        assert not core(hands).heating
        event = drive.acknowledge(hands.session, hands.now())
        assert isinstance(event, CautionsAcknowledged)
        hands.happen(event)
        hands.clock.advance(seconds)
        assert temp_c(hands) < hot_c

    def test_a_reading_sets_the_estimate_right_and_leaves_the_burst(self) -> None:
        hands, seconds = started()
        hands.clock.advance(seconds / 2)
        hands.read(temp_c(hands) + 12)
        seen = core(hands)
        assert seen.burst is not None
        assert seen.burst.left_s == pytest.approx(seconds / 2)
        assert seen.heating

    def test_heat_off_ends_it(self) -> None:
        hands, _ = started()
        hands.clock.advance(5)
        hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
        assert not core(hands).heating
        assert core(hands).burst is None
        warm_c = temp_c(hands)
        hands.clock.advance(20)
        assert temp_c(hands) <= warm_c

    def test_leaving_at_once_ends_it(self) -> None:
        hands, _ = started()
        hands.clock.advance(5)
        hands.happen(Aborted(at=hands.now(), reason=StopReason.DANGER))
        assert not core(hands).heating

    def test_a_skipped_one_heats_nothing(self) -> None:
        hands = by_itself()
        hands.happen(StepSkipped(at=hands.now(), step=ON, reason=SkipReason.NO_TIME))
        hands.clock.advance(100)
        assert core(hands).temp_c is None
        assert not hands.session.has_heated(Part.CORE, 1)

    def test_its_colour_is_settled_once_it_is_on(self) -> None:
        hands = by_itself()
        assert not hands.session.has_heated(Part.CORE, 1)
        hands.press()
        assert hands.session.has_heated(Part.CORE, 1)
        hands.happen(WentBack(at=hands.now()))
        assert hands.session.has_heated(Part.CORE, 1), "it stays on the heat"

    def test_going_back_and_on_again_does_not_set_it_twice(self) -> None:
        hands, seconds = started()
        hands.clock.advance(seconds / 2)
        hands.happen(WentBack(at=hands.now()))
        hands.clock.advance(seconds / 4)
        hands.press()
        burst = core(hands).burst
        assert burst is not None
        assert burst.left_s == pytest.approx(seconds / 4)

    def test_skipping_it_on_second_thoughts_takes_it_off(self) -> None:
        hands, seconds = started()
        hands.clock.advance(seconds / 2)
        hands.happen(WentBack(at=hands.now()))
        hands.happen(StepSkipped(at=hands.now(), step=ON, reason=SkipReason.SOMETHING_BROKE))
        assert not core(hands).heating
        assert core(hands).burst is None

    def test_the_key_asks_while_the_heater_has_another_cup(self) -> None:
        hands, _ = started()
        for part in (Part.SHELL,):
            stuck = replace(hands.session.cups[Part.CORE], melt=1)
            hands.session = replace(hands.session, cups={**hands.session.cups, part: stuck})
        hands.happen(WentBack(at=hands.now()))
        assert asks_first(hands.session, hands.now()) is Asked.BUSY


def test_a_hot_cup_needs_no_burst() -> None:
    hands, seconds = started()
    hands.clock.advance(seconds)
    hands.walk_to("r1.core.shot")
    on = next(step for step in hands.session.job.script if step.id == ON)
    assert first_burst_s(hands.session, on, hands.now()) < 15
