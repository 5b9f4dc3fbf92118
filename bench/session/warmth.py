"""How warm each cup and the mould are: what was last known, carried forward by the physics.

Each cup and the mould has one anchor: a temperature at a moment, and what heats it from then on. Whatever
changes the course of a temperature (a reading, a shot, on or off the heat) sets a new anchor, so that an
estimate is always one formula from one moment. No hold and no hand on a key stops these.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.physics.cup import Cup, seconds_until, temperature_after
from bench.physics.feeding import density_kg_m3
from bench.physics.mould import Block, after_rest_c, after_shot_c, shot_heat_j
from bench.session.choices import held_ml, shot_ml
from bench.session.session import Session, Warmth
from bench.session.stamp import Stamp, span
from bench.session.step import Ending, Step

EMPTY_ML = 2.0
"""Below this a cup counts as empty: its own temperature no longer matters to any shot."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Estimate:
    """A temperature now. ``age_s`` is how long ago it was last measured, None if it never was; ``uncertain`` that
    only the wall clock could tell the time since."""

    temp_c: float
    age_s: float | None
    uncertain: bool


def cup_now(session: Session, part: Part, now: Stamp) -> Estimate | None:
    """The part's cup now; None while it is cold or once it is empty."""
    warmth = session.cups.get(part)
    if warmth is None or (warmth.target_c is None and _held(session, part, warmth) < EMPTY_ML):
        return None
    return _estimate(warmth, _carried(session, part, warmth, now), now)


def mould_now(session: Session, now: Stamp, number: int = 1) -> Estimate | None:
    """That mould now; None before the start."""
    warmth = session.moulds.get(number)
    return None if warmth is None else _estimate(warmth, _mould_carried(session, warmth, now), now)


def left_in_band_s(session: Session, part: Part, temp_c: float) -> float:
    """How long a cup of that temperature stays in the band off the heat; 0 when it is below already."""
    low = session.job.plastic.band_c[0]
    if temp_c <= low:
        return 0.0
    room_c = session.job.station.room.temperature_c
    return seconds_until(_cup(session, part, session.cups[part]), start_c=temp_c, until_c=low, room_c=room_c)


def started(session: Session, at: Stamp) -> Session:
    """The moulds stand at room temperature when the session begins."""
    cold = Warmth(temp_c=session.job.station.room.temperature_c, at=at)
    return replace(session, moulds=dict.fromkeys(sorted({step.mould for step in session.job.script}), cold))


def cup_measured(session: Session, part: Part, temp_c: float, at: Stamp) -> Session:
    """The part's cup has that temperature. Heating goes on from there; over the band nobody heats on."""
    known = session.cups.get(part, Warmth(temp_c=temp_c, at=at))
    measured = replace(known, temp_c=temp_c, at=at, measured=at)
    if temp_c > session.job.plastic.band_c[1]:
        measured = replace(measured, target_c=None, rate_k_s=0.0)
    return _with_cup(session, part, measured)


def mould_measured(session: Session, number: int, temp_c: float, at: Stamp) -> Session:
    """That mould has that temperature."""
    known = session.moulds.get(number, Warmth(temp_c=temp_c, at=at))
    return _with_mould(session, number, replace(known, temp_c=temp_c, at=at, measured=at))


def moved(before: Session, after: Session, at: Stamp, *, by: Ending | None) -> Session:
    """``after`` with the anchors that leaving one step and entering another sets.

    Leaving a heating step by hand says that the cup is ready, whatever the estimate was.
    """
    left, entered = before.step, after.step
    session = after
    for part in before.cups:
        session = _with_cup(session, part, _off_heat(before, part, at))
    for number in before.moulds:
        session = _with_mould(session, number, _mould_off_heat(before, number, at))
    if left.heats and by is Ending.HAND:
        session = _declared_ready(session, left, at)
    if by is not None and left.shot_ml is not None:
        session = _shot_into_mould(session, left, at)
    return _on_heat(session, entered, at)


def _with_cup(session: Session, part: Part, warmth: Warmth) -> Session:
    cups: Mapping[Part, Warmth] = {**session.cups, part: warmth}
    return replace(session, cups=cups)


def _with_mould(session: Session, number: int, warmth: Warmth) -> Session:
    moulds: Mapping[int, Warmth] = {**session.moulds, number: warmth}
    return replace(session, moulds=moulds)


def _off_heat(session: Session, part: Part, at: Stamp) -> Warmth:
    warmth = session.cups[part]
    return replace(warmth, temp_c=_carried(session, part, warmth, at), at=at, target_c=None, rate_k_s=0.0)


def _mould_off_heat(session: Session, number: int, at: Stamp) -> Warmth:
    warmth = session.moulds[number]
    return replace(warmth, temp_c=_mould_carried(session, warmth, at), at=at, target_c=None, rate_k_s=0.0)


