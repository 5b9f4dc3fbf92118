"""A row as it goes to the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.segment import Segment
from textual.strip import Strip

from bench.tui.text import columns_of


class PaintedRow(Strip):
    """A strip as wide as the window. A row that counts has another text each second, and of each of them the
    libraries would keep something; this keeps nothing.

    Textual's strip keeps the parts that it was divided into, itself where it is the only one: a circle, which
    stays in memory until Python looks for such, ever more seldom. Rich keeps the text of whatever it measures.
    """

    __slots__ = ("_beginnings",)

    def __init__(self, segments: Iterable[Segment], cell_length: int) -> None:
        super().__init__(segments, cell_length)
        self._beginnings: dict[int, Strip] = {}

    def divide(self, cuts: Iterable[int]) -> Sequence[Strip]:
        """The parts between the cuts."""
        within = [cut for cut in cuts if cut <= self.cell_length]
        return [self] if within == [self.cell_length] else super().divide(within)

    def crop(self, start: int, end: int | None = None) -> Strip:
        """The part from one column up to another."""
        if start > 0 or end is None or not 0 < end < self.cell_length:
            return super().crop(start, end)
        if end not in self._beginnings:
            self._beginnings[end] = self._beginning(end)
        return self._beginnings[end]

    def _beginning(self, end: int) -> Strip:
        room, kept = end, list[Segment]()
        for segment in self:
            wide = columns_of(segment.text)
            kept.append(segment if wide <= room else segment.split_cells(room)[0])
            room -= wide
            if room <= 0:
                break
        return Strip(kept, end)
