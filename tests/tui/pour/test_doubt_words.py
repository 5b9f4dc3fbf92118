"""What is asked about a reading that is doubted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.session.doubt import Doubt
from bench.session.events import CupRead
from bench.session.readings import Expected
from bench.session.view import View, view
from bench.tui.pour.doubt_words import doubt_words
from tests.tui.at_the_bench import at, at_step

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
