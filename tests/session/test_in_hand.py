"""Which cup a figure is taken to be of."""

from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Build, Part
from bench.session import drive
from bench.session.asking import Asked, asks_first
from bench.session.events import CupRead, MouldRead
from bench.session.in_hand import cups_in_hand, other_than
from bench.session.warmth import with_cup
from tests.session.bench_sessions import Maker, maker, placed


def at_a_shot_of_two() -> Maker:
    hands = maker(Build.LAMINATE)
    hands.walk_to("r1.shot.shot")
    return hands


def with_b_at(hands: Maker, temp_c: float) -> Maker:
    hands.session = placed(hands.session, hands.now(), cup_c=170)
    known = hands.session.cups[Part.SIDE_B]
    hands.session = with_cup(hands.session, Part.SIDE_B, replace(known, temp_c=temp_c))
    return hands


def about(hands: Maker) -> Part:
    reading = drive.reading(hands.session, 0.0, hands.now())
    assert isinstance(reading, CupRead)
    return reading.part


def test_a_shot_of_two_cups_takes_a_figure_for_the_one_in_question() -> None:
    hands = at_a_shot_of_two()
    assert about(with_b_at(hands, 170.0)) is Part.SIDE_A
    for temp_c, asked in ((41.0, Asked.SOLID), (140.0, Asked.COLD), (186.0, Asked.HOT)):
        with_b_at(hands, temp_c)
        assert asks_first(hands.session, hands.now()) is asked
        assert about(hands) is Part.SIDE_B


def test_a_figure_that_is_asked_for_again_is_of_the_same_cup() -> None:
    hands = at_a_shot_of_two()
    hands.happen(CupRead(at=hands.now(), part=Part.SIDE_B, temp_c=20.0))
    assert hands.session.doubted is not None
    assert about(hands) is Part.SIDE_B


def test_the_other_cup_follows_round_and_round() -> None:
    hands = with_b_at(at_a_shot_of_two(), 140.0)
    first = drive.reading(hands.session, 12.0, hands.now())
    second = drive.other_reading(hands.session, first, hands.now())
    assert second == CupRead(at=hands.now(), part=Part.SIDE_A, temp_c=12.0)
    assert drive.other_reading(hands.session, second, hands.now()) == first


def test_a_figure_of_a_mould_becomes_one_of_the_cup() -> None:
    hands = with_b_at(at_a_shot_of_two(), 140.0)
    of_mould = MouldRead(at=hands.now(), temp_c=55.0)
    assert drive.other_reading(hands.session, of_mould, hands.now()) == CupRead(
        at=hands.now(), part=Part.SIDE_B, temp_c=55.0
    )


def test_one_cup_alone_has_no_other() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    assert cups_in_hand(hands.session, hands.now()) == (Part.BODY,)
    reading = drive.reading(hands.session, 0.0, hands.now())
    assert drive.other_reading(hands.session, reading, hands.now()) == reading
    assert other_than(Part.BODY, ()) is None
