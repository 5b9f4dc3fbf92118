"""A mould on its hot plate or in its blast of warm air: how warm it is there, and how much warmer it may be.

Where the temperature of what warms it is known the mould nears that, past its window where it is left: a plate's
in the time that the plan has for the way into the window, a blast's by its film. Of a plate whose power alone is
known two things are sure enough: that a mould gets as warm as it was put there for, and that a plate feeds a mould
the less the warmer that is. What lies between is told as not known, and grows until a thermometer says more.
"""

from __future__ import annotations

import math
from dataclasses import replace

from bench.model.station import WarmedBy
from bench.model.step_kind import StepKind
from bench.physics.fitting import POWER_PRIOR_SPREAD
from bench.physics.mould import Nearing, after_rest_c, on_plate, plate_contact_w_k
from bench.plan.shooting import start_c
from bench.session.bodies import mould_block
from bench.session.session import Session, Warmth

HOTTEST_MOULD_C = 150.0
"""No mould on a warming plate gets hotter than this before it cooks what is put into it."""

SOURCE_SPREAD = 0.1
"""Starting value: how far from its source a mould may settle, as a share of what that is above the room. A
thermostat goes to and fro, and a plate is read where no mould stands."""

_FARTHEST = 700.0
"""So many relaxation times are as good as for ever, and no number is too large for them."""


def put_to_warm(session: Session, known: Warmth) -> Warmth:
    """That mould on its plate or in its warm air from now on, as the plan has it get into its window."""
    job = session.job
    target_c = start_c(job.mould, job.station)
    length_s = max(step.length_s for step in job.script if step.kind is StepKind.WARM_MOULD)
    rate = (target_c - job.station.room.temperature_c) / length_s if length_s > 0 else 0.0
    return replace(known, target_c=target_c, rate_k_s=rate, follows=False)


def warmed(session: Session, known: Warmth, seconds: float) -> Warmth:
    """A mould that is warmed, so much later."""
    warming = _warming(session, known)
    later = (
        _at_its_power(session, known, seconds) if warming is None else _nearing(session, known, warming, seconds)
    )
    return replace(later, on_s=known.on_s + seconds)


def rested(session: Session, known: Warmth, seconds: float) -> Warmth:
    """A mould that nothing warms, so much later."""
    room_c, block = session.job.station.room.temperature_c, mould_block(session)
    temp_c, most_c = (
        after_rest_c(block, mould_c=first_c, seconds=seconds, room_c=room_c)
        for first_c in (known.temp_c, known.temp_c + known.rise_k)
    )
    lost_k = session.corrections.mould_loss_spread * abs(temp_c - known.temp_c)
    return replace(known, temp_c=temp_c, drift_k=known.drift_k + lost_k, rise_k=max(0.0, most_c - temp_c))


def may_be_hot(session: Session, known: Warmth, *, spread_k: float) -> bool:
    """Whether a mould of that estimate may be above its window for what warmed it since it was last read. While it
    stands there everything counts that is not known of it; once it was taken off, what nobody could know."""
    is_warmed, high_c = known.target_c is not None, session.job.mould.warm_c[1]
    return known.temp_c + (spread_k if is_warmed else known.rise_k) > high_c and (is_warmed or known.rise_k > 0)


def _warming(session: Session, known: Warmth) -> Nearing | None:
    """What is known of what warms it; None of a plate whose temperature nobody knows."""
    warming, room_c = session.job.station.warming, session.job.station.room.temperature_c
    block, source_c, target_c = mould_block(session), warming.source_c, known.target_c
    if source_c is None or target_c is None:
        return None
    if warming.by is WarmedBy.AIR:
        return Nearing(settles_c=source_c, relaxation_s=block.capacity_j_k / (warming.film_w_m2k * block.area_m2))
    if not room_c < target_c < source_c or known.rate_k_s <= 0:
        return None
    way_s = (target_c - room_c) / known.rate_k_s
    contact_w_k = plate_contact_w_k(block, plate_c=source_c, room_c=room_c, to_c=target_c, seconds=way_s)
    return on_plate(block, plate_c=source_c, contact_w_k=contact_w_k, room_c=room_c)


def _nearing(session: Session, known: Warmth, warming: Nearing, seconds: float) -> Warmth:
    """What nobody knows of its pace tells most half way there and nothing in the end; what nobody knows of its
    source tells in the end."""
    times = min(seconds / warming.relaxation_s, _FARTHEST)
    left = math.exp(-times)
    pace_k = POWER_PRIOR_SPREAD * times * abs(warming.settles_c - known.temp_c)
    settled_k = SOURCE_SPREAD * abs(warming.settles_c - session.job.station.room.temperature_c)
    return replace(
        known,
        temp_c=warming.after_c(start_c=known.temp_c, seconds=seconds),
        drift_k=(known.drift_k + pace_k) * left + settled_k * (1 - left),
        rise_k=known.rise_k * left,
    )


def _at_its_power(session: Session, known: Warmth, seconds: float) -> Warmth:
    """As warm as it was to become, or as much warmer as it had time for."""
    assert known.target_c is not None, "asked only for what is warmed"
    warmed_k, most_c = known.rate_k_s * seconds, known.temp_c + known.rise_k
    temp_c = max(known.temp_c, min(known.target_c, known.temp_c + warmed_k))
    most_c = max(most_c, min(HOTTEST_MOULD_C, most_c + warmed_k))
    drift_k = known.drift_k + _open_k(session, known.target_c, known.temp_c, temp_c)
    return replace(known, temp_c=temp_c, drift_k=drift_k, rise_k=max(0.0, most_c - temp_c))


def _open_k(session: Session, target_c: float, begun_c: float, come_c: float) -> float:
    """What nobody knows of a plate's power, on a stretch of a mould's way. A plate feeds a cold mould more than
    one that is as warm as itself: it counts twice where the way begins, and not at all where it ends."""
    room_c = session.job.station.room.temperature_c
    way_k = target_c - room_c
    if way_k <= 0:
        return 0.0
    begun, come = (min(1.0, max(0.0, (each_c - room_c) / way_k)) for each_c in (begun_c, come_c))
    return POWER_PRIOR_SPREAD * way_k * (come - begun) * (2 - come - begun)
