"""How much of a step's length is left."""

from __future__ import annotations

from bench.session.session import Session
from bench.session.setting import NEVER, set_factor
from bench.session.stamp import Stamp, span
from bench.session.step import Ending


def remaining_s(session: Session, now: Stamp) -> float:
    """What is left of the present step's length, negative once it is over.

    A set that begins after baits came out soft is as much longer as that says, and one in a mould hotter than
    planned as much as physics says: in one too hot to set it never ends, and what is left stays at its length.
    A heating that had to wait for the heater is as much longer.
    """
    step, visit = session.step, session.visit
    since = (session.ended(step.since) if step.since else None) or visit.entered
    length_s, factor = step.length_s * visit.stretch + visit.waits_s, set_factor(session, step, now)
    return length_s if factor == NEVER else length_s * factor - span(since, now).seconds


def is_passed(session: Session, now: Stamp) -> bool:
    """Whether the present step's clock was over before it was reached, so that nobody need stand at it."""
    step, visit = session.step, session.visit
    return (
        step.passes
        and step.ending is Ending.CLOCK
        and not visit.revisited
        and session.next_step is not None
        and remaining_s(session, now) <= 0
    )
