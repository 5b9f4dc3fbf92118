"""What the screens and their workers tell each other: requests are imperatives, facts are past tense."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

if TYPE_CHECKING:
    from pathlib import Path

    from bench.errors import Fault
    from bench.model.library import Library
    from bench.model.settings import ThemeName
    from bench.session.session import Session
    from bench.store.last_choice import LastChoice
    from bench.store.onlooker import Onlooker, Seen
    from bench.store.sessions import Listed, Stored
    from bench.store.sessions import OpenSession as StoredSession
    from bench.tui.choice import Choice
    from bench.tui.waiting import Unfinished, Waiting


@dataclass
class ShelfRead(Message):
    """The shelf and the past sessions were read. ``faults`` are those of the files that did not load, ``theme`` is
    what settings ask for even where something else in them has a fault, ``last`` what was chosen the last time."""

    library: Library
    faults: tuple[Fault, ...]
    waiting: Waiting
    theme: ThemeName
    last: LastChoice | None = None


@dataclass
class ShelfShown(Message):
    """What is on the shelf stands on the bench for the first time."""


@dataclass
class WaitsRead(Message):
    """The unfinished sessions were read again; ``before`` is what waited when they were asked for."""

    before: Waiting
    unfinished: tuple[Unfinished, ...]


@dataclass
class PlanMade(Message):
    """The session for that choice was planned; it is idle."""

    choice: Choice
    session: Session


@dataclass
class ChoiceSettled(Message):
    """A choice has a plan: what the next start may begin with."""

    choice: Choice


@dataclass
class LastTimeRead(Message):
    """What was said the last time that choice was poured has been read. ``words`` are a line, ``whole`` is all of
    it, ``lines`` what a session of it begins with; all empty where nothing was."""

    choice: Choice
    words: str
    whole: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()


@dataclass
class PlanRefused(Message):
    """That choice cannot be made, and why in one sentence."""

    choice: Choice
    why: str


@dataclass
class OpenSession(Message):
    """Open the screen on this idle session, for real or as a rehearsal."""

    session: Session
    rehearsal: bool


@dataclass
class ResumeSession(Message):
    """Go on with the session in that file."""

    path: Path
    rehearsal: bool


@dataclass
class ReadShelf(Message):
    """Read the shelf and the past sessions again."""


@dataclass
class ThemeSwitched(Message):
    """A key has switched the theme."""


@dataclass
class ThemeNotKept(Message):
    """The next start will not begin with the theme that is shown, and why in one sentence."""

    why: str


@dataclass
class ShowPast(Message):
    """Show the past sessions."""


@dataclass
class ShowPedal(Message):
    """Learn what a pedal sends."""


@dataclass
class ShowColour(Message):
    """Build a colour, beginning with this recipe in that mould."""

    recipe: str
    mould: str


@dataclass
class ShowCalibration(Message):
    """Measure the heater's power, with the plastic of this recipe; the first on the shelf where it is empty."""

    recipe: str


@dataclass
class SessionOpened(Message):
    """The file of a session to go on with was read and locked."""

    file: StoredSession


@dataclass
class SessionRefused(Message):
    """A session cannot be opened, and why in one sentence."""

    why: str


@dataclass
class SessionInUse(Message):
    """A session to go on with is written by another process; ``seen`` is how it stands."""

    onlooker: Onlooker
    seen: Seen


@dataclass
class SessionSeen(Message):
    """A session that another process writes was looked at again."""

    seen: Seen


@dataclass
class SessionUnseen(Message):
    """It could not be, and why in one sentence."""

    why: str


@dataclass
class SessionSaved(Message):
    """A session was let go of. ``problem`` says what is not on disk, None when everything is."""

    problem: str | None


@dataclass
class PastListed(Message):
    """The past sessions of one kind were listed."""

    listed: tuple[Listed, ...]
    rehearsals: bool


@dataclass
class PastRead(Message):
    """One past session was read."""

    stored: Stored
