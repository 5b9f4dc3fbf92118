"""Keys pressed before there was anything to see."""

from __future__ import annotations

from dataclasses import dataclass

RESTED_S = 0.5
"""Keys that follow each other faster belong together: of a number begun blind no digit counts."""


@dataclass(kw_only=True, slots=True)
class Blind:
    """``seen_from_s`` is when there was something to see, by the clock that dates keys; None until then."""

    seen_from_s: float | None = None
    _latest_s: float | None = None

    def hides(self, at_s: float) -> bool:
        """Whether a key of that moment was pressed blind, or goes on from one that was."""
        blind = self.seen_from_s is None or at_s < self.seen_from_s
        goes_on = self._latest_s is not None and at_s - self._latest_s < RESTED_S
        if blind or goes_on:
            self._latest_s = at_s
        return blind or goes_on
