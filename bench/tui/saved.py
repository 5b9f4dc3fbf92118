"""What the screen needs to know of the saving that goes on behind it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bench.session.stamp import Stamp, span
from bench.store.journal import Healed
from bench.tui.text import clean


@dataclass(frozen=True, kw_only=True, slots=True)
class SavedState:
    """``events_waiting`` are events not yet on disk; ``problem`` is why, as words that fit after "Not saved:",
    None while all is well. ``healed`` is what came of another program's change to the file, None while there was
    none. ``is_late`` says that an event waits for longer than a disk takes that is well."""

    events_waiting: int = 0
    problem: str | None = None
    healed: Healed | None = None
    is_late: bool = False


LATE_S = 2.0
"""Starting value: a write is a matter of milliseconds, on a slow stick of a second."""


class Waiting:
    """Since when events have waited for the disk, as far as a screen has seen it."""

    def __init__(self) -> None:
        self._since: Stamp | None = None

    def seen(self, saved: SavedState, now: Stamp, *, pace: float) -> SavedState:
        """The same, with whether it is late. ``pace`` is how fast the session's clock runs."""
        self._since = (self._since or now) if saved.events_waiting else None
        is_late = self._since is not None and span(self._since, now).seconds >= LATE_S * pace
        return replace(saved, is_late=is_late)


def healed_line(healed: Healed) -> str:
    """What is told of it, once."""
    if not healed.kept_in:
        return "Another program changed this session's file. It is whole again, and the session goes on."
    return (
        "Another program changed this session's file. The session goes on, with every step in it; what the other "
        f"program wrote is kept in {healed.kept_in}."
    )


NO_ANSWER = "the disk did not answer"


def unsaved_line(saved: SavedState) -> str:
    """What is told while the disk refuses."""
    why = clean(saved.problem or NO_ANSWER).rstrip(".")
    return f"Not saved: {why}. {_waiting(saved)} in memory. The session goes on; saving is tried again."


def leaving_line(saved: SavedState) -> str:
    """What becomes of the session that is about to be left."""
    if saved.problem is None:
        return "The session is kept and can be resumed."
    return f"{_waiting(saved)} in memory and would be lost; what was saved before is kept."


def lost_line(saved: SavedState) -> str:
    """What became of a session that was left while the disk refused."""
    why = clean(saved.problem or NO_ANSWER).rstrip(".")
    return f"{_entries(saved)} not saved: {why}. What was saved before is kept and can be resumed from there."


def _waiting(saved: SavedState) -> str:
    return f"{_entries(saved)} {'waits' if saved.events_waiting == 1 else 'wait'}"


def _entries(saved: SavedState) -> str:
    return "1 entry" if saved.events_waiting == 1 else f"{saved.events_waiting} entries"
