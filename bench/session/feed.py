"""When and how much to top off while the gate is open, and what shrinks after it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bench.model.step_kind import StepKind
from bench.physics.feeding import shrink_left_share
from bench.plan.records import ShotPlan
from bench.session.clocks import remaining_s
from bench.session.session import Session
from bench.session.stamp import Stamp

TOP_OFFS_AT = (0.4, 0.85)
"""Starting values: at which shares of the hold to push more. Common practice, no source: come back while the sprue
is fluid, and again if it dips."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TopOffView:
    """The next top-off of the mould: how much, in how many seconds (0: now), and how long the gate stays open.
    ``dent_pct`` is what shrinks after that, as a share of the volume."""

    volume_ml: float
    next_in_s: float
    left_s: float
    dent_pct: float


def top_off_view(session: Session, now: Stamp) -> TopOffView | None:
    """The next top-off; None at any step but the hold.

    Heat goes into the wall as the square root of time (Carslaw & Jaeger, Conduction of Heat in Solids, 2.4), so
    that share of the shrink has happened by each top-off; the last takes the rest.
    """
    step = session.step
    if step.kind is not StepKind.HOLD or step.shot is None or session.state.over:
        return None
    left_s = remaining_s(session, now)
    gone = 1 - left_s / step.length_s if step.length_s > 0 else 1.0
    first, last = TOP_OFFS_AT
    is_first = gone < (first + last) / 2
    shot = session.job.plan.rounds_table[step.round - 1].shot(step.shot)
    share = math.sqrt(first) if is_first else 1 - math.sqrt(first)
    return TopOffView(
        volume_ml=share * shot.top_off_ml,
        next_in_s=max(0.0, ((first if is_first else last) - gone) * step.length_s),
        left_s=max(0.0, left_s),
        dent_pct=100 * _shrink_left(session, shot),
    )


def _shrink_left(session: Session, shot: ShotPlan) -> float:
    """The plan's top-off says how far the cavities have cooled when the gate closes."""
    job = session.job
    cavities_ml = shot.volume_ml - job.plan.volumes.runner_ml
    if cavities_ml <= 0:
        return 0.0
    fed_k = shot.top_off_ml / cavities_ml / job.plastic.expansion_per_k
    return shrink_left_share(
        beta_per_k=job.plastic.expansion_per_k,
        mean_hold_c=job.plastic.shot_c - fed_k,
        room_c=job.station.room.temperature_c,
    )
