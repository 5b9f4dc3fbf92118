"""The widget that paints a frame of lines, and repaints only the rows that have changed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from bench.tui.widgets.lines import FILLED, Line, Piece, Tone, width_of
from bench.tui.widgets.painted import PaintedRow

MOST_PAINTED = 64
"""Rows that are kept as they were drawn: large figures draw the same ones again and again."""


class Board(Widget):
    """A surface of rows. It holds the last frame it was given and decides nothing."""

    COMPONENT_CLASSES = {f"board--{tone}" for tone in Tone}  # noqa: RUF012 - Textual's own kind of class attribute

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[Line, ...] = ()
        self._drawn: dict[int, PaintedRow] = {}
        self._drawn_for: tuple[int, Color, Sequence[LineFilter]] | None = None
        self._painted_row = lru_cache(maxsize=MOST_PAINTED)(self._paint)

    @property
    def text(self) -> str:
        """The rows as plain text, for people and tests."""
        return "\n".join("".join(piece.text for piece in row).rstrip() for row in self._rows)

    def show(self, rows: tuple[Line, ...]) -> None:
        """Paint these rows from now on."""
        before, self._rows = self._rows, rows
        if len(before) != len(rows):
            self._drawn.clear()
            self.refresh()
            return
        changed = tuple(regions_changed(before, rows, self.size.width))
        for region in changed:
            for y in region.line_range:
                self._drawn.pop(y, None)
        if changed:
            self.refresh(*changed)

    def notify_style_update(self) -> None:
        """Strips hold the styles that they were made with."""
        self._forget()
        super().notify_style_update()

    def render_lines(self, crop: Region) -> list[Strip]:
        """The rows, as Textual asks for them.

        A board has no border, no padding and no tint; Textual's own way would look for them in every row.
        """
        # Textual notes each region that is to be painted, and forgets them only where it draws by itself.
        self._dirty_regions.clear()
        columns = self.size.width
        drawn_for = (columns, self.background_colors[1], self.get_line_filters())
        if drawn_for != self._drawn_for:
            self._drawn_for = drawn_for
            self._forget()
        strips: list[Strip] = [self._drawn.get(y) or self._draw(y) for y in crop.line_range]
        if crop.column_span == (0, columns):
            return strips
        return [strip.crop(*crop.column_span) for strip in strips]

    def render_line(self, y: int) -> Strip:
        """One row, before filters such as the one for a screen without colour."""
        return self._strip(self._row(y), self.size.width)

    def _row(self, y: int) -> Line:
        return self._rows[y] if y < len(self._rows) else ()

    def _forget(self) -> None:
        self._painted_row.cache_clear()
        self._drawn.clear()

    def _draw(self, y: int) -> PaintedRow:
        self._drawn[y] = self._painted_row(self._row(y))
        return self._drawn[y]

    def _paint(self, row: Line) -> PaintedRow:
        assert self._drawn_for is not None, "drawn for a window that is known"
        columns, ground, filters = self._drawn_for
        strip = self._strip(row, columns)
        for each in filters:
            strip = strip.apply_filter(each, ground)
        return PaintedRow(strip, columns)

    def _strip(self, row: Line, width: int) -> Strip:
        segments = [Segment(piece.text, self._style_of(piece)) for piece in row]
        ground = row[-1].tone if row and row[-1].tone in FILLED else Tone.PLAIN
        return Strip(segments, width_of(row)).adjust_cell_length(width, self._style(ground))

    def _style_of(self, piece: Piece) -> Style:
        style = self._style(piece.tone)
        return style + Style(color=piece.hex) if piece.hex else style

    def _style(self, tone: Tone) -> Style:
        return self.get_component_rich_style(f"board--{tone}")


def regions_changed(before: Sequence[Line], after: Sequence[Line], width: int) -> Iterator[Region]:
    """What to paint again within that width: blocks of neighbouring rows, as far to the right as anything stands
    or stood. Both have as many rows."""
    top, right = 0, 0
    for y, (old, new) in enumerate(zip(before, after, strict=True)):
        if old != new:
            top = top if right else y
            right = max(right, _right_end(old, width), _right_end(new, width))
        elif right:
            yield Region(0, top, right, y - top)
            right = 0
    if right:
        yield Region(0, top, right, len(after) - top)


def _right_end(row: Line, width: int) -> int:
    return width if row and row[-1].tone in FILLED else min(width, width_of(row))
