from __future__ import annotations

import pytest

from bench.tui.widgets.blocks import drawings, largest
from bench.tui.widgets.font import SMALL, TALL, Font
from tests.tui.at_the_bench import session_of


@pytest.mark.parametrize("text", ["1:05", "+12:05", "1:02:05", "16_", "HOLD THE PLUNGER"])
def test_a_drawing_fits_every_size_there_is_room_for(text: str) -> None:
    for width in range(1, 121):
        for height in range(1, 121):
            drawing = largest(text, width, height)
            if drawing is not None:
                assert len(drawing.lines) <= height
                assert {len(line) for line in drawing.lines} <= set(range(1, width + 1))


def test_digits_grow_with_the_window() -> None:
    scales = [largest("12:05", width, height).scale for width, height in ((26, 4), (80, 24), (200, 60))]  # type: ignore[union-attr]
    assert scales == [1, 3, 7]


def test_where_nothing_fits_there_is_no_drawing() -> None:
    assert largest("12:05", 20, 10) is None
    assert largest("12:05", 80, 3) is None
    assert largest("", 80, 24) is None


def test_a_foreign_character_is_not_drawn_as_something_else() -> None:
    assert drawings("É\x1b[2J", 200) == ()


def test_a_paragraph_is_left_to_plain_text_in_the_largest_window() -> None:
    assert drawings("THEN LET THE LAST OF IT COOL", 300)
    assert drawings("LEAVE THE MOULD CLOSED AND UPRIGHT.", 300) == ()


def test_one_dot_is_one_cell_wide_and_half_a_cell_high() -> None:
    drawing = largest("1", 5, 4)
    assert drawing is not None
    assert drawing.lines == (" ▄█  ", "  █  ", "  █  ", " ▀▀▀ ")


def test_words_break_between_lines_and_stay_apart() -> None:
    drawing = drawings("AA BB", 14)[0]
    assert len(drawing.lines) == 8
    assert drawings("AAAA", 14) == ()


def test_the_small_alphabet_serves_where_the_tall_one_takes_more_rows() -> None:
    title = "HEAT THE SHELL CUP"
    assert [len(drawing.lines) for drawing in drawings(title, 76)][:1] == [8]
    assert [len(drawing.lines) for drawing in drawings(title, 76, small=True)][:2] == [3, 8]


@pytest.mark.parametrize("font", [TALL, SMALL])
def test_every_character_has_rows_of_one_width(font: Font) -> None:
    for rows in font.glyphs.values():
        assert len(rows) == font.height
        assert len({len(row) for row in rows}) == 1


def test_the_tall_alphabet_is_as_fine_as_iso_9241_3_asks() -> None:
    # ISO 9241-3:1992, 6.2.3 [M]: a character matrix of at least 5 by 7 where figures are read for legibility.
    for character in "023456789ABCDEFGHKLMNOPQRSTUVWXYZ":
        assert (len(TALL.glyphs[character][0]), TALL.height) == (5, 7), character


def test_no_two_digits_look_alike() -> None:
    for font in (TALL, SMALL):
        assert len({font.glyphs[digit] for digit in "0123456789"}) == 10


@pytest.mark.parametrize("recipe", ["peat-plain", "dusk-and-dawn", "ember-under-peat", "ember-between-banks"])
def test_every_title_of_a_session_can_be_drawn(recipe: str) -> None:
    for step in session_of(recipe).job.script:
        assert TALL.can_draw(step.title.upper()), step.title
        assert SMALL.can_draw(step.title.upper()), step.title


def test_lines_that_repeat_are_kept_once() -> None:
    drawing = largest("12:05", 200, 60)
    assert drawing is not None
    assert drawing.scale > 4
    assert len({id(line) for line in drawing.lines}) == len(set(drawing.lines)) < len(drawing.lines)
