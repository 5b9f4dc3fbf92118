"""What is large beside the words instead of between them: a wide and low window has no rows to spare."""

from __future__ import annotations

from collections.abc import Sequence

from bench.tui.widgets.blocks import Drawing, drawings
from bench.tui.widgets.font import TALL
from bench.tui.widgets.lines import BLANK, FILLED, Line, Piece, Tone, line, width_of

LEAST_WORDS = 72
"""Columns that the words keep: fewer would cost them rows, and those are short already."""

WHOLE_WORDS = 120
"""Columns in which every key has its place in one row: what is large may stand beside the keys too."""

GAP = 4
"""Empty columns between the words and what is large."""

FIGURE = "000_"
"""As wide as what is typed becomes: it keeps its place and its size while it is."""


def larger_beside(
    text: str, between: Sequence[Line], room: int, height: int, *, words: int = LEAST_WORDS
) -> Drawing | None:
    """The largest drawing of the text within so many rows that leaves so many columns for the words; None where it
    is no larger than ``between``, the rows that the text would have between them."""
    columns = room - words - GAP
    widest = TALL.dots_wide(FIGURE) if text.endswith("_") else 0
    drawn = (each for each in drawings(text, columns) if widest * each.scale <= columns)
    fitting = [each for each in drawn if len(each.lines) <= height]
    if not fitting:
        return None
    best = max(fitting, key=lambda each: each.halves_high)
    rows_between = tuple("".join(piece.text for piece in row) for row in between)
    have = next((each for each in drawings(text, room, small=True) if each.lines == rows_between), None)
    return best if have is None or best.halves_high > have.halves_high else None


def beside(words: Sequence[Line], drawing: Drawing, tone: Tone, *, at: int, columns: int) -> tuple[Line, ...]:
    """The rows of words with the drawing right of so many columns, from the row ``at`` on or as low as it fits."""
    top = max(0, min(at, len(words) - len(drawing.lines)))
    drawn = (*(BLANK,) * top, *(line(each, tone) for each in drawing.lines), *(BLANK,) * len(words))
    return tuple(_joined(left, right, columns) for left, right in zip(words, drawn, strict=False))


def _joined(left: Line, right: Line, columns: int) -> Line:
    if not right:
        return left
    # A filled row stays one block; the gap behind it is empty, but for what is filled all over.
    pad = Piece(text=" " * (columns - width_of(left)), tone=_ground(left))
    return (*left, pad, Piece(text=" " * GAP, tone=_ground(right)), *right)


def _ground(row: Line) -> Tone:
    return row[-1].tone if row and row[-1].tone in FILLED else Tone.PLAIN
