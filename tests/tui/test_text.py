from __future__ import annotations

import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cached_cell_len, cell_len

from bench.tui.text import clean, columns_of, cut, join, wrap


@pytest.mark.parametrize(
    ("hostile", "shown"),
    [
        ("\x1b[2Jgone", "␛[2Jgone"),
        ("\x9b2J", "�2J"),
        ("a\x7fb", "a␡b"),
        ("two\nlines\tand tabs", "two lines and tabs"),
        ("evil\u202etxt", "evil�txt"),
        ("zero\u200bwidth", "zero�width"),
        ("lone\ud800half", "lone�half"),
        ("[@click=app.quit]x[/]", "[@click=app.quit]x[/]"),
    ],
)
def test_what_a_terminal_would_obey_is_made_visible(hostile: str, shown: str) -> None:
    assert clean(hostile) == shown


@given(st.text())
def test_nothing_that_a_terminal_obeys_passes_the_gate(text: str) -> None:
    passed = clean(text)
    assert len(passed) <= 200
    assert not any(ord(character) < 32 or 127 <= ord(character) < 160 for character in passed)
    passed.encode()


def test_piles_of_accents_are_cut_to_three() -> None:
    assert clean("a" + "\u0335" * 500) == "a" + "\u0335" * 3


def test_long_text_is_cut_with_a_mark() -> None:
    assert clean("x" * 1000, limit=10) == "x" * 9 + "…"


@pytest.mark.parametrize("first", range(0, sys.maxunicode, 0x1000))
def test_columns_are_counted_as_the_library_counts_them(first: int) -> None:
    letters = [chr(code) for code in range(first, first + 0x1000)]
    assert [letter for letter in letters if columns_of(letter) != cell_len(letter)] == []


@given(st.text("aé漢█\u0301 "))
def test_columns_of_a_text_too(text: str) -> None:
    assert columns_of(text) == cell_len(text)


def test_what_is_wrapped_is_not_kept_by_the_library() -> None:
    measured = cached_cell_len.cache_info().misses
    assert len(wrap("Heat the core cup in bursts to 165 °C – stir it, read it … and 4:37 ▄▀█", 20)) > 3
    assert cached_cell_len.cache_info().misses == measured


@given(st.text(), st.integers(min_value=1, max_value=60))
def test_a_cut_text_fits(text: str, width: int) -> None:
    assert cell_len(cut(clean(text), width)) <= width


def test_cutting_says_that_something_is_left_out() -> None:
    assert cut("Ember under Peat", 10) == "Ember und…"
    assert cut("Ember", 10) == "Ember"
    assert cut("Ember", 0) == ""
    assert cut("漢字漢字", 5) == "漢字…"


@given(st.text(alphabet="ab 漢-", max_size=80), st.integers(min_value=2, max_value=30))
def test_wrapped_text_fits_and_loses_nothing(text: str, width: int) -> None:
    rows = wrap(text, width)
    assert all(cell_len(row) <= width for row in rows)
    assert "".join("".join(rows).split()) == "".join(text.split())


def test_wrapping_breaks_between_words() -> None:
    assert wrap("Hold the plunger", 9) == ("Hold the", "plunger")
    assert wrap("", 9) == ()
    assert wrap("abc", 0) == ()


def test_joining_leaves_out_what_is_empty() -> None:
    assert join(("a", "", "b")) == "a · b"
