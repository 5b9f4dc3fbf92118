"""The load window as a gauge: where the shell tints and the core still shows, and where the recipe stands.

The scale is logarithmic and runs over whole decades, so that it stays put while a dose moves.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rich.cells import cell_len

from bench.plan.look_words import span_words
from bench.tui import present
from bench.tui.colour.cells import Row
from bench.tui.widgets.lines import Piece, Tone

NARROWEST = 12
"""Columns below which there is no gauge, only its words."""

_ROOM = 1.25
"""How far from either end of the scale everything on it stays, as a factor."""

_LEAST_PCT, _MOST_PCT = 0.001, 100.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Span:
    """What a gauge shows, in % of the cup. ``low_pct`` and ``high_pct`` are None when there is no window;
    ``name`` is the colourant whose load it tells. An end that is not bounded is merely where one stopped looking;
    ``near`` is the end that the load lies near to."""

    name: str
    now_pct: float
    low_pct: float | None = None
    high_pct: float | None = None
    why_empty: str = ""
    bounded_low: bool = True
    bounded_high: bool = True
    near: str = ""

    @property
    def ends_pct(self) -> tuple[float | None, float | None]:
        """The ends that there are."""
        return (self.low_pct if self.bounded_low else None), (self.high_pct if self.bounded_high else None)

    @property
    def is_open(self) -> bool:
        """Whether there is a window at all."""
        return self.low_pct is not None and self.high_pct is not None


def gauge_rows(span: Span, width: int) -> tuple[Row, ...]:
    """Three rows of exactly that width: the present load, the bar, and its words. One row where it is narrow."""
    if width < NARROWEST or span.now_pct <= 0:
        return ((Piece(text=gauge_words(span)),),)
    low, high = _scale(span)
    left, right = f"{low:g}", f"{high:g} %"
    room = width - cell_len(left) - cell_len(right) - 2
    at = _column(span.now_pct, low, high, room)
    label = f"now {present.load(span.now_pct)}"
    bar = tuple(
        Piece(text=text, tone=tone)
        for text, tone in ((f"{left} ", Tone.QUIET), *_bar(span, low, high, room), (f" {right}", Tone.QUIET))
    )
    return (_marker(label, cell_len(left) + 1 + at, width), bar, (Piece(text=gauge_words(span)),))


def gauge_words(span: Span) -> str:
    """The whole gauge as one sentence."""
    if span.now_pct <= 0:
        return "No colour in the shell that a window could be told by."
    now = f"{span.name} {present.load(span.now_pct)}"
    if span.low_pct is None or span.high_pct is None:
        return f"No window for {now}: {span.why_empty}."
    low_pct, high_pct = span.ends_pct
    window = span_words(low_pct=low_pct, high_pct=high_pct)
    if span.near:
        return f"{now} is inside the window, {window}, but near the {span.near}."
    if span.now_pct < span.low_pct:
        return f"{now} is below the window, {window}."
    return f"{now} is {'inside' if span.now_pct <= span.high_pct else 'above'} the window, {window}."


def _scale(span: Span) -> tuple[float, float]:
    low_pct, high_pct = span.ends_pct
    # An end that is missing takes a decade beyond the other one, so that the scale stays while the load moves.
    ends = (low_pct or (high_pct or 0) / 10, high_pct or (low_pct or 0) * 10) if span.is_open else ()
    shown = [value for value in (span.now_pct, *ends) if value]
    least, most = max(_LEAST_PCT, min(shown) / _ROOM), min(_MOST_PCT, max(shown) * _ROOM)
    low = 10.0 ** math.floor(math.log10(least))
    return low, max(10 * low, 10.0 ** math.ceil(math.log10(most)))


def _column(load_pct: float, low: float, high: float, room: int) -> int:
    """The column of a load, from 0."""
    share = math.log(load_pct / low) / math.log(high / low)
    return min(room - 1, max(0, math.floor(share * room)))


def _bar(span: Span, low: float, high: float, room: int) -> tuple[tuple[str, Tone], ...]:
    if span.low_pct is None or span.high_pct is None:
        return (("·" * room, Tone.QUIET),)
    first = _column(span.low_pct, low, high, room) if span.bounded_low else 0
    last = _column(span.high_pct, low, high, room) if span.bounded_high else room - 1
    return (("·" * first, Tone.QUIET), ("█" * (last - first + 1), Tone.KEY), ("·" * (room - last - 1), Tone.QUIET))


def _marker(label: str, at: int, width: int) -> Row:
    """The arrow above the bar with its label on the side where it fits."""
    if at + 2 + cell_len(label) <= width:
        return (Piece(text=" " * at), Piece(text="▼", tone=Tone.COUNT), Piece(text=f" {label}", tone=Tone.COUNT))
    text = f"{label} "
    return (Piece(text=" " * max(0, at - cell_len(text))), Piece(text=f"{text}▼", tone=Tone.COUNT))
