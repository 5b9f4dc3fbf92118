"""The sheet of variants: up to nine baits, a digit each."""

from __future__ import annotations

from bench.colour.window import TINT_AT_LEAST, VISIBLE_AT_LEAST
from bench.model.recipe import Tail
from bench.plan.look_words import shown
from bench.tui.colour.cells import EMPTY, Row, beside, fitted, rows_of
from bench.tui.colour.depth import Depth
from bench.tui.colour.desk import Sheet
from bench.tui.colour.facts import fields
from bench.tui.colour.naming import colour_words
from bench.tui.colour.pictures import side_view
from bench.tui.colour.predict import Variant
from bench.tui.text import clean, cut
from bench.tui.widgets.lines import Piece, Tone, line

ACROSS = 3
GAP = 2


def sheet_rows(sheet: Sheet, width: int, height: int, depth: Depth) -> tuple[Row, ...]:
    """Exactly so many rows: what is what, and the variants in three columns."""
    down = -(-len(sheet.found) // ACROSS)
    each, room = (height - 1) // down, (width - GAP * (ACROSS - 1)) // ACROSS
    if each < 1 or room < 1:
        return (EMPTY,) * height
    rows: list[Row] = [line(cut(_heading(sheet), width), Tone.QUIET)]
    for first in range(0, len(sheet.found), ACROSS):
        cells = [
            (_cell(number + 1, variant, sheet.tail, room, each, depth), room)
            for number, variant in list(enumerate(sheet.found))[first : first + ACROSS]
        ]
        rows += beside(cells, gap=GAP)
    return (*rows, *(EMPTY,) * height)[:height]


def _heading(sheet: Sheet) -> str:
    if sheet.found[0].recipe.build.has_core:
        return f"Tail {sheet.tail}. The number is times the shell's load, then whose core."
    return "The number is times the present load."


def _cell(number: int, variant: Variant, tail: Tail, width: int, height: int, depth: Depth) -> tuple[Row, ...]:
    """One variant in exactly that room: its digit and words, its picture, its numbers."""
    head: Row = (
        Piece(text=f"{number} ", tone=Tone.KEY),
        Piece(text=cut(short_title(clean(variant.says), width - 2), max(0, width - 2)), tone=Tone.PLAIN),
    )
    foot = line(cut(_numbers(variant), width), Tone.QUIET)
    down = height - 2 - (height > 4)
    if down < 1:
        return (head, foot)[:height]
    picture = _words(variant, tail, width) if depth is Depth.NONE else _picture(variant, tail, width, down, depth)
    padded = (*picture, *(EMPTY,) * down)[:down]
    return (*(fitted(row, width) for row in (head, *padded, foot)), *(EMPTY,) * height)[:height]


def short_title(says: str, room: int) -> str:
    """A variant's words so that what is its own is seen: a long name by its first and last word."""
    if len(says) <= room:
        return says
    factor, _, core = says.partition(" ")
    words = core.split()
    return f"{factor} {words[0]} … {words[-1]}" if len(words) > 2 else f"{factor} {core}"


def _picture(variant: Variant, tail: Tail, width: int, down: int, depth: Depth) -> tuple[Row, ...]:
    bait = variant.predicted.bait
    if bait is None:
        return ()
    return rows_of(side_view(bait, min(width, 7 * down), down, depth, tail=tail))


def _words(variant: Variant, tail: Tail, width: int) -> tuple[Row, ...]:
    """The colours that its picture would show, a line each."""
    bait = variant.predicted.bait
    if bait is None:
        return ()
    unseen = "tail kept" if tail is Tail.CUT else "tail cut"
    shown = [pair for pair in fields(bait) if not pair[0].endswith(("cup", unseen))]
    # What changes most from one to the next comes first.
    ordered = sorted(shown, key=lambda pair: not pair[0].endswith(("over core", "tail cut")))
    return tuple(line(cut(f"{label}: {colour_words(tint.hex)}", width)) for label, tint in ordered)


def _numbers(variant: Variant) -> str:
    look = variant.predicted.look
    side = look.worst if look is not None else None
    if look is None or side is None:
        return ""
    whose = f"{side.side.words[-1]} " if len(look.sides) > 1 else ""
    if side.core_visibility is None or side.shell_tint is None:
        return "" if side.contrast_ratio is None else f"{whose}hides {100 * side.contrast_ratio:.0f} %"
    shows, tints = shown(side.core_visibility, VISIBLE_AT_LEAST), shown(side.shell_tint, TINT_AT_LEAST)
    return f"{whose}shows {shows}, tints {tints}"
