"""A hot scorched cup that stays on the heater: nothing else is heated before the maker says that it is out.

43 °C is the burn threshold of ISO 13732-1:2006 for 8 h and any material (from memory); that one heater heats one
cup is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from bench.errors import IllegalMove
from bench.model.recipe import Build, Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.aside import OldCup, old_cup
from bench.session.asking import INSISTED, Asked, asks_first
from bench.session.events import (
    CupRead,
    HeatBegun,
    SkipReason,
    StepDone,
    StepSkipped,
    StopReason,
    StopRequested,
    WentBack,
)
from bench.session.step import Ending
from bench.session.story import story
from bench.session.view import view
from tests.session.bench_sessions import Maker, maker
from tests.session.test_overheated import acknowledged, scorched

BARE_C = 43.0


def left_standing() -> Maker:
    """At the weighing of the new cup, the old one hot on the heater."""
    hands = acknowledged(scorched())
    hands.happen(drive.insist(hands.session, hands.now()))
    assert hands.session.step.kind is StepKind.WEIGH
    return hands


def at_the_heat() -> Maker:
    hands = left_standing()
    hands.clock.advance(120)
    hands.press()
    assert hands.session.step.id == "r1.heat.body"
    return hands


def old(hands: Maker) -> OldCup:
    found = old_cup(hands.session, hands.now())
    assert found is not None
    return found


def test_the_new_heat_waits_for_the_maker_whatever_the_clock_says() -> None:
    hands = at_the_heat()
    length_s = hands.session.step.length_s
    for _ in range(3):
        seen = view(hands.session, hands.now())
        assert seen.remaining_s == pytest.approx(length_s)
        assert seen.burst is None
        assert seen.cups[0].temp_c is None
        assert seen.is_held_up
        assert "can be lifted out" in seen.step.do
        hands.clock.advance(200)
        assert not hands.tick()


def test_the_old_cup_is_tracked_until_the_new_one_is_on() -> None:
    hands = left_standing()
    first = old(hands)
    assert first.temp_c > 180
    assert first.left_s is not None
    assert not first.holds_up
    hands.clock.advance(first.left_s / 2)
    half = old(hands)
    assert half.temp_c < first.temp_c
    assert half.left_s == pytest.approx(first.left_s / 2, rel=0.02)
    hands.clock.advance(first.left_s / 2 + 5)
    assert old(hands).temp_c == pytest.approx(BARE_C, abs=0.5)
    hands.press()
    hands.press()
    assert old_cup(hands.session, hands.now()) is None


def test_the_key_asks_while_the_old_cup_is_hot_and_then_begins_the_heat() -> None:
    hands = at_the_heat()
    assert asks_first(hands.session, hands.now()) is Asked.OLD_HOT
    assert Asked.OLD_HOT not in INSISTED
    left_s = old(hands).left_s
    assert left_s is not None
    hands.clock.advance(left_s + 5)
    assert asks_first(hands.session, hands.now()) is Asked.COOLED
    hands.read(BARE_C - 3)
    assert asks_first(hands.session, hands.now()) is None
    assert drive.forward(hands.session, hands.now()) == HeatBegun(at=hands.now(), step="r1.heat.body")
    hands.press()
    seen = view(hands.session, hands.now())
    assert seen.step.id == "r1.heat.body"
    assert seen.burst is not None
    assert seen.burst.heating
    assert seen.remaining_s == pytest.approx(hands.session.step.length_s)
    assert not seen.is_held_up
    assert "old cup" not in seen.step.do
    hands.finish_step()
    assert hands.session.step.id == "r1.shot.shot"


def test_a_figure_meanwhile_is_one_of_the_old_cup() -> None:
    hands = at_the_heat()
    hands.read(170.0)
    assert not hands.tick(), "the old cup's figure ends no heating"
    assert old(hands).temp_c == 170.0
    assert Part.BODY not in hands.session.cups
    assert hands.session.alarm is None
    told = [each.words for each in story(hands.session.job, hands.events)]
    assert told[-1] == "the old body cup was read"


def in_celsius_on_a_us_bench(true_c: float, hands: Maker) -> CupRead:
    """What the thermometer shows in degC, typed into a field for degF (NIST SP 811, appendix B.8)."""
    return CupRead(at=hands.now(), part=Part.BODY, temp_c=(true_c - 32) / 1.8, typed_in=UnitSystem.US)


@pytest.mark.parametrize("begin", [left_standing, at_the_heat])
@pytest.mark.parametrize("true_c", [121.0, 99.0, 70.0, 55.0])
def test_a_figure_on_the_other_scale_does_not_call_a_hot_old_cup_cool(
    begin: Callable[[], Maker], true_c: float
) -> None:
    hands = begin()
    while old(hands).temp_c > true_c:
        hands.clock.advance(20)
    before_c = old(hands).temp_c
    hands.happen(in_celsius_on_a_us_bench(round(true_c), hands))
    assert not old(hands).is_read
    assert old(hands).temp_c == pytest.approx(before_c)
    doubt = view(hands.session, hands.now(), UnitSystem.US).doubt
    assert doubt is not None
    assert doubt.expected is not None
    assert doubt.expected.temp_c == pytest.approx(before_c, abs=0.1)
    assert doubt.suggestion is not None
    assert doubt.suggestion.value_c == pytest.approx(true_c)
    meant = drive.accept_suggestion(hands.session, hands.now(), UnitSystem.US)
    assert meant is not None
    hands.happen(meant)
    assert hands.session.doubted is None
    assert old(hands).temp_c == pytest.approx(true_c)
    assert not old(hands).is_read


def test_a_figure_far_from_the_old_cups_estimate_is_asked_about_once() -> None:
    hands = left_standing()
    hands.read(BARE_C - 3)
    assert not old(hands).is_read
    assert asks_first(hands.session, hands.now()) is Asked.DOUBT
    hands.read(BARE_C - 3)
    assert old(hands).is_read


def test_a_doubted_figure_of_the_old_cup_is_none_of_the_new_one() -> None:
    hands = at_the_heat()
    hands.read(BARE_C - 3)
    assert hands.session.doubted is not None
    hands.press()
    assert hands.session.doubted is None


def test_it_is_not_done_before_it_has_begun_nor_begun_twice() -> None:
    hands = at_the_heat()
    with pytest.raises(IllegalMove, match="has not begun"):
        hands.happen(StepDone(at=hands.now(), step="r1.heat.body", by=Ending.HAND))
    hands.press()
    with pytest.raises(IllegalMove, match="begun already"):
        hands.happen(HeatBegun(at=hands.now(), step="r1.heat.body"))
    assert [each.words for each in story(hands.session.job, hands.events)][
        -1
    ] == "the new body cup went on the heat"


def test_it_can_be_left_out_for_a_reason() -> None:
    hands = at_the_heat()
    hands.happen(StepSkipped(at=hands.now(), step="r1.heat.body", reason=SkipReason.NO_TIME))
    assert asks_first(hands.session, hands.now()) is Asked.SOLID


def test_what_follows_is_expected_no_sooner_than_the_old_cup_is_out() -> None:
    hands = left_standing()
    weighing = view(hands.session, hands.now())
    shot = next(each for each in weighing.coming if each.step.id == "r1.shot.shot")
    left_s = old(hands).left_s
    assert left_s is not None
    assert shot.in_s > left_s
    waiting = at_the_heat()
    left_s = old(waiting).left_s
    assert left_s is not None
    assert view(waiting.session, waiting.now()).coming[0].in_s > left_s


def test_a_burst_on_a_timer_asks_too_and_its_press_begins_it() -> None:
    hands = maker(Build.CORE, count=20)
    hands.walk_to("r2.heat.shell.on")
    for _ in range(2):
        hands.happen(CupRead(at=hands.now(), part=Part.SHELL, temp_c=212.0))
    acknowledged(hands)
    hands.happen(drive.insist(hands.session, hands.now()))
    hands.press()
    assert hands.session.step.id == "r2.heat.shell.on"
    assert asks_first(hands.session, hands.now()) is Asked.OLD_HOT
    hands.press()
    assert old_cup(hands.session, hands.now()) is None
    assert hands.session.cups[Part.SHELL].bursting


def test_taken_back_the_old_cup_is_the_present_one_again() -> None:
    hands = left_standing()
    hands.happen(WentBack(at=hands.now()))
    assert old_cup(hands.session, hands.now()) is None
    assert asks_first(hands.session, hands.now()) is Asked.SCORCHED


def test_the_closing_reminds_of_it() -> None:
    hands = at_the_heat()
    hands.press()
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    assert "Leave the scorched cup where it is" in view(hands.session, hands.now()).step.do
    hands.walk_to("clean")
    assert view(hands.session, hands.now()).step.do.endswith(
        "The old scorched cup: once it is cold, throw it away as your local rules say."
    )


def test_the_closing_says_nothing_of_one_that_was_read_cool_and_is_out() -> None:
    hands = at_the_heat()
    left_s = old(hands).left_s
    assert left_s is not None
    hands.clock.advance(left_s + 5)
    hands.read(BARE_C - 3)
    hands.press()
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    assert "scorched" not in view(hands.session, hands.now()).step.do
    hands.walk_to("clean")
    assert "scorched" not in view(hands.session, hands.now()).step.do


def test_the_closing_of_any_other_session_does_not() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("clean")
    assert "old" not in view(hands.session, hands.now()).step.do
