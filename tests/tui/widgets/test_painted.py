"""A painted row is what Textual's own strip is, and stays in memory no longer than it is wanted."""

from __future__ import annotations

import sys

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cached_cell_len
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from bench.tui.widgets.painted import PaintedRow

WIDTH = 24
TEXTS = st.text("ab█▄漢 ", max_size=8)
STYLES = st.sampled_from([None, Style(bold=True)])
SEGMENTS = st.lists(st.tuples(TEXTS, STYLES).map(lambda made: Segment(*made)), max_size=4)
COLUMN = st.integers(min_value=0, max_value=WIDTH)


def rows(segments: list[Segment]) -> tuple[PaintedRow, Strip]:
    theirs = Strip(segments).adjust_cell_length(WIDTH)
    return PaintedRow(theirs, WIDTH), theirs


def letters(row: Strip) -> list[tuple[str, Style | None]]:
    return [(letter, segment.style) for segment in row for letter in segment.text]


@given(segments=SEGMENTS, start=COLUMN, end=COLUMN | st.none())
def test_a_part_is_what_textual_would_cut_out(segments: list[Segment], start: int, end: int | None) -> None:
    ours, theirs = (row.crop(start, end) for row in rows(segments))
    assert letters(ours) == letters(theirs)
    assert ours.cell_length == theirs.cell_length == sum(segment.cell_length for segment in ours)


@given(segments=SEGMENTS, cuts=st.sets(st.integers(min_value=1, max_value=WIDTH + 2), min_size=1))
def test_it_is_divided_as_textual_would_divide_it(segments: list[Segment], cuts: set[int]) -> None:
    ours, theirs = (row.divide(sorted(cuts)) for row in rows(segments))
    assert [letters(part) for part in ours] == [letters(part) for part in theirs]


def test_being_painted_it_keeps_neither_itself_nor_its_text() -> None:
    row = PaintedRow([Segment("  "), Segment("█▀ 4:37 · 165 °C – …"), Segment("  ")], WIDTH)
    references, measured = sys.getrefcount(row), cached_cell_len.cache_info().currsize
    (whole,) = row.divide([WIDTH])
    assert whole is row
    row.crop(0, 22)
    del whole
    assert sys.getrefcount(row) == references
    assert cached_cell_len.cache_info().currsize == measured
