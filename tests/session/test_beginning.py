"""A heat begins when the maker says that the cup is on: not with the press that ended the step before."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.errors import IllegalMove
from bench.model.recipe import Build, Part
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import INSISTED, Asked, asks_first
from bench.session.beginning import begins, burst_to_set_s
from bench.session.bursts import BurstView, Leg
from bench.session.events import CupRead, HeatBegun, SkipReason, StepDone, StepSkipped, WentBack
from bench.session.session import State
from bench.session.step import Ending
from bench.session.story import story
from bench.session.view import view
from bench.session.warmth import cup_now
from tests.session.bench_sessions import Maker, maker, placed

HEAT = "r2.heat.body"
"""A reheat that follows the opening of a mould: the cup stands somewhere else."""


def waiting(step_id: str = HEAT, build: Build = Build.PLAIN, *, cup_c: float | None = None) -> Maker:
    """A heating that was just entered, its cup at that temperature."""
    hands = maker(build, count=20)
    hands.walk_to(step_id, on=False)
    assert hands.session.waits_to_begin
    if cup_c is not None:
        hands.session = placed(hands.session, hands.now(), cup_c=cup_c)
    return hands


def temp_c(hands: Maker, part: Part = Part.BODY) -> float:
    estimate = cup_now(hands.session, part, hands.now())
    assert estimate is not None
    return estimate.temp_c


def burst_of(hands: Maker) -> BurstView:
    burst = view(hands.session, hands.now()).burst
    assert burst is not None
    return burst


class TestItWaits:
    def test_the_cup_cools_and_the_countdown_stands_however_long_the_hands_take(self) -> None:
        hands = waiting(cup_c=150.0)
        length_s, before_c = hands.session.step.length_s, temp_c(hands)
        for _ in range(3):
            hands.clock.advance(20)
            assert not hands.tick()
            seen = view(hands.session, hands.now())
            assert seen.remaining_s == pytest.approx(length_s)
            assert (seen.burst, seen.begins) == (None, True)
            assert not seen.cups[0].heating
            assert temp_c(hands) < before_c
            before_c = temp_c(hands)

    def test_the_press_begins_the_burst_that_was_shown(self) -> None:
        hands = waiting(cup_c=150.0)
        hands.clock.advance(20)
        shown_s, cold_c = view(hands.session, hands.now()).set_burst_s, temp_c(hands)
        assert shown_s
        assert drive.forward(hands.session, hands.now()) == HeatBegun(at=hands.now(), step=HEAT)
        hands.press()
        seen = view(hands.session, hands.now())
        assert seen.remaining_s == pytest.approx(hands.session.step.length_s)
        assert (burst_of(hands).number, burst_of(hands).heating) == (1, True)
        assert burst_of(hands).left_s == pytest.approx(shown_s)
        assert temp_c(hands) == pytest.approx(cold_c)
        hands.clock.advance(5)
        assert temp_c(hands) > cold_c
        assert burst_of(hands).left_s == pytest.approx(shown_s - 5)

    @pytest.mark.parametrize(
        ("build", "step_id"),
        [
            (Build.PLAIN, "m1.warm-up1.heat.body"),
            (Build.PLAIN, "r4.heat.body"),
            (Build.LAMINATE, "m1.warm-up1.heat.side_a"),
            (Build.LAMINATE, "m1.warm-up1.heat.side_b"),
            (Build.CORE, "r1.heat.shell"),
        ],
    )
    def test_the_first_cup_and_a_second_one_a_further_melt_and_a_reheat_alike(
        self, build: Build, step_id: str
    ) -> None:
        hands = waiting(step_id, build)
        seen = view(hands.session, hands.now())
        assert seen.set_burst_s
        assert "start it. Then press the key." in seen.step.do
        hands.press()
        assert burst_of(hands).heating
        assert "press the key" not in view(hands.session, hands.now()).step.do

    def test_a_cup_that_was_only_weighed_is_shown_cold(self) -> None:
        hands = waiting("r4.heat.body")
        hands.clock.advance(300)
        assert view(hands.session, hands.now()).cups[0].temp_c is None
        hands.press()
        assert temp_c(hands) == hands.session.job.station.room.temperature_c

    def test_one_whose_burst_ran_by_itself_is_stirred_and_read_at_once(self) -> None:
        hands = maker(Build.CORE)
        hands.walk_to("r1.heat.core", on=False)
        assert not hands.session.waits_to_begin
        assert view(hands.session, hands.now()).cups[-1].heating
        assert burst_of(hands).number == 1

    def test_its_colour_is_settled_only_once_it_is_on(self) -> None:
        hands = maker(Build.CORE, warm_up_shots=0)
        hands.walk_to("r1.heat.core.on")
        hands.happen(StepSkipped(at=hands.now(), step="r1.heat.core.on", reason=SkipReason.NO_TIME))
        hands.walk_to("r1.heat.core", on=False)
        assert hands.session.waits_to_begin
        assert not hands.session.has_heated(Part.CORE, 1)
        hands.press()
        assert hands.session.has_heated(Part.CORE, 1)

    def test_what_follows_is_expected_no_sooner_than_its_bursts_are_over(self) -> None:
        hands = waiting(cup_c=140.0)
        before_s = view(hands.session, hands.now()).coming[0].in_s
        hands.clock.advance(60)
        later_s = view(hands.session, hands.now()).coming[0].in_s
        assert later_s >= before_s
        hands.press()
        assert view(hands.session, hands.now()).coming[0].in_s == pytest.approx(later_s, abs=1.0)

    def test_its_own_shot_is_not_called_late_while_it_waits(self) -> None:
        hands = waiting(cup_c=167.0)
        assert not [each for each in view(hands.session, hands.now()).warnings if each.part is not None]

    def test_a_burst_of_another_cup_is_asked_about_and_over_once_this_one_is_on(self) -> None:
        hands = waiting("r1.heat.shell", Build.CORE)
        burst = Leg(heating=True, seconds=60.0, number=1)
        shell = hands.session.cups[Part.SHELL]
        running = replace(shell, target_c=170.0, by_itself=True, legs=(burst,), at=hands.now())
        hands.session = replace(hands.session, cups={**hands.session.cups, Part.CORE: running})
        assert asks_first(hands.session, hands.now()) is Asked.BUSY
        hands.press()
        assert not hands.session.cups[Part.CORE].bursting
        assert burst_of(hands).heating


class TestAReadingBefore:
    def test_it_is_of_a_cup_that_is_not_heated_and_sets_the_burst_anew(self) -> None:
        hands = waiting(cup_c=150.0)
        before_s = burst_to_set_s(hands.session, hands.now())
        assert before_s
        hands.read(140.0)
        assert hands.session.doubted is None
        assert hands.session.waits_to_begin
        after_s = burst_to_set_s(hands.session, hands.now())
        assert after_s is not None
        assert after_s > before_s
        hands.clock.advance(10)
        assert temp_c(hands) < 145.0

    def test_one_in_the_band_ends_the_step(self) -> None:
        hands = waiting(cup_c=164.0)
        hands.read(168.0)
        assert hands.tick()
        assert hands.session.step.kind is StepKind.SHOT

    def test_one_after_a_press_that_was_forgotten_is_believed_and_teaches_nothing(self) -> None:
        hands = waiting("r4.heat.body")
        learnt = hands.session.corrections.heater
        hands.clock.advance(100)
        hands.read(120.0)
        assert hands.session.doubted is None
        assert hands.session.corrections.heater == learnt
        assert burst_to_set_s(hands.session, hands.now())

    def test_over_the_band_nothing_is_begun(self) -> None:
        hands = waiting(cup_c=164.0)
        hands.read(180.0)
        assert burst_to_set_s(hands.session, hands.now()) == 0
        assert "no more heat" in view(hands.session, hands.now()).step.do
        assert isinstance(drive.forward(hands.session, hands.now()), StepDone)

    def test_one_over_the_scorch_limit_alarms_and_begins_no_heat(self) -> None:
        hands = waiting(cup_c=164.0)
        hands.read(212.0)
        assert hands.session.alarm is not None
        event = drive.acknowledge(hands.session, hands.now())
        assert event is not None
        hands.happen(event)
        assert not begins(hands.session, hands.now())
        hands.happen(drive.back(hands.session, hands.now()))
        assert hands.session.waits_to_begin
        assert not view(hands.session, hands.now()).cups[0].heating


class TestItIsGuarded:
    def test_a_pedal_pressed_again_and_again_walks_past_no_unread_cup(self) -> None:
        hands = waiting("r4.heat.body")
        hands.press()
        hands.clock.advance(3)
        assert asks_first(hands.session, hands.now()) is Asked.UNREAD
        assert Asked.UNREAD in INSISTED
        with pytest.raises(IllegalMove, match="begun already"):
            hands.happen(HeatBegun(at=hands.now(), step="r4.heat.body"))

    def test_a_hot_cup_is_gone_on_from_as_before(self) -> None:
        hands = waiting(cup_c=169.0)
        assert burst_to_set_s(hands.session, hands.now()) == 0
        assert asks_first(hands.session, hands.now()) is Asked.NO_READING

    def test_a_hold_ends_before_a_heat_begins(self) -> None:
        hands = waiting(cup_c=150.0)
        hands.happen(drive.hold_or_resume(hands.session, hands.now()))
        hands.press()
        assert hands.session.state is State.RUNNING
        assert hands.session.waits_to_begin


class TestTakenBack:
    def test_back_has_the_heating_wait_again_and_then_goes_back(self) -> None:
        hands = waiting(cup_c=150.0)
        hands.press()
        hands.clock.advance(2)
        warm_c = temp_c(hands)
        hands.happen(WentBack(at=hands.now()))
        assert hands.session.step.id == HEAT
        assert hands.session.waits_to_begin
        assert drive.remaining_s(hands.session, hands.now()) == pytest.approx(hands.session.step.length_s)
        hands.clock.advance(20)
        assert temp_c(hands) < warm_c
        hands.happen(WentBack(at=hands.now()))
        assert hands.session.step.id != HEAT

    def test_after_a_reading_it_is_one_step_back(self) -> None:
        hands = waiting(cup_c=150.0)
        hands.press()
        hands.clock.advance(burst_of(hands).left_s + 8)
        hands.read(160.0)
        hands.happen(WentBack(at=hands.now()))
        assert hands.session.step.id != HEAT

    def test_begun_again_it_has_all_its_time(self) -> None:
        hands = waiting(cup_c=150.0)
        hands.press()
        hands.clock.advance(2)
        hands.happen(WentBack(at=hands.now()))
        hands.clock.advance(10)
        hands.press()
        assert drive.remaining_s(hands.session, hands.now()) == pytest.approx(hands.session.step.length_s)
        assert burst_of(hands).heating

    def test_come_back_to_in_its_band_the_key_goes_on(self) -> None:
        hands = waiting(cup_c=150.0)
        hands.finish_step()
        assert hands.session.step.kind is StepKind.SHOT
        hands.happen(WentBack(at=hands.now()))
        assert hands.session.step.id == HEAT
        assert not view(hands.session, hands.now()).cups[0].heating
        assert isinstance(drive.forward(hands.session, hands.now()), StepDone)

    def test_come_back_to_and_read_under_its_band_it_waits_for_its_burst(self) -> None:
        hands = waiting(cup_c=150.0)
        hands.finish_step()
        hands.happen(WentBack(at=hands.now()))
        hands.read(158.0)
        assert begins(hands.session, hands.now())
        hands.press()
        assert burst_of(hands).heating


def read_between() -> Maker:
    """A cup that was stirred and read under its band after its first burst."""
    hands = waiting(cup_c=130.0)
    hands.press()
    hands.clock.advance(burst_of(hands).left_s + 9)
    hands.read(145.0)
    assert hands.session.doubted is None
    return hands


class TestAFigureThatWouldScorch:
    """A digit lost of a hot cup's figure must not set a burst from cold."""

    @pytest.mark.parametrize("lost_c", [2.0, 5.0, 16.0, 30.0])
    def test_however_often_it_is_read_a_hot_cup_is_not_at_the_room(self, lost_c: float) -> None:
        hands = read_between()
        before_s = burst_to_set_s(hands.session, hands.now())
        assert before_s
        for _ in range(3):
            hands.clock.advance(2)
            hands.read(lost_c)
            assert hands.session.doubted is not None
        hands.read(144.0)
        assert hands.session.doubted is None
        after_s = burst_to_set_s(hands.session, hands.now())
        assert after_s is not None
        assert after_s < before_s + 5

    def test_of_a_cup_never_read_it_is_believed_on_the_second_word(self) -> None:
        """Its heater was off."""
        hands = waiting("r4.heat.body")
        hands.press()
        hands.clock.advance(burst_of(hands).left_s + 5)
        for _ in range(2):
            hands.read(22.0)
        assert hands.session.doubted is None
        assert temp_c(hands) == pytest.approx(22.0, abs=1)

    def test_one_that_has_stood_for_long_may_be_cold(self) -> None:
        hands = read_between()
        hands.clock.advance(3600)
        for _ in range(2):
            hands.read(24.0)
        assert hands.session.doubted is None


