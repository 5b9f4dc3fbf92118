"""When a session was resumed, as far as its events tell: nothing is written when one is opened again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from bench.session import drive
from bench.session.events import Event, StepDone
from bench.session.job import Job
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.story import Told
from bench.units import Seconds

UNWATCHED_S = 10.0
"""A bench that runs ends a clock within a second or two, also on a slow machine."""


def resumptions(job: Job, events: Iterable[Event], *, pace: float = 1.0) -> Iterator[Told]:
    """Each time that the session went on after the bench did not run, told at the first event after it.

    Two things give that away: the event is of another start of the machine than the one before it, or it ends a
    clock that had run out long before. A machine that slept looks the same. A session left and resumed in the
    middle of a step, on a machine that ran on, cannot be told. ``pace`` is the speed-up of a rehearsal.
    """
    session, before = Session(job=job), None
    for event in events:
        if before is not None and _is_other_boot(before, event.at):
            yield Told(at=event.at, words="resumed, after the machine was started anew")
        elif (late_s := _late_s(session, event)) > UNWATCHED_S * pace:
            over = f"{late_s / 60:.0f} min" if late_s >= 90 else f"{late_s:.0f} s"
            yield Told(at=event.at, words=f"resumed at: {session.step.title}, over for {over} by then")
        session, before = session.after(event), event.at


def _is_other_boot(earlier: Stamp, later: Stamp) -> bool:
    return bool(earlier.boot and later.boot) and earlier.boot != later.boot


def _late_s(session: Session, event: Event) -> Seconds:
    if not isinstance(event, StepDone) or event.by is not Ending.CLOCK:
        return 0.0
    return -drive.remaining_s(session, event.at)
