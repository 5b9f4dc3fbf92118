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
from bench.model.step_kind import StepKind
from bench.physics.mould import after_shot_c, shot_heat_j
from bench.plan import pace
from bench.session import bursts
from bench.session.bodies import (
    EMPTY_ML,
    cup_of,
    heater_power,
    held_of_melt_ml,
    mould_block,
    shot_g_per_ml,
)
from bench.session.carrying import Course
from bench.session.choices import shot_ml
from bench.session.corrections import CupMark
from bench.session.planned import planned
from bench.session.session import Session, Warmth
from bench.session.stamp import Stamp, span
from bench.session.step import Ending, Step
from bench.session.warming import may_be_hot, put_to_warm, rested, warmed

ROOM_SPREAD_K = 2.0
"""Starting value: how far what has stood in the room may be from the room's temperature."""

DECLARED_SPREAD_K = 3.0
"""Starting value: a cup that is only said to be ready lies somewhere in a band of ten degrees."""

SHOT_HEAT_SPREAD = 0.15
"""Starting value: how far the heat that a shot leaves in its mould may be from the reckoned."""

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


def moved(before: Session, after: Session, at: Stamp, *, by: Ending | None) -> Session:
    """``after`` with the anchors that leaving one step and entering another sets.

    Leaving a heating step by hand says that the cup is ready, whatever the estimate was.
    """
    left, entered = before.step, after.step
    session = _off_heat(before, after, at)
    if left.kind is StepKind.HEAT_ON and by is not None:
        session = _left_alone(session, left, at)
    elif left.kind is StepKind.HEAT_ON and len(after.visits) > len(before.visits):
        session = _stopped(session, left.parts[0])
    elif left.heats and by is Ending.HAND:
        session = _declared_ready(session, left)
    if by is not None and left.shot_ml is not None:
        session = _shot(session, left)
    return on_heat(session, entered, at)


def all_off(session: Session, at: Stamp) -> Session:
    """Every heater is off from now on."""
    session = anchored(session, at)
    for part in session.cups:
        session = _stopped(session, part)
    for number, known in session.moulds.items():
        session = with_mould(session, number, replace(known, target_c=None, rate_k_s=0.0))
    return session


def taken_off(session: Session, part: Part, at: Stamp) -> Session:
    """The part's cup is off the heat from now on, whatever the step is: nothing tells when that was done."""
    if part not in session.cups:
        return session
    session = _stopped(anchored(session, at), part)
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
    itself was set once and stays as it is."""
    if warmth.target_c is None:
        return replace(warmth, legs=bursts.left(warmth.legs, math.inf) if warmth.by_itself else ())
    if warmth.by_itself:
        return warmth
    legs = planned(session, part, warmth, done=bursts.done(warmth.legs))
    return replace(warmth, legs=legs or bursts.left(warmth.legs, math.inf))


def first_burst_s(session: Session, step: Step, now: Stamp) -> float:
    """How long the burst is that a HEAT_ON sets, from what its cup is estimated to be; 0 for one that is hot."""
    part = step.parts[0]
    session, warmth = _cup_for(anchored(session, now), step, now)
    legs = planned(session, part, replace(warmth, target_c=_middle_c(session)), done=0)
    return legs[0].seconds if legs else 0.0


@lru_cache(maxsize=_KEPT)
def cup_carried(session: Session, part: Part, now: Stamp) -> Warmth:
    """What is known of the part's cup, carried on to now."""
    warmth = session.cups[part]
    seconds = span(warmth.at, now).seconds
    is_empty = warmth.target_c is None and _is_empty(session, part, warmth)
    carried = warmth
    if seconds > 0:
        course = _course(session, part, warmth)
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


def _off_heat(before: Session, after: Session, at: Stamp) -> Session:
    """What the step that was left had on the heat is off it. A burst that runs by itself goes on, and a mould
    whose warming is still to come stays on its plate; nothing does once the heat is switched off."""
    session, warming, is_off = after, _warming_from(after), after.step.kind is StepKind.HEAT_OFF
    for part in before.cups:
        session = with_cup(session, part, cup_carried(before, part, at))
        if is_off or not session.cups[part].by_itself:
            session = _stopped(session, part)
    for number in before.moulds:
        known = mould_carried(before, number, at)
        if number not in warming:
            known = replace(known, target_c=None, rate_k_s=0.0)
        session = with_mould(session, number, known)
    return session


