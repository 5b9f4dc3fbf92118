"""When a burst begins: with the maker's word that the cup is on the heat, not with the end of the step before.

The first burst of a heating waits for that word, the cup cools until then. A later one follows its reading after
the time that hands take to put the cup back, unless the word comes sooner, or a little later.
"""

from __future__ import annotations

from dataclasses import replace

from bench.model.step_kind import StepKind
from bench.plan.work import HEAT_ON_S, LEAST_HEAT_S
from bench.session import aside
from bench.session.clocks import waited
from bench.session.events import CupRead
from bench.session.session import Session, State
from bench.session.stamp import Stamp, span
from bench.session.stepping import first_burst_s, on_heat
from bench.session.warmth import anchored, cup_now, stopped, taken_off, with_cup
from bench.units import Seconds


def burst_to_set_s(session: Session, now: Stamp) -> Seconds | None:
    """How long the burst is to be that a heating waits for; 0 where its cup is hot enough without one, and where
    the maker has come back to a cup in its band. None where none is waited for."""
    if not session.visits or not session.visit.to_begin or session.waits_for_aside:
        return None
    if session.is_scorched(session.step.parts[0], session.step.melt):
        return None
    if session.visit.revisited and _is_in_band(session, now):
        return 0.0
    seconds = first_burst_s(session, session.step, now)
    return seconds if seconds >= LEAST_HEAT_S else 0.0


def begins(session: Session, now: Stamp) -> bool:
    """Whether the one key says that the cup of the present heating is on the heat."""
    if session.state is not State.RUNNING or session.step.kind is not StepKind.HEAT:
        return False
    if session.waits_for_aside:
        return True
    return bool(burst_to_set_s(session, now)) or is_put_back(session, now)


def is_put_back(session: Session, now: Stamp) -> bool:
    """Whether a cup that was read is on its way back to the heat, or was reckoned to be there a moment ago."""
    known = None if session.waits_to_begin else session.cups.get(session.step.parts[0])
    if known is None or len(known.legs) < 2 or not known.legs[0].back:
        return False
    back, burst, *_ = known.legs
    return span(known.at, now).seconds < back.seconds + min(HEAT_ON_S, burst.seconds)


def begun(session: Session, at: Stamp) -> Session:
    """The heating begins that waited; its clock counts from here. There is one heater: a burst of another cup is
    over."""
    if not session.visit.to_begin:
        return aside.begun(session, at)
    session = aside.out_of_the_way(anchored(session, at))
    if isinstance(session.doubted, CupRead):
        session = replace(session, doubted=None)
    for other in set(session.cups) - set(session.step.parts):
        if session.cups[other].bursting:
            session = stopped(session, other)
    heated = waited(on_heat(session, session.step, at), at)
    *before, here = heated.visits
    return replace(heated, visits=(*before, replace(here, to_begin=False, begun=at)))


def said_on(session: Session, at: Stamp) -> Session:
    """The burst after a reading counts from here: putting the cup back took as long as it took."""
    part = session.step.parts[0]
    known = session.cups[part]
    back, burst, *later = known.legs
    took = replace(back, seconds=span(known.at, at).seconds, back=False)
    *before, here = session.visits
    said = replace(session, visits=(*before, replace(here, begun=at)))
    return with_cup(said, part, replace(known, legs=(took, replace(burst, said=True), *later)))


def is_taken_back(session: Session) -> bool:
    """Whether the last press was the word that the cup is on the heat, so that it can be taken back: nobody has
    read the cup since, and no old cup was lifted out for it."""
    if session.step.kind is not StepKind.HEAT or session.waits_to_begin or session.visit.begun is None:
        return False
    part = session.step.parts[0]
    known = session.cups.get(part)
    if known is None or (session.aside is not None and (part, session.step.melt) in session.anew_from):
        return False
    return known.measured is None or span(known.measured, session.visit.begun).seconds > 0


def taken_back(session: Session, at: Stamp) -> Session:
    """The heating waits again. What it was reckoned to have had stays: nobody knows how much of it was so, and too
    short a burst does no harm."""
    off = taken_off(session, session.step.parts[0], at)
    *before, here = off.visits
    return replace(off, visits=(*before, replace(here, to_begin=True, begun=None)), doubted=None)


def _is_in_band(session: Session, now: Stamp) -> bool:
    estimate = cup_now(session, session.step.parts[0], now)
    low_c, high_c = session.job.plastic.band_c
    return estimate is not None and low_c <= estimate.temp_c <= high_c
