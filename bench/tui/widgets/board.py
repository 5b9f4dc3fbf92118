"""The widget that paints a frame of lines, and repaints only the rows that have changed."""

from __future__ import annotations

from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from bench.tui.widgets.lines import FILLED, Line, Piece, Tone

MOST_STRIPS = 256
"""Rows that are kept as they were drawn: large figures draw the same ones again and again."""


class Board(Widget):
    """A surface of rows. It holds the last frame it was given and decides nothing."""

    COMPONENT_CLASSES = {f"board--{tone}" for tone in Tone}  # noqa: RUF012 - Textual's own kind of class attribute

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[Line, ...] = ()
        self._strip_of = lru_cache(maxsize=MOST_STRIPS)(self._strip)

    @property
    def text(self) -> str:
        """The rows as plain text, for people and tests."""
        return "\n".join("".join(piece.text for piece in row).rstrip() for row in self._rows)

    def show(self, rows: tuple[Line, ...]) -> None:
        """Paint these rows from now on."""
        before, self._rows = self._rows, rows
        if len(before) != len(rows):
            self.refresh()
            return
        width = self.size.width
        pairs = enumerate(zip(before, rows, strict=True))
        changed = [Region(0, y, width, 1) for y, (old, new) in pairs if old != new]
        if changed:
            self.refresh(*changed)

    def notify_style_update(self) -> None:
        """Strips hold the styles that they were made with."""
        self._strip_of.cache_clear()
        super().notify_style_update()

    def render_line(self, y: int) -> Strip:
        """One row, as Textual asks for it."""
        return self._strip_of(self._rows[y] if y < len(self._rows) else (), self.size.width)

    def _strip(self, row: Line, width: int) -> Strip:
        segments = [Segment(piece.text, self._style_of(piece)) for piece in row]
        ground = row[-1].tone if row and row[-1].tone in FILLED else Tone.PLAIN
        return Strip(segments).adjust_cell_length(width, self._style(ground))

    def _style_of(self, piece: Piece) -> Style:
        style = self._style(piece.tone)
        return style + Style(color=piece.hex) if piece.hex else style

    def _style(self, tone: Tone) -> Style:
        return self.get_component_rich_style(f"board--{tone}")
