"""When the pour screen looks again, and what it says after it could not look for a while."""

from __future__ import annotations

from dataclasses import dataclass

from bench.session import drive
from bench.session.aside import is_left
from bench.session.session import Session, State
from bench.session.stamp import Stamp, span
from bench.session.step import Ending
from bench.tui import present
from bench.tui.text import clean, join

TICK_S = 0.25
"""Between two looks, at most."""

PAST_S = 0.002
"""How far beyond a whole second it is looked, so that the new second stands already."""

STOOD_STILL_S = 5.0
"""A pause between two looks that no busy machine explains."""

BLOCKED_S = 1.0
"""A pause between two beats after which a press may have waited, made by nobody who saw this screen."""

READ_AFTER_S = 0.3
"""What was read within this after such a pause had waited for it to end."""

STILL = "The screen stood still for"
MEANWHILE = "Presses made meanwhile do not count."


@dataclass(frozen=True, kw_only=True, slots=True)
class Beats:
    """When the screen last beat, and the last pause in its beats, in seconds of the keyboard's clock."""

    latest_s: float | None = None
    paused_from_s: float = 0.0
    paused_to_s: float = 0.0

    def after(self, at_s: float) -> Beats:
        """The same once it has beaten again at that moment."""
        if self.latest_s is None or at_s - self.latest_s <= BLOCKED_S:
            return Beats(latest_s=at_s, paused_from_s=self.paused_from_s, paused_to_s=self.paused_to_s)
        return Beats(latest_s=at_s, paused_from_s=self.latest_s, paused_to_s=at_s)

    def blocked_s(self, read_s: float) -> float:
        """How long the pause was in which a key waited that was read at that moment; 0 where none did.

        It is asked after a beat: keys come with the moment at which they were read, not that of the press, and a
        stopped program reads all of them as soon as it goes on.
        """
        waited = self.paused_from_s < read_s < self.paused_to_s + READ_AFTER_S
        return self.paused_to_s - self.paused_from_s if waited else 0.0


def meanwhile_line(said: str, blocked_s: float) -> str:
    """What to say to a press that waited so long, beside the line ``said`` if that tells of the pause already."""
    if said.startswith(MEANWHILE):
        return said
    pause = said if STILL in said else f"{STILL} {present.long_time(blocked_s)}."
    # First, for where a small window cuts the rest.
    return join((MEANWHILE, pause), " ")


def next_look_s(session: Session, now: Stamp, *, pace: float) -> float:
    """How many of the maker's seconds to wait before the next look.

    The countdown's next second, and its end, are met as they come rather than up to a tick late. ``pace`` is how
    many seconds of the session pass in one of the maker's; where seconds are shorter than a tick only the end is.
    """
    if session.state is State.IDLE or session.state.over or session.step.length_s <= 0:
        return TICK_S
    left_s = drive.remaining_s(session, now)
    to_go_s = left_s % 1.0 or 1.0 if pace * TICK_S < 1.0 else left_s
    return min(TICK_S, to_go_s / pace + PAST_S) if to_go_s > 0 else TICK_S


def overdue_s(session: Session, now: Stamp) -> float:
    """How long ago the present step's clock ran out; 0 while it has not, and for a step that no clock ends."""
    return max(0.0, -drive.remaining_s(session, now)) if session.step.ending is Ending.CLOCK else 0.0


def away_line(session: Session, now: Stamp, *, was_left: bool) -> str:
    """What to say first of a session that is gone on with: how long nobody was at it, at most where nothing tells
    when the program ended; empty where there was nothing to be away from. ``was_left`` says that it was left on
    purpose, as its last entry."""
    if session.last is None or session.state.over or not session.visits:
        return ""
    gone = span(session.last, now)
    about = "about " if gone.estimated else ""
    most = "" if was_left else "up to "
    away = f"You were away {most}{about}{present.long_time(gone.seconds)}. Clocks ran on."
    if not any(session.job.script[visit.index].heats for visit in session.visits):
        return away
    read = "Read the cup." if session.cups or is_left(session) else "Read the mould."
    return f"{away} Is the heat as the screen says? {read}"


def waking_line(
    looked: Stamp | None, now: Stamp, *, pace: float, ended: str = "", late_s: float = 0.0, told: str = ""
) -> str:
    """What to say after a pause: how long it was, and how late a step of that title was ended; empty without one.

    ``looked`` is the look before this one; None for the first, where nobody knows how long nobody looked:
    then what the screen has ``told`` to begin with stays before it.
    """
    paused_s = span(looked, now).seconds if looked is not None else 0.0
    still = ""
    if paused_s > STOOD_STILL_S * pace:
        still = (
            f"{STILL} {present.long_time(paused_s)}: the machine slept, or the program or its "
            "terminal was stopped. Every clock ran on."
        )
    over = f"{clean(ended)} was over {present.long_time(late_s)} ago." if late_s > STOOD_STILL_S * pace else ""
    return join((told if looked is None else "", still, over), " ") if still or over else ""
