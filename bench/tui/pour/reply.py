"""What follows a press."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bench.session.events import Event
from bench.tui.pour.entry import Entry, Nothing


class Wish(StrEnum):
    """What a key asks of the app rather than of the session."""

    LEAVE = "leave"
    HELP = "help"


@dataclass(frozen=True, kw_only=True, slots=True)
class Answer:
    """The next entry, the event to apply. ``line`` answers a press that does nothing else; keys in it are marks
    still."""

    entry: Entry = Nothing()  # noqa: RUF009 - frozen
    event: Event | None = None
    line: str = ""
    wish: Wish | None = None
