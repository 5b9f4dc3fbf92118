"""Whether the air was cleared for as long as planned at the end of a session."""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.step_kind import StepKind
from bench.session.session import Session
from bench.session.stamp import span
from bench.session.step import Ending
from bench.units import Seconds

SLACK_S = 5.0


@dataclass(frozen=True, kw_only=True, slots=True)
class AiredShort:
    """For how long the air was cleared, 0 where the step was left out, and how long was planned."""

    cleared_s: Seconds
    planned_s: Seconds


def aired_short(session: Session) -> AiredShort | None:
    """None where it was cleared as planned, and where the session has not come so far."""
    for visit in session.visits:
        step = session.job.script[visit.index]
        if step.kind is not StepKind.PURGE_AIR or visit.left is None or visit.by is Ending.CLOCK:
            continue
        cleared_s = span(visit.entered, visit.left).seconds if visit.by else 0.0
        if cleared_s < step.length_s - SLACK_S:
            return AiredShort(cleared_s=cleared_s, planned_s=step.length_s)
    return None
