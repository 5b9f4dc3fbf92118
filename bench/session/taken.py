"""How long each step of a session took, beside what was planned for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest

from bench.session.session import Session, Visit
from bench.session.stamp import Stamp, span
from bench.units import Seconds

ALREADY_OVER = "already over"
"""How a step ended whose clock was over when it was reached: it was passed over and took no time."""

PUT_OFF = "put off for a heat"
"""How a stay at a shot ended whose cup went back on the heat: the shot comes after it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StepTaken:
    """One stay at a step from ``began`` on. ``taken_s`` is None while it lasts; ``ended`` says in words how it
    ended. ``label`` is its title, which names the mould where there are several, with its round."""

    id: str
    title: str
    label: str
    began: Stamp
    planned_s: Seconds
    taken_s: float | None
    ended: str


def steps_taken(session: Session) -> Iterator[StepTaken]:
    """Every stay of the session, in order, those taken back left out.

    A step whose clock runs from an earlier moment (a mould sets from the shot on) was planned with that clock's
    whole length, so it takes less than planned at its own stay.
    """
    for visit, after in zip_longest(session.visits, session.visits[1:]):
        step = session.job.script[visit.index]
        yield StepTaken(
            id=step.id,
            title=step.title,
            label=f"{step.title}, round {step.round}" if step.round else step.title,
            began=visit.entered,
            planned_s=step.length_s,
            taken_s=span(visit.entered, visit.left).seconds if visit.left else None,
            ended=_ended(visit, after),
        )


def _ended(visit: Visit, after: Visit | None) -> str:
    if visit.left is None:
        return "not ended"
    if visit.passed:
        return ALREADY_OVER
    if visit.by is None and after is not None and after.then == visit.index:
        return PUT_OFF
    return f"by {visit.by}" if visit.by else "left out"
