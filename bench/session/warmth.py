"""How warm each cup and each mould is: what was last known, carried forward by the physics.

Each has one anchor: a temperature at a moment, and what heats it from then on. Whatever changes the course of a
temperature (a reading, a shot, on or off the heat, a figure corrected) sets a new anchor, so that an estimate is
always one formula from one moment. No hold and no hand on a key stops these.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.physics.cup import seconds_until
from bench.physics.fitting import POWER_PRIOR_SPREAD
from bench.physics.mould import after_rest_c, after_shot_c, shot_heat_j
from bench.plan import pace
from bench.session import bursts
from bench.session.bodies import EMPTY_ML, cup_of, heater_power, held_of_melt_ml, mould_block, shot_g_per_ml
from bench.session.carrying import Course
from bench.session.choices import shot_ml
from bench.session.corrections import CupMark
from bench.session.session import Session, Warmth
from bench.session.stamp import Stamp, span
from bench.session.step import Ending, Step

ROOM_SPREAD_K = 2.0
"""Starting value: how far what has stood in the room may be from the room's temperature."""

DECLARED_SPREAD_K = 3.0
"""Starting value: a cup that is only said to be ready lies somewhere in a band of ten degrees."""

SHOT_HEAT_SPREAD = 0.15
"""Starting value: how far the heat that a shot leaves in its mould may be from the reckoned."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Estimate:
    """A temperature now, within ``spread_k`` (one sigma). ``age_s`` is how long ago it was last measured, None if
    it never was; ``uncertain`` that only the wall clock could tell the time since. ``spent_min`` is what heat has
    used up of a cup, in minutes at 160 °C."""

    temp_c: float
    spread_k: float
    spent_min: float
    age_s: float | None
    uncertain: bool


def cup_now(session: Session, part: Part, now: Stamp) -> Estimate | None:
    """The part's cup now; None while it is cold or once it is empty."""
    warmth = session.cups.get(part)
    if warmth is None or (warmth.target_c is None and _is_empty(session, part, warmth)):
        return None
    return _estimate(warmth, cup_carried(session, part, now), now)


def mould_now(session: Session, now: Stamp, number: int = 1) -> Estimate | None:
    """That mould now; None before the start."""
    warmth = session.moulds.get(number)
    return None if warmth is None else _estimate(warmth, mould_carried(session, number, now), now)


def left_in_band_s(session: Session, part: Part, temp_c: float) -> float:
    """How long a cup of that temperature stays in the band off the heat; 0 when it is below already."""
    low = session.job.plastic.band_c[0]
    if temp_c <= low:
        return 0.0
    return seconds_until(
        cup_of(session, part, session.cups[part].melt),
        start_c=temp_c,
        until_c=low,
        room_c=session.job.station.room.temperature_c,
        loss_factor=session.corrections.cup_loss_factor,
    )


def started(session: Session, at: Stamp) -> Session:
    """The moulds stand at room temperature when the session begins."""
    cold = Warmth(temp_c=session.job.station.room.temperature_c, at=at, spread_k=ROOM_SPREAD_K)
    return replace(session, moulds=dict.fromkeys(sorted({step.mould for step in session.job.script}), cold))


def moved(before: Session, after: Session, at: Stamp, *, by: Ending | None) -> Session:
    """``after`` with the anchors that leaving one step and entering another sets.

    Leaving a heating step by hand says that the cup is ready, whatever the estimate was.
    """
    left, entered = before.step, after.step
    session = after
    for part in before.cups:
        off = replace(cup_carried(before, part, at), target_c=None, legs=())
        session = with_cup(session, part, off)
    for number in before.moulds:
        off = replace(mould_carried(before, number, at), target_c=None, rate_k_s=0.0)
        session = with_mould(session, number, off)
    if left.heats and by is Ending.HAND:
        session = _declared_ready(session, left)
    if by is not None and left.shot_ml is not None:
        session = _shot(session, left)
    return _on_heat(session, entered, at)


def anchored(session: Session, at: Stamp) -> Session:
    """The same with every anchor at this moment: what is about to change counts from here only."""
    for part in session.cups:
        session = with_cup(session, part, cup_carried(session, part, at))
    for number in session.moulds:
        session = with_mould(session, number, mould_carried(session, number, at))
    return session


def with_cup(session: Session, part: Part, warmth: Warmth) -> Session:
    """The session with that known of the part's cup."""
    cups: Mapping[Part, Warmth] = {**session.cups, part: warmth}
    most_min = max(session.spent_min.get(part, 0.0), warmth.spent_min)
    return replace(session, cups=cups, spent_min={**session.spent_min, part: most_min})


def with_mould(session: Session, number: int, warmth: Warmth) -> Session:
    """The session with that known of the mould."""
    moulds: Mapping[int, Warmth] = {**session.moulds, number: warmth}
    return replace(session, moulds=moulds)


def with_bursts(session: Session, part: Part, warmth: Warmth) -> Warmth:
    """The cup with bursts planned anew from where it is; without any where nothing heats it."""
    if warmth.target_c is None:
        return replace(warmth, legs=())
    legs = bursts.schedule(
        cup_of(session, part, warmth.melt),
        heater_power(session),
        start_c=warmth.temp_c,
        target_c=warmth.target_c,
        top_c=session.job.plastic.band_c[1],
        stir_s=pace.stir_s(session.job.station.pace),
        done=bursts.done(warmth.legs),
    )
    return replace(warmth, legs=legs or bursts.left(warmth.legs, math.inf))


