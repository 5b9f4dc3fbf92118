"""How much of what its plastic stands heat has used up of each cup.

It warns and never forbids: only the eye and the nose tell when plastic is spent.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.recipe import Part
from bench.physics import heat_spent
from bench.session.job import Job
from bench.session.session import Session
from bench.units import Percent


@dataclass(frozen=True, kw_only=True, slots=True)
class PartSpent:
    """The most that heat has used up of any cup of that part, as a share of what its plastic stands. It may pass
    100."""

    part: Part
    share_pct: Percent


def parts_spent(session: Session) -> tuple[PartSpent, ...]:
    """The most of each part, as of the last event; parts that were never heated are left out."""
    return tuple(
        PartSpent(part=plan.part, share_pct=pct_of(session.job, session.spent_min[plan.part]))
        for plan in session.job.plan.parts
        if plan.part in session.spent_min
    )


def pct_of(job: Job, minutes: float) -> float:
    """So many minutes at 160 degC as a share of what the plastic stands, %."""
    return heat_spent.spent_pct(equivalent_minutes=minutes, limit_min=job.plastic.heat_limit_s / 60)
