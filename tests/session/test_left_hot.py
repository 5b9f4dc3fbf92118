"""What is hot when the work is over: cups full or empty, filled moulds.

43 °C is the burn threshold of ISO 13732-1:2006 for 8 h and any material (from memory).
"""

from __future__ import annotations

from bench.model.recipe import Build, Part
from bench.model.step_kind import StepKind
from bench.session.events import Aborted, StopReason, StopRequested
from bench.session.left_hot import hot_cups, moulds_left_filled
from bench.session.view import view
from tests.session.bench_sessions import Maker, maker
from tests.session.test_aside import at_the_heat

BARE_C = 43.0


def at_kind(kind: StepKind, build: Build = Build.PLAIN) -> Maker:
    hands = maker(build, warm_up_shots=0)
    hands.press()
    while hands.session.step.kind is not kind:
        hands.finish_step()
    return hands


def stopped(hands: Maker, step_id: str) -> Maker:
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    hands.walk_to(step_id)
    return hands


def test_hot_cups_are_left_until_they_are_cool() -> None:
    hands = at_kind(StepKind.PURGE_AIR)
    hands.press()
    seen = view(hands.session, hands.now())
    (cup,) = seen.in_hand.hot
    assert (cup.part, cup.is_old) == (Part.BODY, False)
    assert cup.temp_c > BARE_C
    assert cup.left_s is not None
    assert "Leave hot cups" in seen.step.do
    hands.clock.advance(cup.left_s + 5)
    seen = view(hands.session, hands.now())
    assert not seen.in_hand.hot
    assert seen.step.do.startswith("Clean injectors, nozzles and cups.")


def test_the_old_cup_is_one_of_them() -> None:
    hands = at_the_heat()
    assert [each.is_old for each in hot_cups(hands.session, hands.now())] == [True]
    hands.press()
    assert any(each.is_old for each in hot_cups(hands.session, hands.now())), "out is not yet cool"


def test_a_filled_mould_is_left_filled_until_it_is_opened() -> None:
    hands = at_kind(StepKind.SET)
    hands.happen(Aborted(at=hands.now(), reason=StopReason.DANGER))
    (mould,) = moulds_left_filled(hands.session, hands.now())
    assert mould.number == 0
    assert mould.temp_c > hands.session.job.station.room.temperature_c
    assert list(hot_cups(hands.session, hands.now()))
    opened = at_kind(StepKind.HEAT_OFF)
    assert not list(moulds_left_filled(opened.session, opened.now()))


def test_nothing_is_laid_out_nor_cured_where_nothing_was_made() -> None:
    hands = stopped(at_kind(StepKind.HEAT), "lay-out")
    seen = view(hands.session, hands.now())
    assert seen.step.title == "Nothing to lay out"
    assert seen.next_step is not None
    assert seen.next_step.title == "Nothing to cure"
    hands.walk_to("cure")
    told = view(hands.session, hands.now()).step
    assert told.title == "Nothing to cure"
    assert "pack" not in told.do
    made = stopped(at_kind(StepKind.LOOK_AT_BAITS), "lay-out")
    assert view(made.session, made.now()).step.title == "Lay out and label"


def test_shells_whose_core_does_not_come_any_more_do_not_wait_for_it() -> None:
    hands = at_kind(StepKind.TRIM, Build.CORE)
    hands.clock.advance(hands.session.job.station.shell_out_s + 60)
    assert view(hands.session, hands.now()).shells_out
    seen = view(stopped(hands, "purge-air").session, hands.now())
    assert not seen.shells_out
    assert not [each for each in seen.warnings if "shells" in each.kind.value]