def cup_carried(session: Session, part: Part, now: Stamp) -> Warmth:
    """What is known of the part's cup, carried on to now."""
    warmth = session.cups[part]
    seconds = span(warmth.at, now).seconds
    if warmth.target_c is None and _is_empty(session, part, warmth):
        return replace(warmth, at=now, follows=False)
    carried = warmth
    if seconds > 0:
        course = _course(session, part, warmth)
        for leg in bursts.run(warmth.legs, seconds):
            carried = course.through(carried, leg)
    return replace(
        carried,
        at=now,
        legs=bursts.left(warmth.legs, seconds),
        gone_s=warmth.gone_s + seconds,
        follows=warmth.follows and not span(warmth.at, now).estimated,
    )


def mould_carried(session: Session, number: int, now: Stamp) -> Warmth:
    """What is known of that mould, carried on to now."""
    warmth = session.moulds[number]
    seconds = span(warmth.at, now).seconds
    if warmth.target_c is not None:
        temp_c = max(warmth.temp_c, min(warmth.target_c, warmth.temp_c + warmth.rate_k_s * seconds))
        share = POWER_PRIOR_SPREAD
    else:
        room_c = session.job.station.room.temperature_c
        temp_c = after_rest_c(mould_block(session), mould_c=warmth.temp_c, seconds=seconds, room_c=room_c)
        share = session.corrections.mould_loss_spread
    return replace(
        warmth,
        at=now,
        temp_c=temp_c,
        drift_k=warmth.drift_k + share * abs(temp_c - warmth.temp_c),
        gone_s=warmth.gone_s + seconds,
        follows=warmth.follows and not span(warmth.at, now).estimated,
    )


def _course(session: Session, part: Part, warmth: Warmth) -> Course:
    corrections = session.corrections
    return Course(
        cup=cup_of(session, part, warmth.melt),
        power=heater_power(session),
        loss_spread=corrections.cup_loss_spread,
        power_spread=corrections.heater_spread,
    )


def _declared_ready(session: Session, left: Step) -> Session:
    assert left.band_c is not None, "every heating step has the band it heats to"
    low = left.band_c[0]
    known = session.moulds[left.mould] if left.kind is StepKind.WARM_MOULD else session.cups[left.parts[0]]
    if known.temp_c >= low:
        return session
    ready = replace(known, temp_c=low, spread_k=DECLARED_SPREAD_K, drift_k=0.0)
    if left.kind is StepKind.WARM_MOULD:
        return with_mould(session, left.mould, ready)
    return with_cup(session, left.parts[0], ready)


def _shot(session: Session, left: Step) -> Session:
    """The shot's heat goes into its mould, and its cups hold less from now on."""
    plastic = session.job.plastic
    volume_ml, mean_open_c = left.shot_ml or 0.0, plastic.open_c
    if left.round and left.kind is StepKind.SHOT and left.shot is not None:
        plan = session.job.plan.rounds_table[left.round - 1].shot(left.shot)
        volume_ml, mean_open_c = shot_ml(session, left.round, plan), plan.mean_open_c
    heat_j = shot_heat_j(
        shot_mass_g=volume_ml * shot_g_per_ml(session.job),
        c_j_kgk=plastic.heat_capacity_j_kgk,
        shot_c=plastic.shot_c,
        mean_open_c=mean_open_c,
    )
    known = session.moulds[left.mould]
    warmed_c = after_shot_c(mould_block(session), mould_c=known.temp_c, heat_j=heat_j)
    drift_k = known.drift_k + SHOT_HEAT_SPREAD * (warmed_c - known.temp_c)
    session = with_mould(session, left.mould, replace(known, temp_c=warmed_c, drift_k=drift_k, follows=False))
    for part in left.parts:
        if part in session.cups:
            session = with_cup(session, part, replace(session.cups[part], follows=False))
    return session


def _on_heat(session: Session, step: Step, at: Stamp) -> Session:
    if not step.heats:
        return session
    assert step.band_c is not None, "every heating step has the band it heats to"
    target_c = sum(step.band_c) / 2
    room_c = session.job.station.room.temperature_c
    if step.kind is StepKind.WARM_MOULD:
        known = session.moulds[step.mould]
        rate = (target_c - room_c) / step.length_s if step.length_s > 0 else 0.0
        return with_mould(session, step.mould, replace(known, target_c=target_c, rate_k_s=rate, follows=False))
    part = step.parts[0]
    known_cup = session.cups.get(part)
    if known_cup is None or known_cup.melt != step.melt:
        session, known_cup = _filled(session, part, step.melt, at)
    return with_cup(session, part, with_bursts(session, part, replace(known_cup, target_c=target_c)))


def _filled(session: Session, part: Part, melt: int, at: Stamp) -> tuple[Session, Warmth]:
    """A melt just weighed in, at room temperature: that tells of the heater as a reading does."""
    room_c = session.job.station.room.temperature_c
    mark = CupMark(part=part, temp_c=room_c, cup=cup_of(session, part, melt), is_read=False)
    marked = replace(session, cup_marks=(*session.cup_marks, mark))
    return marked, Warmth(temp_c=room_c, at=at, spread_k=ROOM_SPREAD_K, follows=True, melt=melt)


def _estimate(known: Warmth, carried: Warmth, now: Stamp) -> Estimate:
    since = span(known.measured, now) if known.measured else None
    return Estimate(
        temp_c=carried.temp_c,
        spread_k=math.hypot(carried.spread_k, carried.drift_k),
        spent_min=carried.spent_min,
        age_s=since.seconds if since else None,
        uncertain=span(known.at, now).estimated,
    )


def _is_empty(session: Session, part: Part, warmth: Warmth) -> bool:
    return held_of_melt_ml(session, part, warmth.melt) < EMPTY_ML
