"""Coloured cells: what pictures are made of, before they reach a widget."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from rich.cells import cell_len

from bench.tui.text import cut
from bench.tui.widgets.lines import Piece

UPPER, LOWER, FULL = "▀", "▄", "█"
"""Half blocks: two square dots to a cell, one above the other."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Cell:
    """One character of a picture. ``fore`` and ``ground`` are hex colours, None for the screen's own."""

    char: str = " "
    fore: str | None = None
    ground: str | None = None


Grid = tuple[tuple[Cell, ...], ...]
"""A picture: rows of cells, all rows of one length."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Patch:
    """Some text in colours of its own: a run of cells that look alike."""

    text: str
    fore: str | None = None
    ground: str | None = None


Row = tuple[Piece | Patch, ...]
"""One row of the colour screen: words in tones, pictures in colours."""

EMPTY: Row = ()


def row_of(cells: tuple[Cell, ...]) -> Row:
    """A row of a picture, its like neighbours joined."""
    # Grouped twice: cells of one kind are one object, which costs nothing to compare.
    runs = [(cell, cell.char * len(tuple(run))) for cell, run in groupby(cells)]
    return tuple(
        Patch(text="".join(text for _, text in joined), fore=fore, ground=ground)
        for (fore, ground), joined in groupby(runs, key=lambda run: (run[0].fore, run[0].ground))
    )


def rows_of(grid: Grid) -> tuple[Row, ...]:
    """A picture as rows."""
    return tuple(row_of(cells) for cells in grid)


def two_dots(above: str | None, below: str | None) -> Cell:
    """The cell with these two colours one above the other; None is a dot without colour."""
    if above is None and below is None:
        return Cell()
    if above == below:
        return Cell(char=FULL, fore=above, ground=above)
    if above is None:
        return Cell(char=LOWER, fore=below)
    return Cell(char=UPPER, fore=above, ground=below)


def text_of(row: Row) -> str:
    """The characters of a row."""
    return "".join(piece.text for piece in row)


def width_of(row: Row) -> int:
    """The columns that a row takes."""
    return sum(cell_len(piece.text) for piece in row)


def fitted(row: Row, width: int) -> Row:
    """The row at exactly that width: cut, or filled with spaces."""
    room = width
    kept: list[Piece | Patch] = []
    for piece in row:
        text = cut(piece.text, room)
        if text:
            kept.append(_with_text(piece, text))
            room -= cell_len(text)
        if text != piece.text:
            break
    return (*kept, Piece(text=" " * room)) if room else tuple(kept)


def _with_text(piece: Piece | Patch, text: str) -> Piece | Patch:
    if isinstance(piece, Patch):
        return Patch(text=text, fore=piece.fore, ground=piece.ground)
    return Piece(text=text, tone=piece.tone)


def beside(blocks: list[tuple[tuple[Row, ...], int]], *, gap: int = 2) -> tuple[Row, ...]:
    """Blocks of rows side by side, each at the width given with it, as high as the highest."""
    height = max((len(rows) for rows, _ in blocks), default=0)
    joined: list[Row] = []
    for place in range(height):
        row: list[Piece | Patch] = []
        for number, (rows, width) in enumerate(blocks):
            if number:
                row.append(Piece(text=" " * gap))
            row += fitted(rows[place] if place < len(rows) else EMPTY, width)
        joined.append(tuple(row))
    return tuple(joined)
