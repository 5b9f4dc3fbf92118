"""How much of a step's length is left."""

from __future__ import annotations

from dataclasses import replace

from bench.session.session import Session
from bench.session.setting import NEVER, set_factor
from bench.session.stamp import Stamp, span
from bench.session.step import Ending


def remaining_s(session: Session, now: Stamp) -> float:
    """What is left of the present step's length, negative once it is over.

    A set that begins after baits came out soft is as much longer as that says, and one in a mould hotter than
    planned as much as physics says: in one too hot to set it never ends, and what is left stays at its length.
    A heating that had to wait for the heater, or for the maker, is as much longer, and one that still waits to be
    begun has all of it left.
    """
    step, visit = session.step, session.visit
    if session.waits_to_begin:
        return step.length_s * visit.stretch
    since = (session.ended(step.since) if step.since else None) or visit.entered
    length_s, factor = step.length_s * visit.stretch + visit.waits_s, set_factor(session, step, now)
    return length_s if factor == NEVER else length_s * factor - span(since, now).seconds


def waited(session: Session, at: Stamp) -> Session:
    """The session with what the present stay waited until now added to its length."""
    *before, here = session.visits
    waits_s = here.waits_s + span(here.entered, at).seconds
    return replace(session, visits=(*before, replace(here, waits_s=waits_s)))


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
