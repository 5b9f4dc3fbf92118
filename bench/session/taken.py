"""How long each step of a session took, beside what was planned for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bench.session.session import Session, Visit
from bench.session.stamp import span
from bench.units import Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class StepTaken:
    """One stay at a step. ``taken_s`` is None while it lasts; ``ended`` says in words how it ended."""

    id: str
    title: str
    planned_s: Seconds
    taken_s: float | None
    ended: str


def steps_taken(session: Session) -> Iterator[StepTaken]:
    """Every stay of the session, in order, those taken back left out.

    A step whose clock runs from an earlier moment (a mould sets from the shot on) was planned with that clock's
    whole length, so it takes less than planned at its own stay.
    """
    for visit in session.visits:
        step = session.job.script[visit.index]
        yield StepTaken(
            id=step.id,
            title=step.title,
            planned_s=step.length_s,
            taken_s=span(visit.entered, visit.left).seconds if visit.left else None,
            ended=_ended(visit),
        )


def _ended(visit: Visit) -> str:
    if visit.left is None:
        return "not ended"
    return f"by {visit.by}" if visit.by else "left out"
