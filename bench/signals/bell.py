"""The three signals, and the terminal's bell: one sound, so that urgency is told by how often it comes.

Three levels and no more: a step is over; something wants attention; stop now.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol


class Signal(StrEnum):
    """What the bell says, the least urgent first."""

    STEP_OVER = "step over"
    ATTENTION = "attention"
    STOP_NOW = "stop now"


@dataclass(frozen=True, kw_only=True, slots=True)
class Pattern:
    """So many rings, with so many seconds between their beginnings."""

    rings: int
    gap_s: float


PATTERNS: Mapping[Signal, Pattern] = {
    Signal.STEP_OVER: Pattern(rings=1, gap_s=0.0),
    Signal.ATTENTION: Pattern(rings=2, gap_s=0.5),
    Signal.STOP_NOW: Pattern(rings=5, gap_s=0.2),
}
"""Short and even, so that they can be told apart without counting (common practice, no source)."""


class Caller(Protocol):
    """What can be asked to sound a signal, from whatever thread; it returns at once."""

    def sound(self, signal: Signal) -> None:
        """Sound it."""


class Bell:
    """Rings patterns through what it is given: ``ring`` sounds once, ``later`` calls back after some seconds."""

    def __init__(self, *, ring: Callable[[], None], later: Callable[[float, Callable[[], None]], object]) -> None:
        self._ring = ring
        self._later = later

    def sound(self, signal: Signal) -> None:
        """Ring that signal's pattern, the first ring at once."""
        pattern = PATTERNS[signal]
        self._ring()
        for place in range(1, pattern.rings):
            self._later(place * pattern.gap_s, self._ring)
