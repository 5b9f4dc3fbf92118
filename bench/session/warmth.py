"""How warm each cup and each mould is: what was last known, carried forward by the physics.

Each has one anchor: a temperature at a moment, and what heats it from then on. Whatever changes the course of a
temperature (a reading, a shot, on or off the heat, a figure corrected) sets a new anchor, so that an estimate is
always one formula from one moment. No hold and no hand on a key stops these.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from bench.model.recipe import Part
from bench.session import bursts
from bench.session.bodies import (
    EMPTY_ML,
    cup_of,
    heater_power,
    held_of_melt_ml,
)
from bench.session.carrying import Course
from bench.session.planned import planned
from bench.session.session import Session, Warmth
from bench.session.stamp import Stamp, span
from bench.session.warming import may_be_hot, rested, warmed

ROOM_SPREAD_K = 2.0
"""Starting value: how far what has stood in the room may be from the room's temperature."""

_KEPT = 16
"""A moment asks for the few cups of a session again and again."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Estimate:
    """A temperature now, within ``spread_k`` (one sigma). ``age_s`` is how long ago it was last measured, None if
    it never was; ``uncertain`` that only the wall clock could tell the time since. ``spent_min`` is what heat has
    used up of a cup, in minutes at 160 °C. ``rise_k`` is how much hotter a mould may be for what warmed it, and
    ``warmed_s`` how long it was warmed since it was last read: None where for that it is not above its window."""

    temp_c: float
    spread_k: float
    spent_min: float
    age_s: float | None
    uncertain: bool
    rise_k: float = 0.0
    warmed_s: float | None = None


def cup_now(session: Session, part: Part, now: Stamp) -> Estimate | None:
    """The part's cup now, of which something can be shot; None while it is cold or once it is empty."""
    warmth = session.cups.get(part)
    if warmth is None or (warmth.target_c is None and _is_empty(session, part, warmth)):
        return None
    return vessel_now(session, part, now)


def vessel_now(session: Session, part: Part, now: Stamp) -> Estimate | None:
    """The same with one that is empty: nothing of it can be shot, and it burns the hand as before. None of one
    that was never heated."""
    warmth = session.cups.get(part)
    return None if warmth is None else _estimate(warmth, cup_carried(session, part, now), now)


def mould_now(session: Session, now: Stamp, number: int = 1) -> Estimate | None:
    """That mould now; None before the start."""
    warmth = session.moulds.get(number)
    if warmth is None:
        return None
    carried = mould_carried(session, number, now)
    estimate = _estimate(warmth, carried, now)
    is_open = may_be_hot(session, carried, spread_k=estimate.spread_k)
    return replace(estimate, rise_k=carried.rise_k, warmed_s=carried.on_s if is_open else None)


def started(session: Session, at: Stamp) -> Session:
    """The moulds stand at room temperature when the session begins."""
    cold = Warmth(temp_c=session.job.station.room.temperature_c, at=at, spread_k=ROOM_SPREAD_K)
    return replace(session, moulds=dict.fromkeys(sorted({step.mould for step in session.job.script}), cold))


def all_off(session: Session, at: Stamp) -> Session:
    """Every heater is off from now on."""
    session = anchored(session, at)
    for part in session.cups:
        session = stopped(session, part)
    for number, known in session.moulds.items():
        session = with_mould(session, number, replace(known, target_c=None, rate_k_s=0.0))
    return session


def taken_off(session: Session, part: Part, at: Stamp) -> Session:
    """The part's cup is off the heat from now on, whatever the step is: nothing tells when that was done."""
    if part not in session.cups:
        return session
    session = stopped(anchored(session, at), part)
    return with_cup(session, part, replace(session.cups[part], follows=False))


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
    """The cup with bursts planned anew from where it is; without any where nothing heats it. One that runs by
    itself was set once and stays as it is. Where heatings wait for the maker, each burst does."""
    if warmth.target_c is None:
        return replace(warmth, legs=bursts.left(warmth.legs, math.inf) if warmth.by_itself else ())
    if warmth.by_itself:
        return warmth
    legs = planned(session, part, warmth, done=bursts.done(warmth.legs))
    if session.step.waits:
        legs = bursts.each_said(legs)
    return replace(warmth, legs=legs or bursts.left(warmth.legs, math.inf))


@lru_cache(maxsize=_KEPT)
def cup_carried(session: Session, part: Part, now: Stamp) -> Warmth:
    """What is known of the part's cup, carried on to now."""
    warmth = session.cups[part]
    seconds = span(warmth.at, now).seconds
    is_empty = warmth.target_c is None and _is_empty(session, part, warmth)
    carried = warmth
    if seconds > 0:
        course = course_of(session, part, warmth)
        for leg in bursts.run(warmth.legs, seconds):
            carried = course.through(carried, leg)
    run_s = sum(leg.seconds for leg in warmth.legs)
    is_over = warmth.by_itself and seconds >= run_s
    return replace(
        carried,
        at=now,
        legs=bursts.left(warmth.legs, seconds),
        target_c=None if is_over else warmth.target_c,
        spent_min=warmth.spent_min if is_empty else carried.spent_min,
        off_s=warmth.off_s + max(0.0, seconds - run_s) if warmth.by_itself else 0.0,
        gone_s=warmth.gone_s + seconds,
        follows=warmth.follows and not is_empty and not span(warmth.at, now).estimated,
    )


def mould_carried(session: Session, number: int, now: Stamp) -> Warmth:
    """What is known of that mould, carried on to now."""
    warmth = session.moulds[number]
    seconds = span(warmth.at, now).seconds
    carried = rested if warmth.target_c is None else warmed
    return replace(
        carried(session, warmth, seconds),
        at=now,
        gone_s=warmth.gone_s + seconds,
        follows=warmth.follows and not span(warmth.at, now).estimated,
    )


def course_of(session: Session, part: Part, warmth: Warmth) -> Course:
    corrections = session.corrections
    return Course(
        cup=cup_of(session, part, warmth.melt),
        power=heater_power(session),
        loss_spread=corrections.cup_loss_spread,
        power_spread=corrections.heater_spread,
    )


def stopped(session: Session, part: Part) -> Session:
    """The part's cup is off the heat, and no burst of it counts as begun."""
    known = session.cups.get(part)
    if known is None:
        return session
    return with_cup(session, part, replace(known, target_c=None, legs=(), by_itself=False, off_s=0.0))


def _estimate(known: Warmth, carried: Warmth, now: Stamp) -> Estimate:
    since = span(known.measured, now) if known.measured else None
    return Estimate(
        temp_c=carried.temp_c,
        spread_k=spread_of(carried),
        spent_min=carried.spent_min,
        age_s=since.seconds if since else None,
        uncertain=span(known.at, now).estimated,
    )


def spread_of(known: Warmth) -> float:
    """One sigma of it, K, of the reading and of all that was reckoned since."""
    return math.hypot(known.spread_k, known.drift_k, known.rise_k)


def _is_empty(session: Session, part: Part, warmth: Warmth) -> bool:
    return held_of_melt_ml(session, part, warmth.melt) < EMPTY_ML
