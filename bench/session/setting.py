"""How a mould that is hotter than planned holds up the set.

A cooling time is very nearly proportional to ln((T_shot - T_mould) / (T_open - T_mould)), exactly so once the
first term of the series is all that is left (Incropera, Fundamentals of Heat and Mass Transfer, one-term
solutions). So what the plan reckoned for its mould is stretched to the mould as it is. A cooler mould shortens
nothing: a reading may be wrong, and opening late harms no bait.
"""

from __future__ import annotations

import math

from bench.model.step_kind import StepKind
from bench.physics.mould import shot_heat_j
from bench.session.bodies import mould_block
from bench.session.choices import shot_ml
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.step import Step
from bench.session.warmth import mould_now

NEVER = math.inf

TOLERANCE_K = 2.0
"""An estimate is no better than this: less makes no set longer."""


def set_factor(session: Session, step: Step, now: Stamp) -> float:
    """How many times as long as planned a set takes in the mould as it is, its shot being the last into it: 1 or
    more, ``NEVER`` where the mould is too hot for it. 1 for any other step."""
    if step.kind is not StepKind.SET or step.shot is None or not step.round:
        return 1.0
    estimate = mould_now(session, now, step.mould)
    if estimate is None:
        return 1.0
    shot = session.job.plan.rounds_table[step.round - 1].shot(step.shot)
    plastic, melt = session.job.plastic, session.job.plan.melt(shot.parts[0], step.round)
    heat_j = shot_heat_j(
        shot_mass_g=shot_ml(session, step.round, shot) * melt.mass_g / melt.volume_ml,
        c_j_kgk=plastic.heat_capacity_j_kgk,
        shot_c=plastic.shot_c,
        mean_open_c=shot.mean_open_c,
    )
    before_c = estimate.temp_c - heat_j / mould_block(session).capacity_j_k
    planned_c = shot.mould_c if step.mould_c is None else step.mould_c
    if before_c <= planned_c + TOLERANCE_K:
        return 1.0
    if before_c >= plastic.open_c:
        return NEVER
    return _reach(plastic.shot_c, plastic.open_c, before_c) / _reach(plastic.shot_c, plastic.open_c, planned_c)


def _reach(shot_c: float, open_c: float, mould_c: float) -> float:
    return math.log((shot_c - mould_c) / (open_c - mould_c))
