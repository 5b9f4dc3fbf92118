"""The widget that paints rows of words and pictures, and repaints only the rows that have changed."""

from __future__ import annotations

from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from bench.tui.colour.cells import Patch, Row, text_of
from bench.tui.widgets.lines import Piece, Tone


class Easel(Widget):
    """A surface of rows. It holds the last ones it was given and decides nothing."""

    COMPONENT_CLASSES = {f"easel--{tone}" for tone in Tone}  # noqa: RUF012 - Textual's own kind of class attribute

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[Row, ...] = ()

    @property
    def text(self) -> str:
        """The rows as plain text, for people and tests."""
        return "\n".join(text_of(row).rstrip() for row in self._rows)

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows as they are painted."""
        return self._rows

    def show(self, rows: tuple[Row, ...]) -> None:
        """Paint these rows from now on."""
        before, self._rows = self._rows, rows
        if len(before) != len(rows):
            self.refresh()
            return
        for y, (old, new) in enumerate(zip(before, rows, strict=True)):
            if old != new:
                self.refresh(Region(0, y, self.size.width, 1))

    def render_line(self, y: int) -> Strip:
        """One row, as Textual asks for it."""
        row = self._rows[y] if y < len(self._rows) else ()
        segments = [Segment(piece.text, self._style(piece)) for piece in row]
        return Strip(segments).adjust_cell_length(self.size.width, self._style(Piece(text="")))

    def _style(self, piece: Piece | Patch) -> Style:
        if isinstance(piece, Piece):
            return self.get_component_rich_style(f"easel--{piece.tone}")
        return self.get_component_rich_style("easel--plain") + _coloured(piece.fore, piece.ground)


@lru_cache(maxsize=2048)
def _coloured(fore: str | None, ground: str | None) -> Style:
    return Style(color=fore, bgcolor=ground)
