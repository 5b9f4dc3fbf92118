"""A cup that was over its scorch limit stands until it is cool: by the estimate, a reading, or the maker's word.

43 °C is the burn threshold of ISO 13732-1:2006 for 8 h and any material (from memory); that a scorched cup is left
where it is until it is cold is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import INSISTED, Asked, asks_first
from bench.session.cooldown import CoolDown, cool_down
from bench.session.events import CupRead, CupThrown, StopReason, StopRequested
from bench.session.session import Session, State
from bench.session.view import view
from bench.session.warned import WarningKind
from tests.session.bench_sessions import Maker, maker, placed

BARE_C = 43.0


def scorched(at_c: float = 250.0) -> Maker:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(100)
    hands.read(at_c)
    event = drive.acknowledge(hands.session, hands.now())
    assert event is not None
    hands.happen(event)
    return hands


def cooling(hands: Maker) -> CoolDown:
    found = cool_down(hands.session, hands.now())
    assert found is not None
    return found


def left_s(hands: Maker) -> float:
    left = cooling(hands).left_s
    assert left is not None
    return left


def test_no_other_cup_has_to_cool() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    assert cool_down(hands.session, hands.now()) is None


def test_it_is_cool_by_the_estimate_when_it_was_said_to_be() -> None:
    hands = scorched()
    first = left_s(hands)
    assert first > 600
    hands.clock.advance(first / 2)
    assert left_s(hands) == pytest.approx(first / 2, rel=0.01)
    hands.clock.advance(first / 2)
    assert view(hands.session, hands.now()).cups[0].temp_c == pytest.approx(BARE_C, abs=0.5)


def test_the_hotter_it_was_the_longer_it_takes() -> None:
    assert left_s(scorched(250.0)) > left_s(scorched(200.0))


def test_a_room_warmer_than_that_never_cools_it() -> None:
    hands = scorched()
    station = hands.session.job.station
    warm = replace(station, room=replace(station.room, temperature_c=BARE_C))
    session = replace(hands.session, job=replace(hands.session.job, station=warm))
    found = cool_down(session, hands.now())
    assert found is not None
    assert found.left_s is None
    assert asks_first(session, hands.now()) is Asked.SCORCHED


def test_the_one_key_never_answers_while_it_is_hot() -> None:
    hands = scorched()
    assert asks_first(hands.session, hands.now()) is Asked.SCORCHED
    assert Asked.SCORCHED in INSISTED
    hands.clock.advance(left_s(hands) - 5)
    assert asks_first(hands.session, hands.now()) is Asked.SCORCHED


def test_what_is_cool_by_the_estimate_alone_is_still_asked_about() -> None:
    hands = scorched()
    hands.clock.advance(left_s(hands) + 5)
    assert asks_first(hands.session, hands.now()) is Asked.COOLED
    assert Asked.COOLED not in INSISTED


def test_a_cool_reading_ends_the_wait_at_once() -> None:
    hands = scorched()
    hands.clock.advance(left_s(hands) * 0.9)
    hands.read(BARE_C - 1)
    assert cooling(hands) == CoolDown(part=Part.BODY, left_s=0.0, is_read=True)
    assert asks_first(hands.session, hands.now()) is None
    assert isinstance(drive.forward(hands.session, hands.now()), CupThrown)


def test_one_that_cannot_be_is_read_twice_as_any_other() -> None:
    hands = scorched()
    hands.read(BARE_C - 1)
    assert asks_first(hands.session, hands.now()) is Asked.SCORCHED
    hands.read(BARE_C - 1)
    assert asks_first(hands.session, hands.now()) is None


@pytest.mark.parametrize("true_c", [121.0, 99.0, 70.0, 55.0])
def test_a_figure_on_the_other_scale_does_not_call_a_hot_cup_cool(true_c: float) -> None:
    """Degrees Celsius typed into a field for degF (NIST SP 811, appendix B.8)."""
    hands = scorched()
    while view(hands.session, hands.now()).cups[0].temp_c > true_c:  # type: ignore[operator]
        hands.clock.advance(20)
    typed_c = (true_c - 32) / 1.8
    hands.happen(CupRead(at=hands.now(), part=Part.BODY, temp_c=typed_c, typed_in=UnitSystem.US))
    assert not cooling(hands).is_read
    doubt = view(hands.session, hands.now(), UnitSystem.US).doubt
    assert doubt is not None
    assert doubt.suggestion is not None
    assert doubt.suggestion.value_c == pytest.approx(true_c)


def test_a_reading_that_is_not_cool_only_puts_the_estimate_right() -> None:
    hands = scorched()
    hands.clock.advance(left_s(hands) + 5)
    hands.read(60.0)
    assert asks_first(hands.session, hands.now()) is Asked.SCORCHED


def stopped(hands: Maker) -> Session:
    return hands.session.after(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_PLASTIC))


def test_nobody_is_kept_there() -> None:
    hands = scorched()
    session = stopped(hands)
    assert session.state is State.STOPPING
    assert asks_first(session, hands.now()) is None


def test_the_closing_leaves_the_hot_cup_where_it_is() -> None:
    hands = scorched()
    told = view(stopped(hands), hands.now()).step
    assert told.kind is StepKind.HEAT_OFF
    assert "Leave the scorched cup where it is until it is cold" in told.do
    usual = maker(Build.PLAIN, warm_up_shots=0)
    usual.walk_to("heat-off")
    assert "scorched" not in view(usual.session, usual.now()).step.do


def test_the_rest_of_the_session_waits_for_it() -> None:
    hands = scorched()
    waits_s = left_s(hands)
    rest_s = view(hands.session, hands.now()).rest_s
    thrown = hands.session.after(CupThrown(at=hands.now(), part=Part.BODY))
    assert rest_s == pytest.approx(view(thrown, hands.now()).rest_s + waits_s, abs=120)
    assert rest_s > waits_s


def test_the_mould_is_called_cold_only_once_it_must_be_warmed_for_the_new_cup() -> None:
    hands = scorched()
    warm_s = max(step.length_s for step in hands.session.job.script if step.kind is StepKind.WARM_MOULD)

    def seen() -> tuple[float, bool]:
        """Until the shot, and whether the mould is called cold."""
        told = view(placed(hands.session, hands.now(), mould_c=25.0), hands.now())
        shot_s = next(each.in_s for each in told.coming if each.step.id == "r1.shot.shot")
        return shot_s, WarningKind.MOULD_COLD in {each.kind for each in told.warnings}

    shot_s, is_cold = seen()
    assert shot_s > warm_s
    assert not is_cold
    hands.clock.advance(left_s(hands) + 5)
    shot_s, is_cold = seen()
    assert is_cold is (shot_s <= warm_s)
    hands.read(BARE_C - 1)
    hands.press()
    while hands.session.step.id != "r1.heat.body":
        hands.press()
    assert seen()[1]
