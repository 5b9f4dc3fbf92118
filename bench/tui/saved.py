"""What the screen needs to know of the saving that goes on behind it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class SavedState:
    """``events_waiting`` are events not yet on disk; ``problem`` is why, as words that fit after "Not saved:",
    None while all is well."""

    events_waiting: int = 0
    problem: str | None = None
