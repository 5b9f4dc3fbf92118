"""Ending a session that nobody will go on with. Nothing is deleted: it stays among the past ones, with why."""

from __future__ import annotations

from pathlib import Path

from bench.clock import Clock, rehearsal_clock
from bench.errors import BenchError
from bench.session import drive
from bench.session.events import Aborted, Event, StopReason
from bench.session.session import Session, State
from bench.session.stamp import Stamp
from bench.store.sessions import open_for_resume
from bench.tui.saved import NO_ANSWER

SAVE_WITHIN_S = 5.0
"""How long a slow disk is waited for."""


def ending(session: Session, reason: StopReason, at: Stamp) -> tuple[Event, ...]:
    """What has to happen for the session to be over; nothing where it is.

    The closing steps are not gone through, since nobody stands at that bench any more: it ends at once. A session
    whose very start was lost is started for that.
    """
    if session.state.over:
        return ()
    begun = (drive.forward(session, at),) if session.state is State.IDLE else ()
    return (*begun, Aborted(at=at, reason=reason))


def set_aside(path: Path, reason: StopReason, clock: Clock) -> None:
    """End the session in that file with that reason.

    Raises BenchError where it cannot be opened or the disk does not take it; it then waits as before.
    """
    file = open_for_resume(path)
    stored = file.stored
    speed = stored.rehearsal
    session = stored.session
    now = rehearsal_clock(clock, speed=speed, start=session.last).now() if speed else clock.now()
    for event in ending(session, reason, now):
        session = session.after(event)
        file.record(event)
    if not file.close(session, SAVE_WITHIN_S):
        raise BenchError(file.recorder.problem or NO_ANSWER)
