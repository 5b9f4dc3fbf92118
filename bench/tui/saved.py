"""What the screen needs to know of the saving that goes on behind it."""

from __future__ import annotations

from dataclasses import dataclass

from bench.store.journal import Healed


@dataclass(frozen=True, kw_only=True, slots=True)
class SavedState:
    """``events_waiting`` are events not yet on disk; ``problem`` is why, as words that fit after "Not saved:",
    None while all is well. ``healed`` is what came of another program's change to the file, None while there was
    none."""

    events_waiting: int = 0
    problem: str | None = None
    healed: Healed | None = None


def healed_line(healed: Healed) -> str:
    """What is told of it, once."""
    if not healed.kept_in:
        return "Another program changed this session's file. It is whole again, and the session goes on."
    return (
        "Another program changed this session's file. The session goes on, with every step in it; what the other "
        f"program wrote is kept in {healed.kept_in}."
    )
