"""A cup that did not rise on the heat: it is asked whether the heater was on, and nothing is learnt of it.

Kelvins and watts are those of the tests' own bench; the bounds are starting values, common practice, no source.
"""

from __future__ import annotations

import pytest

from bench.model.recipe import Build, Part
from bench.session import drive
from bench.session.bursts import Leg, bounded
from bench.session.planned import LONGER_THAN_PROFILE
from bench.session.rises import did_not_rise
from bench.session.view import view
from tests.session.bench_sessions import Maker, maker


def on_the_heat(at_c: float = 145.0) -> Maker:
    """A plain cup in its heating, read at that temperature after its first burst."""
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    wait_for_the_burst(hands)
    hands.read(at_c)
    return hands


def wait_for_the_burst(hands: Maker) -> None:
    """Until the next burst is over, and a moment to stir."""
    hands.put_on()
    burst = view(hands.session, hands.now()).burst
    assert burst is not None
    hands.clock.advance(burst.left_s + 5.0)


def test_a_fall_after_a_burst_is_asked_about_and_not_believed() -> None:
    hands = on_the_heat()
    wait_for_the_burst(hands)
    hands.read(140.0)
    doubt = view(hands.session, hands.now()).doubt
    assert doubt is not None
    assert doubt.did_not_rise
    assert hands.session.cup_readings[-1].temp_c == 145.0


def test_a_fresh_cup_that_stayed_at_the_room_is_asked_about() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    wait_for_the_burst(hands)
    hands.read(21.0)
    doubt = view(hands.session, hands.now()).doubt
    assert doubt is not None
    assert doubt.did_not_rise


def test_a_rise_is_believed_even_a_small_one() -> None:
    hands = on_the_heat()
    wait_for_the_burst(hands)
    hands.read(149.0)
    assert hands.session.doubted is None


def test_a_fall_off_the_heat_is_no_question_of_the_heater() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    hands.clock.advance(60)
    reading = drive.reading(hands.session, 165.0, hands.now())
    assert not did_not_rise(hands.session, reading)


@pytest.mark.parametrize("by_key", [True, False], ids=["yes", "read again"])
def test_answered_either_way_it_is_believed_and_teaches_nothing(by_key: bool) -> None:
    hands = on_the_heat()
    before = hands.session.corrections
    wait_for_the_burst(hands)
    hands.read(140.0)
    if by_key:
        answered = drive.accept_suggestion(hands.session, hands.now())
        assert answered is not None
        hands.happen(answered)
    else:
        hands.read(140.0)
    assert hands.session.doubted is None
    assert hands.session.cup_readings[-1].temp_c == 140.0
    assert hands.session.cups[Part.BODY].temp_c == pytest.approx(140.0)
    assert hands.session.corrections.heater == before.heater


def test_what_is_read_in_its_place_teaches_nothing_either() -> None:
    hands = on_the_heat()
    before = hands.session.corrections
    wait_for_the_burst(hands)
    hands.read(140.0)
    hands.read(158.0)
    assert hands.session.cup_readings[-1].temp_c == 158.0
    assert hands.session.corrections.heater == before.heater


def test_a_heater_that_was_off_all_along_lengthens_no_burst() -> None:
    hands = on_the_heat()
    hands.put_on()
    usual = view(hands.session, hands.now()).burst
    assert usual is not None
    for temp_c in (140.0, 134.0, 128.0, 122.0):
        wait_for_the_burst(hands)
        hands.read(temp_c)
        hands.read(temp_c)
    hands.put_on()
    again = view(hands.session, hands.now()).burst
    assert again is not None
    per_k = usual.left_s / (170.0 - 145.0)
    assert again.left_s <= LONGER_THAN_PROFILE * per_k * (170.0 - 122.0) * 1.05


def test_a_heater_that_seems_weak_lengthens_a_burst_by_no_more_than_half() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    first = view(hands.session, hands.now()).burst
    assert first is not None
    wait_for_the_burst(hands)
    hands.read(60.0)
    heater = hands.session.corrections.heater
    assert heater is not None
    assert heater.value < 0.62 * heater.profile, "weaker than what a burst may be lengthened for"
    following_s = view(hands.session, hands.now()).set_burst_s
    assert following_s is not None
    assert following_s <= LONGER_THAN_PROFILE * first.left_s * (170.0 - 60.0) / (170.0 - 20.0) * 1.05


def test_bursts_beyond_the_usual_ones_are_bounded_by_the_last_of_them() -> None:
    def legs(*seconds: float) -> tuple[Leg, ...]:
        return tuple(Leg(heating=True, seconds=s, number=n) for n, s in enumerate(seconds, start=1))

    stir = Leg(heating=False, seconds=12.0, number=1)
    kept = bounded((legs(100.0)[0], stir, *legs(9.0, 20.0)), legs(40.0, 8.0), factor=1.5)
    assert [leg.seconds for leg in kept] == [60.0, 12.0, 9.0, 12.0]


def test_a_cup_that_lost_more_than_reckoned_and_was_then_heated_is_not_asked_about() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    hands.clock.advance(900)
    hands.happen(drive.back(hands.session, hands.now()))
    hands.put_on()
    burst = view(hands.session, hands.now()).burst
    assert burst is not None
    hands.clock.advance(burst.left_s + 5.0)
    seen = view(hands.session, hands.now()).cups[0].temp_c
    assert seen is not None
    assert not did_not_rise(hands.session, drive.reading(hands.session, seen - 15.0, hands.now()))
