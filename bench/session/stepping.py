"""What leaving one step and entering another does to what is hot: on the heat, off it, filled, shot from."""

from __future__ import annotations

import math
from dataclasses import replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.physics.mould import after_shot_c, shot_heat_j
from bench.plan import pace
from bench.session import bursts
from bench.session.bodies import cup_of, mould_block, shot_g_per_ml
from bench.session.choices import shot_ml
from bench.session.corrections import CupMark
from bench.session.planned import planned
from bench.session.session import Session, Warmth
from bench.session.stamp import Stamp
from bench.session.step import Ending, Step
from bench.session.warming import put_to_warm
from bench.session.warmth import (
    ROOM_SPREAD_K,
    anchored,
    course_of,
    cup_carried,
    mould_carried,
    stopped,
    with_cup,
    with_mould,
)

DECLARED_SPREAD_K = 3.0
"""Starting value: a cup that is only said to be ready lies somewhere in a band of ten degrees."""

SHOT_HEAT_SPREAD = 0.15
"""Starting value: how far the heat that a shot leaves in its mould may be from the reckoned."""


def moved(before: Session, after: Session, at: Stamp, *, by: Ending | None) -> Session:
    """``after`` with the anchors that leaving one step and entering another sets.

    Leaving a heating step by hand says that the cup is ready, whatever the estimate was.
    """
    left, entered = before.step, after.step
    session = _off_heat(before, after, at)
    if left.kind is StepKind.HEAT_ON and by is not None:
        session = _left_alone(session, left, at)
    elif left.kind is StepKind.HEAT_ON and len(after.visits) > len(before.visits):
        session = stopped(session, left.parts[0])
    elif left.heats and by is Ending.HAND:
        session = _declared_ready(session, left)
    if by is not None and left.shot_ml is not None:
        session = _shot(session, left)
    return _entered(session, entered, at)


def _entered(session: Session, step: Step, at: Stamp) -> Session:
    """What the step heats is on the heat, unless it waits for the maker to say so: of a cup whose burst ran by
    itself that was said before."""
    if step.kind is not StepKind.HEAT or not step.waits or session.is_scorched(step.parts[0], step.melt):
        return on_heat(session, step, at)
    part, known = step.parts[0], session.cups.get(step.parts[0])
    was_begun = known is not None and known.by_itself and known.melt == step.melt and not session.waits_for_aside
    *before, here = session.visits
    session = replace(session, visits=(*before, replace(here, to_begin=not was_begun, begun=None)))
    if was_begun:
        return on_heat(session, step, at)
    if session.waits_for_aside and session.aside is not None and session.aside.part is part:
        return session
    session, known = _cup_for(session, step, at)
    return with_cup(session, part, known)


def first_burst_s(session: Session, step: Step, now: Stamp) -> float:
    """How long the first burst of that step is, from what its cup is estimated to be; 0 for one that is hot."""
    part = step.parts[0]
    session, warmth = _cup_for(anchored(session, now), step, now)
    legs = planned(session, part, replace(warmth, target_c=_middle_c(session)), done=0)
    return legs[0].seconds if legs else 0.0


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
        heated = _begun(session, part, known)
    session = with_cup(session, part, replace(heated, legs=(*waits, *heated.legs), by_itself=False, off_s=0.0))
    *earlier, here = session.visits
    return replace(session, visits=(*earlier, replace(here, waits_s=busy)))


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
            session = stopped(session, part)
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
        session = stopped(session, other)
    session, known = _cup_for(session, left, at)
    known = replace(known, target_c=_middle_c(session), by_itself=True, off_s=0.0)
    burst = tuple(leg for leg in planned(session, part, known, done=0)[:1] if leg.heating)
    return with_cup(session, part, replace(known, legs=burst, target_c=known.target_c if burst else None))


def _middle_c(session: Session) -> float:
    return sum(session.job.plastic.band_c) / 2


def _begun(session: Session, part: Part, known: Warmth) -> Warmth:
    """Its bursts from where it is, the first of them from this moment on."""
    legs = _said(session.step, planned(session, part, known, done=bursts.done(known.legs)))[
        int(session.step.waits) :
    ]
    return replace(known, legs=legs or bursts.left(known.legs, math.inf))


def _finishing(session: Session, part: Part, known: Warmth) -> Warmth:
    """What is left of the burst that ran by itself, its stir, and the bursts after it."""
    stir = bursts.Leg(heating=False, seconds=pace.stir_s(session.job.station.pace), number=1)
    course = course_of(session, part, known)
    ends = known
    for leg in (*known.legs, stir):
        ends = course.through(ends, leg)
    later = _said(session.step, planned(session, part, ends, done=1))
    return replace(known, legs=(*known.legs, stir, *later))


def _said(step: Step, legs: tuple[bursts.Leg, ...]) -> tuple[bursts.Leg, ...]:
    """The legs with a wait before each burst, where bursts wait for the maker."""
    return bursts.each_said(legs) if step.waits else legs


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
