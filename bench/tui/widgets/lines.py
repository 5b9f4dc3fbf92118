"""A line of the screen: pieces of text, each in a tone. Tones are names; the style sheet gives them colours."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from bench.tui.text import columns_of, cut


class Tone(StrEnum):
    """What a piece of text is, for the style sheet. Nothing is told by a tone alone."""

    PLAIN = "plain"
    QUIET = "quiet"
    TITLE = "title"
    COUNT = "count"
    LATE = "late"
    ENTRY = "entry"
    KEY = "key"
    CAUTION = "caution"
    NOTICE = "notice"
    REMIND = "remind"
    ALARM = "alarm"


MARK = "•"
"""Stands beside what was chosen. Even the oldest console fonts have it, and none of them a tick."""

FILLED = frozenset({Tone.REMIND, Tone.ALARM})
"""Tones whose ground runs across the whole line."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """Some text in one tone. ``hex`` draws it in that colour instead: a patch of it, which words stand beside."""

    text: str
    tone: Tone = Tone.PLAIN
    hex: str = ""


Line = tuple[Piece, ...]
"""One row of the screen, left to right."""

BLANK: Line = ()


def line(text: str, tone: Tone = Tone.PLAIN) -> Line:
    """A row of one piece."""
    return (Piece(text=text, tone=tone),)


def lines(texts: tuple[str, ...], tone: Tone = Tone.PLAIN) -> tuple[Line, ...]:
    """Rows of one tone."""
    return tuple(line(text, tone) for text in texts)


def width_of(row: Line) -> int:
    """The columns that a row takes."""
    return sum(columns_of(piece.text) for piece in row)


def clipped(row: Line, width: int) -> Line:
    """The row, its end left out where it is wider than that."""
    if width_of(row) <= width and all(piece.text for piece in row):
        return row
    room = width
    kept: list[Piece] = []
    for piece in row:
        text = cut(piece.text, room)
        room -= columns_of(text)
        if text:
            kept.append(replace(piece, text=text))
        if text != piece.text:
            break
    return tuple(kept)


def spread(left: Line, right: Line, width: int) -> Line:
    """Two ends of one row; the left one gives way where both do not fit."""
    room = max(0, width - width_of(right) - 1)
    shown = clipped(left, room)
    gap = max(0, width - width_of(right) - width_of(shown))
    return clipped((*shown, Piece(text=" " * gap), *right), width)


def in_rows(cells: Iterable[Line], room: int, *, gap: int) -> tuple[Line, ...]:
    """The cells one after another with so many columns between them, in as many rows as they need."""
    rows: list[Line] = []
    row: Line = ()
    for cell in cells:
        joined = (*row, Piece(text=" " * gap), *cell) if row else cell
        if row and width_of(joined) > room:
            rows.append(row)
            row = cell
        else:
            row = joined
    return (*rows, row) if row else tuple(rows)