def _declared_ready(session: Session, left: Step, at: Stamp) -> Session:
    assert left.band_c is not None, "every heating step has the band it heats to"
    low = left.band_c[0]
    if left.kind is StepKind.WARM_MOULD:
        known = session.moulds[left.mould]
        return _with_mould(session, left.mould, replace(known, temp_c=max(known.temp_c, low), at=at))
    part = left.parts[0]
    if session.cups[part].temp_c < low:
        return _with_cup(session, part, replace(session.cups[part], temp_c=low, at=at))
    return session


def _shot_into_mould(session: Session, left: Step, at: Stamp) -> Session:
    plastic, block = session.job.plastic, _block(session)
    round_plan = session.job.plan.rounds_table[left.round - 1] if left.round else None
    volume_ml = left.shot_ml or 0.0
    if round_plan is not None and left.kind is StepKind.SHOT and left.shot is not None:
        volume_ml = shot_ml(session, left.round, round_plan.shot(left.shot))
    heat_j = shot_heat_j(
        shot_mass_g=volume_ml * _density_g_ml(session),
        c_j_kgk=plastic.heat_capacity_j_kgk,
        shot_c=plastic.shot_c,
        mean_open_c=plastic.open_c,
    )
    known = session.moulds[left.mould]
    warmed_c = after_shot_c(block, mould_c=known.temp_c, heat_j=heat_j)
    return _with_mould(session, left.mould, replace(known, temp_c=warmed_c, at=at))


def _on_heat(session: Session, step: Step, at: Stamp) -> Session:
    if not step.heats:
        return session
    assert step.band_c is not None, "every heating step has the band it heats to"
    target_c = sum(step.band_c) / 2
    room_c = session.job.station.room.temperature_c
    if step.kind is StepKind.WARM_MOULD:
        known = session.moulds[step.mould]
        rate = _rate(target_c - room_c, step.length_s)
        return _with_mould(session, step.mould, replace(known, at=at, target_c=target_c, rate_k_s=rate))
    part = step.parts[0]
    known_cup = session.cups.get(part)
    if known_cup is None or known_cup.melt != step.melt:
        known_cup = Warmth(temp_c=room_c, at=at, melt=step.melt)
    melt = next(melt for melt in session.job.plan.part(part).melts if melt.number == step.melt)
    rate = _rate(target_c - room_c, melt.heat_s)
    return _with_cup(session, part, replace(known_cup, at=at, target_c=target_c, rate_k_s=rate))


def _rate(rise_k: float, seconds: float) -> float:
    return rise_k / seconds if seconds > 0 else 0.0


def _carried(session: Session, part: Part, warmth: Warmth, now: Stamp) -> float:
    seconds = span(warmth.at, now).seconds
    if warmth.target_c is not None:
        return max(warmth.temp_c, min(warmth.target_c, warmth.temp_c + warmth.rate_k_s * seconds))
    room_c = session.job.station.room.temperature_c
    if warmth.temp_c <= room_c or _held(session, part, warmth) < EMPTY_ML:
        return warmth.temp_c
    cup = _cup(session, part, warmth)
    return temperature_after(cup, start_c=warmth.temp_c, seconds=seconds, room_c=room_c)


def _mould_carried(session: Session, warmth: Warmth, now: Stamp) -> float:
    seconds = span(warmth.at, now).seconds
    if warmth.target_c is not None:
        return max(warmth.temp_c, min(warmth.target_c, warmth.temp_c + warmth.rate_k_s * seconds))
    room_c = session.job.station.room.temperature_c
    return after_rest_c(_block(session), mould_c=warmth.temp_c, seconds=seconds, room_c=room_c)


def _estimate(warmth: Warmth, temp_c: float, now: Stamp) -> Estimate:
    since = span(warmth.measured, now) if warmth.measured else None
    return Estimate(
        temp_c=temp_c, age_s=since.seconds if since else None, uncertain=span(warmth.at, now).estimated
    )


def _held(session: Session, part: Part, warmth: Warmth) -> float:
    melt = next((melt for melt in session.job.plan.part(part).melts if melt.number == warmth.melt), None)
    return held_ml(session, part, melt) if melt else 0.0


def _cup(session: Session, part: Part, warmth: Warmth) -> Cup:
    vessel = session.job.station.vessel
    held = max(EMPTY_ML, _held(session, part, warmth))
    footprint_cm2 = math.pi / 4 * (vessel.diameter_mm / 10) ** 2
    return Cup(
        mass_g=held * _density_g_ml(session),
        c_j_kgk=session.job.plastic.heat_capacity_j_kgk,
        diameter_mm=vessel.diameter_mm,
        height_mm=held / footprint_cm2 * 10,
        vessel_mass_g=vessel.mass_g,
        vessel_c_j_kgk=vessel.heat_capacity_j_kgk,
    )


def _block(session: Session) -> Block:
    mould = session.job.mould
    return Block(
        mass_g=mould.mass_g, c_j_kgk=mould.heat_capacity_j_kgk, area_m2=mould.area_m2, loss_w_m2k=mould.loss_w_m2k
    )


def _density_g_ml(session: Session) -> float:
    plastic = session.job.plastic
    return (
        density_kg_m3(rho_20_kg_m3=plastic.density_kg_m3, beta_per_k=plastic.expansion_per_k, at_c=plastic.shot_c)
        / 1000
    )
