"""The board: what is sent to the terminal is what changed, and all of what changed."""

from __future__ import annotations

from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from textual.app import App, ComposeResult
from textual.geometry import Region
from textual.pilot import Pilot
from textual.strip import Strip
from textual.widget import Widget

import bench.tui
from bench.tui import theme
from bench.tui.widgets.board import Board, regions_changed
from bench.tui.widgets.lines import FILLED, Line, Piece, Tone
from tests.tui.running import until

WIDTH, HEIGHT = 24, 6
PIECES = st.builds(
    Piece, text=st.text("ab█漢 ", max_size=8), tone=st.sampled_from([Tone.PLAIN, Tone.TITLE, Tone.ALARM])
)
ROWS = st.lists(st.lists(PIECES, max_size=3).map(tuple), min_size=HEIGHT, max_size=HEIGHT).map(tuple)


def cells(row: Line) -> list[tuple[str, Tone]]:
    """What stands in each column of the window: a wide character in the first of its two."""
    ground = row[-1].tone if row and row[-1].tone in FILLED else Tone.PLAIN
    shown = [
        each
        for piece in row
        for letter in piece.text
        for each in [(letter, piece.tone), ("", piece.tone)][: cell_len(letter)]
    ]
    return (shown + [(" ", ground)] * WIDTH)[:WIDTH]


def columns(region: Region) -> Iterator[tuple[int, int]]:
    yield from ((x, y) for y in region.line_range for x in region.column_range)


@given(before=ROWS, after=ROWS)
def test_whatever_changed_is_painted_and_no_row_that_did_not(
    before: tuple[Line, ...], after: tuple[Line, ...]
) -> None:
    painted = [each for region in regions_changed(before, after, WIDTH) for each in columns(region)]
    assert len(painted) == len(set(painted)), "nothing is painted twice"
    for y, (old, new) in enumerate(zip(before, after, strict=True)):
        changed = {(x, y) for x, pair in enumerate(zip(cells(old), cells(new), strict=True)) if len(set(pair)) > 1}
        assert changed <= set(painted)
        if old == new:
            assert not any(row == y for _, row in painted)


class Bare(App[None]):
    """An app of nothing but a board."""

    CSS_PATH = Path(bench.tui.__file__).with_name("pour.tcss")

    def __init__(self) -> None:
        super().__init__()
        theme.register(self)
        self.board = Board()

    def compose(self) -> ComposeResult:
        yield self.board


SHOWN: tuple[Line, ...] = (
    (Piece(text="plain "), Piece(text="title", tone=Tone.TITLE)),
    (),
    (Piece(text="漢 wider than the window: " * 4, tone=Tone.CAUTION),),
    (Piece(text="stop", tone=Tone.ALARM),),
    (Piece(text="████", hex="#a04020"), Piece(text=" a patch")),
)


@asynccontextmanager
async def shown() -> AsyncIterator[Bare]:
    app = Bare()
    async with app.run_test(size=(40, len(SHOWN) + 2)):
        await until(lambda: app.board.size.width)
        app.board.show(SHOWN)
        yield app


def same(ours: list[Strip], theirs: list[Strip]) -> bool:
    return [each.simplify() for each in ours] == [each.simplify() for each in theirs]


@pytest.mark.parametrize("no_color", [False, True])
async def test_rows_are_what_textual_would_make_of_them(no_color: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if no_color:
        monkeypatch.setenv("NO_COLOR", "1")
    async with shown() as app:
        for crop in (Region(0, 0, 40, 7), Region(0, 2, 40, 3), Region(3, 1, 20, 4)):
            ours = app.board.render_lines(crop)
            assert [strip.cell_length for strip in ours] == [crop.width] * crop.height
            assert same(ours, Widget.render_lines(app.board, crop))


async def test_another_theme_is_drawn_anew() -> None:
    async with shown() as app:
        whole = app.board.size.region
        before = app.board.render_lines(whole)
        theme.switch(app)
        await until(lambda: not same(app.board.render_lines(whole), before))
        assert same(app.board.render_lines(whole), Widget.render_lines(app.board, whole))


async def test_another_window_is_drawn_anew() -> None:
    async with shown() as app:
        app.board.render_lines(app.board.size.region)
        await Pilot(app).resize_terminal(60, 9)
        await until(lambda: app.board.size.width == 60)
        whole = app.board.size.region
        assert [strip.cell_length for strip in app.board.render_lines(whole)] == [60] * 9


async def test_a_row_that_changed_is_drawn_anew() -> None:
    async with shown() as app:
        whole = app.board.size.region
        app.board.render_lines(whole)
        app.board.show((SHOWN[0], (Piece(text="new"),), *SHOWN[2:]))
        assert app.board.render_lines(whole)[1].text.rstrip() == "new"
        app.board.show(SHOWN[:2])
        assert app.board.render_lines(whole)[3].text.strip() == ""


async def test_what_is_painted_is_not_noted_for_ever() -> None:
    async with shown() as app:
        for width in range(1, 30):
            app.board.show((SHOWN[0], (Piece(text="x" * width),), *SHOWN[2:]))
            app.board.render_lines(app.board.size.region)
        assert not app.board._dirty_regions
