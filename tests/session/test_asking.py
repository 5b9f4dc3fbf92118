"""When the one key asks first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Part
from bench.session import drive
from bench.session.asking import INSISTED, Asked, asks_first, may_be_taken, solid_c
from bench.session.events import Held, WentBack
from bench.session.warmth import with_cup
from tests.session.bench_sessions import Maker, maker, placed


def at(step_id: str) -> Maker:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to(step_id)
    return hands


def test_a_cup_without_a_reading_in_its_band_is_asked_about() -> None:
    hands = at("r1.heat.body")
    assert asks_first(hands.session, hands.now()) is Asked.UNREAD
    hands.clock.advance(150)
    hands.read(180)
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
    for step_id in ("ready", "r1.shot.shot", "r1.shot.open", "clean"):
        hands = at(step_id)
        assert asks_first(hands.session, hands.now()) is None


def test_shells_and_baits_that_nobody_judged_are_asked_about() -> None:
    hands = maker(Build.CORE)
    hands.walk_to("r1.look-at-shells")
    assert asks_first(hands.session, hands.now()) is Asked.NO_VERDICT
    assert Asked.NO_VERDICT not in INSISTED, "a second press passes it"
    verdict = drive.verdict(hands.session, 3, hands.now())
    assert verdict is not None
    hands.happen(verdict)
    assert asks_first(hands.session, hands.now()) is None
    hands.walk_to("r1.look")
    assert asks_first(hands.session, hands.now()) is Asked.NO_VERDICT
    verdict = drive.verdict(hands.session, 1, hands.now())
    assert verdict is not None
    hands.happen(verdict)
    assert asks_first(hands.session, hands.now()) is None
    hands.walk_to("r2.look-at-shells")
    assert asks_first(hands.session, hands.now()) is Asked.NO_VERDICT, "those of round 1 were judged, not these"


def test_a_held_session_only_goes_on() -> None:
    hands = at("r1.shot.set")
    hands.happen(Held(at=hands.now()))
    assert asks_first(hands.session, hands.now()) is None


class TestACupThatNobodyLookedInto:
    def test_a_cup_not_read_since_its_burst_and_under_its_band_is_insisted_on(self) -> None:
        hands = at("r1.heat.body")
        hands.clock.advance(20)
        assert asks_first(hands.session, hands.now()) is Asked.UNREAD
        assert Asked.UNREAD in INSISTED

    def test_a_doubted_reading_is_none(self) -> None:
        hands = at("r1.heat.body")
        hands.clock.advance(20)
        hands.read(170)
        assert hands.session.doubted is not None
        assert asks_first(hands.session, hands.now()) is Asked.UNREAD

    def test_one_in_its_band_by_the_estimate_is_asked_about_as_before(self) -> None:
        hands = at("r1.heat.body")
        hands.clock.advance(600)
        session = placed(hands.session, hands.now(), cup_c=170)
        assert asks_first(session, hands.now()) is Asked.NO_READING
        assert Asked.NO_READING not in INSISTED

    def test_a_reading_from_before_this_heating_is_none_of_it(self) -> None:
        hands = at("r2.heat.body")
        assert hands.session.cups[Part.BODY].measured is not None
        session = placed(hands.session, hands.now(), cup_c=140)
        assert asks_first(session, hands.now()) is Asked.UNREAD

    def test_a_shot_of_what_does_not_flow_is_insisted_on(self) -> None:
        hands = at("r1.shot.shot")
        gel_c = hands.session.job.plastic.gel_c
        solid = placed(hands.session, hands.now(), cup_c=27)
        assert asks_first(solid, hands.now()) is Asked.SOLID
        assert solid_c(solid, hands.now()) == 27
        assert Asked.SOLID in INSISTED
        flowing = placed(hands.session, hands.now(), cup_c=gel_c + 1)
        assert asks_first(flowing, hands.now()) is Asked.COLD

    def test_a_cup_that_was_never_heated_is_as_cold_as_the_room(self) -> None:
        hands = at("r1.shot.shot")
        room_c = hands.session.job.station.room.temperature_c
        assert solid_c(replace(hands.session, cups={}), hands.now()) == room_c

    @pytest.mark.parametrize(("cup_c", "asked"), [(158.0, Asked.COLD), (174.0, None), (182.0, Asked.HOT)])
    def test_a_shot_come_back_to_asks_like_any_other(self, cup_c: float, asked: Asked | None) -> None:
        """The band is the tests' own plastic's, 160 to 180 degC."""
        hands = at("r1.shot.shot")
        hands.happen(WentBack(at=hands.now()))
        hands.clock.advance(60)
        hands.read(170)
        hands.press()
        first = placed(hands.session, hands.now(), cup_c=cup_c)
        assert asks_first(first, hands.now()) is asked
        *before, here = first.visits
        again = replace(first, visits=(*before, replace(here, revisited=True)))
        assert asks_first(again, hands.now()) is asked

    def test_a_vague_estimate_under_the_band_is_asked_about_all_the_same(self) -> None:
        hands = at("r1.shot.shot")
        low_c = hands.session.job.plastic.band_c[0]
        session = placed(hands.session, hands.now(), cup_c=low_c - 2)
        vague = with_cup(session, Part.BODY, replace(session.cups[Part.BODY], drift_k=12.0))
        assert asks_first(vague, hands.now()) is Asked.COLD
        *before, here = session.visits
        again = replace(session, visits=(*before, replace(here, revisited=True)))
        barely = placed(again, hands.now(), cup_c=low_c - 0.5)
        assert asks_first(barely, hands.now()) is Asked.COLD, "what the screen calls under its band is asked about"

    def test_what_was_read_solid_is_not_talked_liquid(self) -> None:
        hands = at("r1.shot.shot")
        solid = placed(hands.session, hands.now(), cup_c=41)
        assert not may_be_taken(solid, Asked.SOLID, hands.now())
        unread = with_cup(solid, Part.BODY, replace(solid.cups[Part.BODY], measured=None))
        assert may_be_taken(unread, Asked.SOLID, hands.now())
        assert may_be_taken(solid, Asked.UNREAD, hands.now())
