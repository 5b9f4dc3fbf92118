"""When the one key asks first."""

from __future__ import annotations

from bench.model.recipe import Build
from bench.session.asking import Asked, asks_first
from bench.session.events import Held
from tests.session.bench_sessions import Maker, maker


def at(step_id: str) -> Maker:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to(step_id)
    return hands


def test_a_cup_without_a_reading_in_its_band_is_asked_about() -> None:
    hands = at("r1.heat.body")
    assert asks_first(hands.session, hands.now()) is Asked.NO_READING
    hands.clock.advance(150)
    hands.read(150)
    assert asks_first(hands.session, hands.now()) is Asked.NO_READING


def test_a_doubted_reading_is_asked_about_wherever_it_stands() -> None:
    hands = at("r1.shot.shot")
    hands.read(60)
    assert asks_first(hands.session, hands.now()) is Asked.DOUBT


def test_a_mould_that_has_not_set_is_asked_about_until_it_has() -> None:
    hands = at("r1.shot.set")
    assert asks_first(hands.session, hands.now()) is Asked.EARLY
    hands.clock.advance(1000)
    assert asks_first(hands.session, hands.now()) is None


def test_the_air_is_asked_about_until_it_is_purged() -> None:
    hands = at("purge-air")
    assert asks_first(hands.session, hands.now()) is Asked.EARLY


def test_work_by_hand_goes_on_at_once() -> None:
    for step_id in ("ready", "r1.shot.shot", "r1.shot.open", "r1.look", "clean"):
        hands = at(step_id)
        assert asks_first(hands.session, hands.now()) is None


def test_a_held_session_only_goes_on() -> None:
    hands = at("r1.shot.set")
    hands.happen(Held(at=hands.now()))
    assert asks_first(hands.session, hands.now()) is None
