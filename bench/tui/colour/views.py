"""The right of the colour screen: the bait from its side with its tail kept and cut, and cut across."""

from __future__ import annotations

from bench.model.recipe import Tail
from bench.tui.colour.bait import Bait
from bench.tui.colour.cells import Row, beside, fitted, rows_of
from bench.tui.colour.depth import Depth
from bench.tui.colour.facts import whole_words
from bench.tui.colour.pictures import cross_section, side_view
from bench.tui.text import wrap
from bench.tui.widgets.lines import Piece, Tone, line

ROWS_PER_COLUMN = 0.16
"""Height over width, in cells, that a view from the side can use: body and the swing of its tail."""

LEAST_CUT, MOST_CUT = 8, 48
"""Columns of the cut face."""

LEAST_PAIR = 8
"""Rows in which a kept and a cut tail can both be seen; below, T shows one after the other."""

LEAST_BELOW = 6
"""Rows under the views from the side in which a cut face is worth drawing."""


def picture_rows(bait: Bait, width: int, height: int, depth: Depth) -> tuple[Row, ...]:
    """At most so many rows: pictures, or their words where there are no colours."""
    if width < 1 or height < 1:
        return ()
    if depth is Depth.NONE:
        return _words(bait, width, height)
    both = bait.core is not None and bait.has_tail
    below = height - (2 if both else 1) * (1 + round(width * ROWS_PER_COLUMN))
    if below > LEAST_BELOW:
        sides = _sides(bait, width, height - below, depth)
        return (*sides, *_cut_face(bait, min(2 * (below - 1), width), depth))[:height]
    round_wide = min(2 * (height - 1), width * 3 // 10)
    if round_wide < LEAST_CUT:
        return _sides(bait, width, height, depth)
    room = width - round_wide - 2
    face = _cut_face(bait, round_wide, depth)
    return beside([(_sides(bait, room, height, depth), room), (face, round_wide)])[:height]


def _cut_face(bait: Bait, width: int, depth: Depth) -> tuple[Row, ...]:
    """A label and a face as wide as that, half as many rows high."""
    columns = min(width, MOST_CUT)
    face = rows_of(cross_section(bait, columns, columns // 2, depth))
    return (_label("slice", width), *face)


def _sides(bait: Bait, width: int, height: int, depth: Depth) -> tuple[Row, ...]:
    if bait.core is None or not bait.has_tail:
        label = "from the side" if bait.core is None else "over the core"
        return _one(bait, label, width, height, depth, bait.tail)
    if height < LEAST_PAIR:
        return _one(bait, f"tail {bait.tail}", width, height, depth, bait.tail)
    below, aside = height // 2, (width - 2) // 2
    stacked = min(width, int((below - 1) / ROWS_PER_COLUMN))
    if stacked >= min(aside, int((height - 1) / ROWS_PER_COLUMN)):
        kept = _one(bait, _named(bait, Tail.KEPT), width, below, depth, Tail.KEPT)
        cut = _one(bait, _named(bait, Tail.CUT), width, below, depth, Tail.CUT)
        return (*kept, *cut)
    pair = [(_one(bait, _named(bait, tail), aside, height, depth, tail), aside) for tail in (Tail.KEPT, Tail.CUT)]
    return beside(pair)


def _named(bait: Bait, tail: Tail) -> str:
    return f"tail {tail}, as planned" if tail is bait.tail else f"tail {tail}"


def _one(bait: Bait, label: str, width: int, height: int, depth: Depth, tail: Tail) -> tuple[Row, ...]:
    """A label and a view as large as it can be in that room."""
    rows = min(height - 1, max(1, round(width * ROWS_PER_COLUMN)))
    columns = min(width, max(8, round(rows / ROWS_PER_COLUMN)))
    if rows < 1:
        return (_label(label, width),)
    return (_label(label, width), *rows_of(side_view(bait, columns, rows, depth, tail=tail)))


def _label(text: str, width: int) -> Row:
    return fitted((Piece(text=text, tone=Tone.QUIET),), width)


def _words(bait: Bait, width: int, height: int) -> tuple[Row, ...]:
    rows: list[Row] = []
    for text in whole_words(bait):
        tone = Tone.QUIET if text.endswith(":") else Tone.PLAIN
        first, *rest = wrap(text, max(8, width - 2))
        rows += [line(first, tone), *(line(f"  {more}", tone) for more in rest)]
    if len(rows) > height:
        return (*rows[: height - 1], line("… W: all of it", Tone.KEY))
    return tuple(rows)
