from __future__ import annotations

import pytest

from bench.session.asking import Asked
from bench.session.events import MouldRead
from bench.tui.pour.entry import (
    Entry,
    Figure,
    Leaving,
    Nothing,
    Noting,
    Reason,
    Sure,
    Tails,
    Why,
    number,
    rubbed_out,
    with_digit,
    with_point,
    without_step,
)
from tests.tui.at_the_bench import at

FIGURE = Figure(about=MouldRead(at=at(0), temp_c=0.0))


def test_digits_make_a_number() -> None:
    typed = with_digit(with_digit(with_digit(FIGURE, 1), 7), 0)
    assert typed.typed == "170"
    assert number(typed) == 170


def test_nothing_typed_is_no_number() -> None:
    assert number(FIGURE) is None
    assert number(rubbed_out(with_digit(FIGURE, 4))) is None


def test_a_figure_stays_short() -> None:
    typed: Figure | Tails = FIGURE
    for _ in range(50):
        typed = with_digit(typed, 9)
    assert typed.typed == "9999"
    assert isinstance(typed, Figure)
    assert with_digit(with_digit(with_point(typed), 4), 5).typed == "9999.4"


def test_a_figure_has_tenths_and_one_point() -> None:
    """Thermometers show tenths (common practice, no source): 33.5 is never 335."""
    begun = with_digit(with_digit(FIGURE, 3), 3)
    assert isinstance(begun, Figure)
    whole = with_point(begun)
    assert number(whole) == 33
    assert with_point(whole) == whole
    assert number(with_digit(whole, 5)) == 33.5
    assert number(with_point(FIGURE)) is None
    assert rubbed_out(whole) == begun


def test_rubbing_out_nothing_changes_nothing() -> None:
    assert rubbed_out(FIGURE) == FIGURE
    assert rubbed_out(Tails(typed="12")) == Tails(typed="1")


@pytest.mark.parametrize("entry", [Sure(why=Asked.EARLY, step="r1.shell.set", asked=at(0)), Reason(why=Why.SKIP)])
def test_a_question_about_a_step_goes_with_it(entry: Entry) -> None:
    assert without_step(entry) == Nothing()


@pytest.mark.parametrize("entry", [FIGURE, Tails(typed="1"), Noting(), Leaving(), Reason(why=Why.STOP), Nothing()])
def test_what_is_about_more_than_a_step_outlives_it(entry: Entry) -> None:
    assert without_step(entry) is entry
