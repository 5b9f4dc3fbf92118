"""What to weigh for the melt of the present step."""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.plan.records import DosePlan, Melt
from bench.session.astray import Astray
from bench.session.choices import filled, melt_doses
from bench.session.session import Session
from bench.session.step import HEATING, Step
from bench.units import Grams


@dataclass(frozen=True, kw_only=True, slots=True)
class WeighView:
    """What to weigh for the melt of this step, the first time that it is heated. ``astray`` is what is wrong with
    the load of its shell, ``limit_g`` the mass in this melt of the load at which it would not be."""

    melt: Melt
    melts: int
    doses: tuple[DosePlan, ...]
    astray: Astray | None = None
    limit_g: Grams | None = None


def weigh_view(session: Session) -> WeighView | None:
    """Shown at its weighing, and at a heating that it was not weighed before."""
    step = session.step
    if step.kind not in WEIGHED_AT or (step.kind is not StepKind.WEIGH and _is_weighed(session, step)):
        return None
    plan, part = session.job.plan, step.parts[0]
    melt = filled(session, plan.melt_numbered(part, step.melt))
    astray = next((each for each in session.job.astray if each.part is part), None)
    limit_pct = None if astray is None else astray.limit_pct
    return WeighView(
        melt=melt,
        melts=len(plan.part(part).melts),
        doses=melt_doses(session, melt),
        astray=astray,
        limit_g=None if limit_pct is None else melt.mass_g * limit_pct / 100,
    )


WEIGHED_AT = frozenset({StepKind.WEIGH, StepKind.HEAT_ON, StepKind.HEAT})
"""Steps of one melt, at which it may have to be weighed."""


def _is_weighed(session: Session, step: Step) -> bool:
    """Whether that melt was weighed or heated at a step before, and no other core was chosen since."""
    since = session.anew_from.get((step.parts[0], step.melt), 0)
    earlier = ((visit, session.job.script[visit.index]) for visit in session.visits[since:-1])
    kinds = {
        other.kind
        for visit, other in earlier
        if visit.by is not None and (other.parts, other.melt) == (step.parts, step.melt)
    }
    if kinds & HEATING:
        return True
    is_another = session.core_weighed.get(step.melt, session.core) != session.core
    return StepKind.WEIGH in kinds and not (step.parts == (Part.CORE,) and is_another)