def _warming_from(session: Session) -> frozenset[int]:
    """The moulds that are on the plate while the present step lasts: all are put there together, and each is taken
    off at the end of its own step."""
    if session.step.kind is not StepKind.WARM_MOULD:
        return frozenset()
    ahead = session.job.script[session.visit.index :]
    return frozenset(step.mould for step in ahead if step.kind is StepKind.WARM_MOULD)


def _left_alone(session: Session, left: Step, at: Stamp) -> Session:
    """The cup has its first burst by itself; one that was set before is not set again. There is one heater: what
    another cup had on it is off."""
    part = left.parts[0]
    known = session.cups.get(part)
    if known is not None and known.by_itself and known.melt == left.melt:
        return session
    for other in set(session.cups) - {part}:
        session = _stopped(session, other)
    session, known = _cup_for(session, left, at)
    known = replace(known, target_c=_middle_c(session), by_itself=True, off_s=0.0)
    burst = tuple(leg for leg in planned(session, part, known, done=0)[:1] if leg.heating)
    return with_cup(session, part, replace(known, legs=burst, target_c=known.target_c if burst else None))


def _stopped(session: Session, part: Part) -> Session:
    """The part's cup is off the heat, and no burst of it counts as begun."""
    known = session.cups.get(part)
    if known is None:
        return session
    return with_cup(session, part, replace(known, target_c=None, legs=(), by_itself=False, off_s=0.0))


def _middle_c(session: Session) -> float:
    return sum(session.job.plastic.band_c) / 2


def on_heat(session: Session, step: Step, at: Stamp) -> Session:
    """What that step has on the heat is on it, unless an old cup stands there."""
    if step.kind is StepKind.WARM_MOULD:
        return _moulds_on_heat(session)
    if step.kind is not StepKind.HEAT or session.is_scorched(step.parts[0], step.melt) or session.waits_for_aside:
        return session
    assert step.band_c is not None, "every heating step has the band it heats to"
    part = step.parts[0]
    session, known = _cup_for(session, step, at)
    busy = _busy_s(session, part)
    waits = (bursts.Leg(heating=False, seconds=busy, number=0),) if busy > 0 else ()
    known = replace(known, target_c=sum(step.band_c) / 2)
    if known.by_itself:
        heated = _finishing(session, part, known)
        busy += known.legs[0].seconds if known.legs else 0.0
    else:
        heated = with_bursts(session, part, known)
    session = with_cup(session, part, replace(heated, legs=(*waits, *heated.legs), by_itself=False, off_s=0.0))
    *earlier, here = session.visits
    return replace(session, visits=(*earlier, replace(here, waits_s=busy)))


def _finishing(session: Session, part: Part, known: Warmth) -> Warmth:
    """What is left of the burst that ran by itself, its stir, and the bursts after it."""
    stir = bursts.Leg(heating=False, seconds=pace.stir_s(session.job.station.pace), number=1)
    course = _course(session, part, known)
    ends = known
    for leg in (*known.legs, stir):
        ends = course.through(ends, leg)
    return replace(known, legs=(*known.legs, stir, *planned(session, part, ends, done=1)))


def _busy_s(session: Session, part: Part) -> float:
    """How long the heater still has another cup."""
    others = (known for other, known in session.cups.items() if other is not part and known.bursting)
    return max((sum(leg.seconds for leg in known.legs) for known in others), default=0.0)


def _moulds_on_heat(session: Session) -> Session:
    for number in _warming_from(session):
        known = session.moulds[number]
        if known.target_c is None:
            session = with_mould(session, number, put_to_warm(session, known))
    return session


def _cup_for(session: Session, step: Step, at: Stamp) -> tuple[Session, Warmth]:
    """The cup that the step heats, just filled where another melt was in it."""
    part = step.parts[0]
    known = session.cups.get(part)
    if known is not None and known.melt == step.melt:
        return session, known
    return _filled(session, part, step.melt, at)


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
