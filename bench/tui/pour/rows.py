"""Sharing the rows of a window among its sections."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from bench.tui.text import wrap
from bench.tui.widgets.lines import Line, Piece, Tone, clipped, line, width_of

Forms = tuple[tuple[Line, ...], ...]
"""The ways in which a section can be shown, from the fewest rows to the most. Empty: it has nothing to show."""


class Wanted(NamedTuple):
    """A section's claim: its fullest form of at most so many rows."""

    section: str
    rows: int


def granted(sections: Mapping[str, Forms], order: Iterable[Wanted], height: int) -> dict[str, tuple[Line, ...]]:
    """What each section shows when claims are met in that order, as far as ``height`` rows go.

    A claim is met with the fullest form that fits into what is left; what a section has it keeps.
    """
    shown: dict[str, tuple[Line, ...]] = dict.fromkeys(sections, ())
    spare = height
    for section, most in order:
        have = len(shown[section])
        most_now = min(most, have + spare)
        fullest = next((form for form in reversed(sections[section]) if have < len(form) <= most_now), None)
        if fullest is not None:
            shown[section] = fullest
            spare -= len(fullest) - have
    return shown


def growing(rows: tuple[Line, ...], marked_at: int = 0) -> Forms:
    """Any number of the rows from the first on; within ``marked_at`` columns, a mark says that more follow."""
    parts = [rows[:number] for number in range(1, len(rows))]
    if marked_at:
        parts = [(*part[:-1], _marked(part[-1], marked_at)) for part in parts]
    return (*parts, rows) if rows else ()


@lru_cache(maxsize=64)
def labelled(label: str, text: str, room: int, tone: Tone) -> tuple[Line, ...]:
    """The text in rows behind its label."""
    if not text:
        return ()
    indent = len(label) + 2
    broken = wrap(text, max(1, room - indent))
    first = (Piece(text=f"{label}  ", tone=Tone.QUIET), Piece(text=broken[0], tone=tone))
    return (first, *(line(" " * indent + rest, tone) for rest in broken[1:]))


def _marked(row: Line, width: int) -> Line:
    """The row with a mark behind its words: behind the last that leaves room for it."""
    tone = row[-1].tone if row else Tone.PLAIN
    while row and width_of(row) + width_of(MORE) > width and " " in row[-1].text.strip():
        row = (*row[:-1], replace(row[-1], text=row[-1].text.rstrip().rpartition(" ")[0].rstrip()))
    marked = (*row, *(replace(piece, tone=tone) for piece in MORE))
    # A word that fills the row gives its end to the mark.
    return marked if width_of(marked) <= width else clipped(row, max(0, min(width, width_of(row)) - 1))


MORE = (Piece(text=" …"),)
"""Says that something follows that is not shown."""
