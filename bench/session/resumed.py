"""When a session was resumed, as far as its events tell: nothing is written when one is opened again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from bench.session import drive
from bench.session.events import Event, Left, StepDone
from bench.session.job import Job
from bench.session.session import Session
from bench.session.stamp import Stamp, span
from bench.session.step import Ending
from bench.session.story import Told
from bench.units import Seconds

UNWATCHED_S = 10.0
"""A bench that runs ends a clock within a second or two, also on a slow machine."""


def resumptions(job: Job, events: Iterable[Event], *, pace: float = 1.0) -> Iterator[Told]:
    """Each time that the session went on after the bench did not run, told at the first event after it.

    One that was left says so itself. Where the program was killed, two things give that away: the event is of
    another start of the machine than the one before it, or it ends a clock that had run out long before. A machine
    that slept looks the same. A session whose program was killed in the middle of a step, on a machine that ran
    on, cannot be told. ``pace`` is the speed-up of a rehearsal.
    """
    session, before, left = Session(job=job), None, None
    for event in events:
        if left is not None:
            over = _over(session, event)
            yield _back(left, event, over=f", {session.step.title} over for {over} by then" if over else "")
        elif before is not None and _is_other_boot(before, event.at):
            yield Told(at=event.at, words="resumed, after the machine was started anew")
        elif over := _over(session, event, pace):
            yield Told(at=event.at, words=f"resumed at: {session.step.title}, over for {over} by then")
        session, before = session.after(event), event.at
        left = event.at if isinstance(event, Left) else None


def _over(session: Session, event: Event, pace: float = 1.0) -> str:
    """For how long the clock was over that the event ends, in words; empty for one that a running bench ended."""
    late_s = _late_s(session, event)
    return _time(late_s) if late_s > UNWATCHED_S * pace else ""


def _time(seconds: Seconds) -> str:
    return f"{seconds / 60:.0f} min" if seconds >= 90 else f"{seconds:.0f} s"


def _back(left: Stamp, event: Event, *, over: str) -> Told:
    """The first event after leaving. A rehearsal's clock stands still meanwhile."""
    gone = span(left, event.at)
    restarted = ", the machine was started anew meanwhile" if _is_other_boot(left, event.at) else ""
    about = "about " if gone.estimated else ""
    words = f"back: the first entry {about}{_time(gone.seconds)} after leaving{restarted}{over}"
    return Told(at=event.at, words=words)


def _is_other_boot(earlier: Stamp, later: Stamp) -> bool:
    return bool(earlier.boot and later.boot) and earlier.boot != later.boot


def _late_s(session: Session, event: Event) -> Seconds:
    if not isinstance(event, StepDone) or event.by is not Ending.CLOCK:
        return 0.0
    return -drive.remaining_s(session, event.at)
