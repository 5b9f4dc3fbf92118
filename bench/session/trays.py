"""What lies on the trays to cure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from bench.model.step_kind import StepKind
from bench.plan.records import Shot
from bench.session.session import Session


@dataclass(frozen=True, kw_only=True, slots=True)
class Trays:
    """What is curing: baits so far, the rounds they are of as they were opened, and when the first and the last of
    them may be packed."""

    baits: int
    rounds: tuple[int, ...]
    first_ready: datetime
    last_ready: datetime


def last_shot(session: Session) -> Shot:
    """The shot after which a mould is opened on baits, not on shells."""
    return Shot.CORE if session.job.plan.build.has_core else Shot.WHOLE


def trays(session: Session) -> Trays | None:
    """What has been laid out to cure so far; None before the first bait."""
    final = last_shot(session)
    opened = [
        (step.round, visit.left)
        for visit in session.visits
        for step in (session.job.script[visit.index],)
        if step.kind is StepKind.OPEN and step.shot is final and visit.left is not None and visit.by is not None
    ]
    if not opened:
        return None
    cure = timedelta(seconds=session.job.plan.cure_s)
    return Trays(
        baits=len(opened) * session.job.plan.cavities,
        rounds=tuple(number for number, _ in opened),
        first_ready=opened[0][1].wall + cure,
        last_ready=opened[-1][1].wall + cure,
    )
