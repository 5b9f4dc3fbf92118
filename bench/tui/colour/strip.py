"""The strip: every colour of the bait as a field with its label, the cup beside the bait so that each is seen."""

from __future__ import annotations

from bench.tui.colour.bait import Bait, Tint
from bench.tui.colour.cells import Row, fitted, rows_of
from bench.tui.colour.depth import Depth
from bench.tui.colour.facts import fields
from bench.tui.colour.pictures import swatch
from bench.tui.text import wrap
from bench.tui.widgets.lines import Piece, Tone

GAP = 1


def strip_rows(bait: Bait, width: int, height: int, depth: Depth) -> tuple[Row, ...]:
    """So many rows: the labels, their hex where there is room, and the fields under them."""
    shown = fields(bait)
    each = (width - GAP * (len(shown) - 1)) // len(shown)
    if each < 2 or height < 2:
        return ()
    heads = _heads(shown, each, width)[: height - 1]
    codes = [Piece(text=tint.hex.ljust(each), tone=Tone.QUIET) for _, tint in shown]
    if height > len(heads) + 1 and each >= len("#rrggbb"):
        heads.append(_joined(codes, width))
    down = height - len(heads)
    pictures = [rows_of(swatch(tint, each, down, depth)) for _, tint in shown]
    return (*heads, *(_beside([picture[row] for picture in pictures], width) for row in range(down)))


def _heads(shown: tuple[tuple[str, Tint], ...], each: int, width: int) -> list[Row]:
    """The labels, in two rows where one does not hold every word."""
    broken = [wrap(label + ("*" if tint.clipped else ""), each) for label, tint in shown]
    rows = 1 if all(len(lines) == 1 for lines in broken) else 2
    return [
        _joined([Piece(text=(lines[row] if row < len(lines) else "").ljust(each)) for lines in broken], width)
        for row in range(rows)
    ]


def _joined(pieces: list[Piece], width: int) -> Row:
    return _beside([(piece,) for piece in pieces], width)


def _beside(cells: list[Row], width: int) -> Row:
    row: Row = ()
    for number, cell in enumerate(cells):
        row = (*row, *((Piece(text=" " * GAP),) if number else ()), *cell)
    return fitted(row, width)
