"""What is asked about a reading that is doubted."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.session import drive
from bench.session.doubt import Doubt
from bench.session.events import CupRead
from bench.session.readings import Expected
from bench.session.view import View, view
from bench.tui import present
from bench.tui.pour.doubt_words import brief_doubt, doubt_words
from bench.tui.pour.frame import frame
from bench.tui.pour.keys import USUAL
from bench.tui.pour.moment import Moment
from bench.tui.pour.picture import picture
from bench.tui.pour.reading_words import reading_said
from tests.session.test_aside import left_standing
from tests.tui.at_the_bench import at, at_step
from tests.tui.pour.pictures import METRIC, US
from tests.tui.pour.shown import whole_text

C, F = UnitSystem.METRIC, UnitSystem.US


def doubting(expected: Expected | None, read_c: float = 340.0) -> View:
    session, now = at_step("r1.heat.shell")
    reading = CupRead(at=at(now), part=Part.SHELL, temp_c=read_c)
    return replace(view(session, at(now)), doubt=Doubt(reading=reading, expected=expected, suggestion=None))


def test_without_a_doubt_nothing_is_asked() -> None:
    session, now = at_step("r1.heat.shell")
    assert doubt_words(view(session, at(now)), C) == ()


@pytest.mark.parametrize(
    ("expected", "units", "says"),
    [
        (Expected(temp_c=118.0, range_c=(105.0, 131.0)), C, "about 118 °C was expected (105 to 131)."),
        # 118 °C is 244.4 °F, 105 °C is 221 °F and 131 °C 267.8 °F: NIST SP 811, appendix B.
        (Expected(temp_c=118.0, range_c=(105.0, 131.0)), F, "about 244 °F was expected (221 to 268)."),
        (Expected(temp_c=118.0, range_c=None), C, "about 118 °C was expected."),
        (Expected(temp_c=45.0, range_c=None, at_least=True), C, "45 °C or more was expected."),
        (None, C, "nothing here is that hot."),
    ],
)
def test_what_was_expected_is_told_as_far_as_it_helps(
    expected: Expected | None, units: UnitSystem, says: str
) -> None:
    first = doubt_words(doubting(expected), units)[0]
    assert first.endswith(f" was typed for the shell cup; {says}")


def test_what_is_colder_than_a_room_is_called_so() -> None:
    assert doubt_words(doubting(None, read_c=-40.0), C)[0].endswith("nothing here is that cold.")


def test_what_nothing_can_be_is_said_of_the_thermometer_and_never_to_be_believed() -> None:
    session, now = at_step("r1.heat.shell")
    for _ in range(2):
        session = session.after(drive.reading(session, -10.0, at(now)))
        seen = view(session, at(now))
        assert doubt_words(seen, C) == (
            "-10 °C was typed for the shell cup; nothing here is that cold: check the thermometer.",
            "Read it again and type what you see: digits, Enter.",
        )
        assert brief_doubt(seen, C) == ("-10 °C for the shell cup? Check the thermometer.",)


@pytest.mark.parametrize("size", [(60, 14), (80, 24)])
def test_an_alarm_beyond_what_a_cup_can_be_says_so_of_the_thermometer_too(size: tuple[int, int]) -> None:
    session, now = at_step("r1.heat.shell")
    for _ in range(2):
        session = session.after(drive.reading(session, 400.0, at(now)))
    assert session.alarm is not None
    rows = frame(picture(session, at(now), METRIC), *size).rows
    text = " ".join(whole_text(rows).split())
    assert "reads 400 °C" in text
    assert "check the thermometer." in text


@pytest.mark.parametrize("size", [(40, 12), (60, 14), (80, 24)])
def test_the_figure_that_yes_takes_stands_in_every_window(size: tuple[int, int]) -> None:
    session, now = at_step("r1.heat.shell")
    # 151 °C typed where degF is wanted is 304 °F: NIST SP 811, appendix B.
    doubted = session.after(drive.reading(session, (151 - 32) / 1.8, at(now)))
    assert doubted.doubted is not None
    meant = drive.accept_suggestion(doubted, at(now), F)
    assert isinstance(meant, CupRead)
    rows = frame(picture(doubted, at(now), US), *size).rows
    text = whole_text(rows)
    assert re.search(rf"(Was it|it was) {present.temperature(meant.temp_c, F)}", text)
    assert "Y:" in text


def test_a_cup_that_did_not_rise_is_asked_about_in_the_smallest_window_too() -> None:
    seen = doubting(None, read_c=140.0)
    assert seen.doubt is not None
    brief = brief_doubt(replace(seen, doubt=replace(seen.doubt, did_not_rise=True)), C)
    assert [USUAL.words(row) for row in brief] == [
        "140 °C: it did not rise.",
        "Y: the heater was off. Or read again.",
    ]


def test_an_old_cup_is_asked_about_as_the_old_one() -> None:
    hands = left_standing()
    cool = CupRead(at=hands.now(), part=Part.BODY, temp_c=37.0, typed_in=UnitSystem.METRIC)
    said = reading_said(cool, Moment(session=hands.session, now=hands.now(), units=UnitSystem.METRIC, pace=1.0))
    assert said == "Old body cup: 37 °C is not taken yet."
    hands.happen(cool)
    words = doubt_words(view(hands.session, hands.now()), UnitSystem.METRIC)
    assert words[0].startswith("37 °C was typed for the old body cup; about ")


def test_no_heat_goes_off_for_an_old_cup() -> None:
    hands = left_standing()
    hands.happen(CupRead(at=hands.now(), part=Part.BODY, temp_c=320.0))
    doubt = view(hands.session, hands.now()).doubt
    assert doubt is not None
    assert not doubt.heat_off