class TestLaterBursts:
    def test_one_waits_as_the_first_did_however_long_the_hands_take(self) -> None:
        hands = read_between()
        seen = view(hands.session, hands.now())
        assert (seen.burst, seen.begins) == (None, True)
        assert seen.set_burst_s
        cooling_c = temp_c(hands)
        hands.clock.advance(300)
        assert not hands.tick()
        assert temp_c(hands) < cooling_c - 5
        assert not view(hands.session, hands.now()).cups[0].heater_on

    def test_the_press_begins_the_burst_that_was_shown(self) -> None:
        hands = read_between()
        hands.clock.advance(30)
        shown_s, cooling_c = view(hands.session, hands.now()).set_burst_s, temp_c(hands)
        assert asks_first(hands.session, hands.now()) is None
        hands.press()
        assert (burst_of(hands).number, burst_of(hands).heating) == (2, True)
        assert burst_of(hands).left_s == pytest.approx(shown_s)
        assert temp_c(hands) == pytest.approx(cooling_c)
        assert asks_first(hands.session, hands.now()) in (Asked.NO_READING, Asked.UNREAD)
        with pytest.raises(IllegalMove, match="begun already"):
            hands.happen(HeatBegun(at=hands.now(), step=HEAT))

    def test_without_a_reading_none_begins_by_itself(self) -> None:
        hands = waiting("r4.heat.body")
        hands.press()
        first = burst_of(hands)
        hands.clock.advance(first.left_s + 1)
        assert not burst_of(hands).heating, "the heater's timer has ended it"
        hot_c = temp_c(hands)
        hands.clock.advance(600)
        assert view(hands.session, hands.now()).burst is None
        assert temp_c(hands) < hot_c
        assert hands.session.cups[Part.BODY].on_s == 0, "nothing is kept of what nobody gave"
        hands.press()
        assert (burst_of(hands).number, burst_of(hands).heating) == (2, True)

    def test_who_stirs_fast_need_not_wait_for_it(self) -> None:
        hands = waiting("r4.heat.body")
        hands.press()
        hands.clock.advance(burst_of(hands).left_s + 1)
        assert burst_of(hands).next_burst_s
        assert asks_first(hands.session, hands.now()) is None
        hands.press()
        assert (burst_of(hands).number, burst_of(hands).heating) == (2, True)

    def test_no_burst_runs_on_through_a_hold_or_a_doubted_reading(self) -> None:
        held, doubting = waiting("r4.heat.body"), waiting("r4.heat.body")
        for each in (held, doubting):
            each.press()
            each.clock.advance(burst_of(each).left_s / 2)
        held.happen(drive.hold_or_resume(held.session, held.now()))
        doubting.read(5.0)
        assert doubting.session.doubted is not None
        for each in (held, doubting):
            each.clock.advance(600)
            assert not view(each.session, each.now()).cups[0].heater_on
        held.happen(drive.hold_or_resume(held.session, held.now()))
        assert held.session.step.id == "r4.heat.body"
        assert begins(held.session, held.now())

    def test_only_what_was_on_the_heat_teaches_the_heater(self) -> None:
        """Two that had the same burst and were read the same, one of them after a long stand with the cup covered
        by no burst, tell the same seconds of heat."""
        soon, late = waiting("r4.heat.body"), waiting("r4.heat.body")
        for each, wait_s in ((soon, 11.0), (late, 60.0)):
            each.press()
            each.clock.advance(burst_of(each).left_s + wait_s)
            each.read(115.0)
        on_s = [each.session.cup_marks[-1].on_s for each in (soon, late)]
        assert on_s[0] == pytest.approx(on_s[1])

    def test_the_burst_after_one_that_ran_by_itself_waits_too(self) -> None:
        hands = maker(Build.CORE)
        hands.walk_to("r1.heat.core", on=False)
        hands.clock.advance(burst_of(hands).left_s + 300)
        seen = view(hands.session, hands.now())
        assert not seen.cups[-1].heater_on
        assert seen.set_burst_s is not None

    def test_while_held_or_in_doubt_no_key_is_said_to_begin_it(self) -> None:
        held, doubting = read_between(), read_between()
        held.happen(drive.hold_or_resume(held.session, held.now()))
        doubting.read(5.0)
        for each in (held, doubting):
            seen = view(each.session, each.now())
            assert (seen.set_burst_s, seen.begins) == (None, False)
            assert "press the key" not in seen.step.do

    def test_once_all_that_were_planned_are_over_another_is_offered_under_the_band_only(self) -> None:
        hands = waiting(cup_c=150.0)
        hands.burst_through()
        assert temp_c(hands) >= 165.0
        assert not begins(hands.session, hands.now()), "it is to be read"
        while temp_c(hands) >= 165.0:
            hands.clock.advance(5)
        assert begins(hands.session, hands.now())
        assert view(hands.session, hands.now()).set_burst_s
        hands.press()
        assert burst_of(hands).heating

    def test_read_just_under_the_band_it_is_not_called_hot_enough(self) -> None:
        hands = read_between()
        hands.read(164.0)
        if hands.session.doubted is not None:
            hands.read(164.0)
        assert temp_c(hands) < 165.0
        assert burst_to_set_s(hands.session, hands.now())

    def test_the_clock_of_the_heating_goes_on(self) -> None:
        hands = read_between()
        before_s = drive.remaining_s(hands.session, hands.now())
        hands.press()
        assert drive.remaining_s(hands.session, hands.now()) == pytest.approx(before_s)

    def test_a_whole_heating_is_told(self) -> None:
        hands = read_between()
        hands.clock.advance(5)
        hands.press()
        words = [each.words for each in story(hands.session.job, hands.events)]
        assert words[-3].startswith("the body cup went on the heat for ")
        assert words[-2] == "the body cup was read"
        assert words[-1].startswith("the body cup went back on the heat for ")


def test_it_is_done_by_hand_only_with_a_word_for_its_cup() -> None:
    hands = waiting("r4.heat.body")
    assert isinstance(drive.insist(hands.session, hands.now()), HeatBegun)
    hands.happen(StepDone(at=hands.now(), step="r4.heat.body", by=Ending.HAND, as_it_is=True))
    assert hands.session.step.kind is StepKind.SHOT


def test_a_reading_of_another_cup_changes_nothing_of_it() -> None:
    hands = waiting("m1.warm-up1.heat.side_b", Build.LAMINATE)
    hands.happen(CupRead(at=hands.now(), part=Part.SIDE_A, temp_c=160.0))
    assert hands.session.waits_to_begin
    assert not any(cup.heating for cup in view(hands.session, hands.now()).cups)
