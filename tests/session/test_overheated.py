"""A cup over its scorch limit: no burst, no lesson, and words that say to let it cool and to judge it.

The words are common practice, no source; the limit is the tests' own plastic's, 190 degC, never a safe limit.
"""

from __future__ import annotations

from bench.model.recipe import Build
from bench.session import drive
from bench.session.view import view
from tests.session.bench_sessions import Maker, maker


def scorched(at_c: float = 212.0) -> Maker:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(60)
    hands.read(120.0)
    hands.clock.advance(40)
    hands.read(at_c)
    return hands


def acknowledged(hands: Maker) -> Maker:
    event = drive.acknowledge(hands.session, hands.now())
    assert event is not None
    hands.happen(event)
    return hands


def bursts_left(hands: Maker) -> bool:
    seen = view(hands.session, hands.now()).burst
    return seen is not None and (seen.heating or seen.next_burst_s is not None)


def test_the_heater_learns_nothing_from_it_nor_from_the_reading_after() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(60)
    hands.read(212.0)
    assert hands.session.corrections.heater is None
    acknowledged(hands)
    hands.clock.advance(30)
    hands.read(178.0)
    assert hands.session.corrections.cup_loss is None


def test_the_step_then_says_to_let_it_cool_and_to_judge_it() -> None:
    hands = acknowledged(scorched())
    told = view(hands.session, hands.now()).step
    assert told.id == "r1.heat.body"
    assert told.do.startswith("Off the heat. Ventilate. Let it cool into the band")
    assert "throw that cup away outdoors" in told.do
    assert not bursts_left(hands)


def test_it_stays_so_while_it_is_over_the_band_and_long_after() -> None:
    hands = acknowledged(scorched())
    hands.clock.advance(60)
    hands.read(180.0)
    assert "throw that cup away" in view(hands.session, hands.now()).step.do
    hands.clock.advance(400)
    assert not bursts_left(hands), "the estimate alone plans none"


def test_under_the_band_it_is_heated_again() -> None:
    hands = acknowledged(scorched())
    hands.clock.advance(300)
    hands.read(150.0)
    if hands.session.doubted is not None:
        hands.read(150.0)
    assert bursts_left(hands)
    assert "Off the heat" not in view(hands.session, hands.now()).step.do


def test_over_the_band_and_under_the_limit_it_only_cools() -> None:
    hands = scorched(180.0)
    assert hands.session.alarm is None
    told = view(hands.session, hands.now()).step
    assert "no more heat" in told.do
    assert "throw" not in told.do
