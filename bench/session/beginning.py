"""When a burst begins: with the maker's word that the cup is on the heat, never by itself.

Until then the cup cools, whatever was planned. A burst ends with the heater's own timer, and the one after it
waits again: nothing is reckoned to be heated, and nothing learnt of the heater, that nobody put on it.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from bench.model.step_kind import StepKind
from bench.plan.work import LEAST_HEAT_S
from bench.session import aside
from bench.session.bursts import Leg
from bench.session.clocks import waited
from bench.session.events import CupRead
from bench.session.session import Session, State
from bench.session.stamp import Stamp, span
from bench.session.stepping import first_burst_s, on_heat
from bench.session.warmth import anchored, cup_carried, cup_now, stopped, taken_off
from bench.units import Seconds

_KEPT = 4
"""A moment asks for the same burst for its key, its words and its figure."""


@lru_cache(maxsize=_KEPT)
def burst_to_set_s(session: Session, now: Stamp) -> Seconds | None:
    """How long the burst is to be that a heating waits for; 0 where its cup is hot enough without one, and where
    the maker has come back to a cup in its band. None where none is waited for."""
    if not session.visits or session.waits_for_aside or not _waits(session, now):
        return None
    if session.is_scorched(session.step.parts[0], session.step.melt):
        return None
    if session.visit.revisited and _is_in_band(session, now):
        return 0.0
    seconds = first_burst_s(session, session.step, now)
    return seconds if seconds >= LEAST_HEAT_S or _is_under_band(session, now) else 0.0


def burst_at_hand_s(session: Session, now: Stamp) -> Seconds | None:
    """The same where it is next to be set: while the session is held, or a reading is in doubt, the key means
    something else."""
    is_next = session.state is not State.HELD and session.doubted is None
    return burst_to_set_s(session, now) if is_next else None


def begins(session: Session, now: Stamp) -> bool:
    """Whether the one key says that the cup of the present heating is on the heat. Whoever stirs faster than
    planned need not wait for the next burst."""
    if session.state is not State.RUNNING or session.step.kind is not StepKind.HEAT:
        return False
    if session.waits_for_aside:
        return True
    return bool(burst_to_set_s(session, now)) or _is_stirred(session, now)


def _waits(session: Session, now: Stamp) -> bool:
    """Whether nothing of the present heating is on, nor was a moment ago: its next burst is due, or all that were
    planned are over and the cup is under its band."""
    if session.visit.to_begin:
        return True
    legs = _legs(session, now)
    if not legs:
        return False
    is_over = not legs[0].heating and legs[0].seconds <= 0
    return legs[0].waits or (is_over and session.step.waits and _is_under_band(session, now))


def _is_stirred(session: Session, now: Stamp) -> bool:
    """Whether the cup is stirred and another burst is planned after that."""
    legs = _legs(session, now)
    return len(legs) > 1 and not legs[0].heating and legs[1].waits


def _legs(session: Session, now: Stamp) -> tuple[Leg, ...]:
    part = session.step.parts[0] if session.step.kind is StepKind.HEAT else None
    if part is None or part not in session.cups or session.cups[part].melt != session.step.melt:
        return ()
    return cup_carried(session, part, now).legs


def begun(session: Session, at: Stamp) -> Session:
    """The burst begins that waited; the clock of its heating counts from its first one. There is one heater: a
    burst of another cup is over."""
    if session.waits_for_aside and not session.visit.to_begin:
        return aside.begun(session, at)
    was = session.visit
    session = aside.out_of_the_way(anchored(session, at))
    if isinstance(session.doubted, CupRead):
        session = replace(session, doubted=None)
    for other in set(session.cups) - set(session.step.parts):
        if session.cups[other].bursting:
            session = stopped(session, other)
    heated = on_heat(session, session.step, at)
    if was.to_begin:
        heated = waited(heated, at)
    *before, here = heated.visits
    here = replace(here, to_begin=False, begun=at) if was.to_begin else replace(was, begun=at)
    return replace(heated, visits=(*before, here))


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


def _is_under_band(session: Session, now: Stamp) -> bool:
    estimate = cup_now(session, session.step.parts[0], now)
    return estimate is not None and estimate.temp_c < session.job.plastic.band_c[0]


def _is_in_band(session: Session, now: Stamp) -> bool:
    estimate = cup_now(session, session.step.parts[0], now)
    low_c, high_c = session.job.plastic.band_c
    return estimate is not None and low_c <= estimate.temp_c <= high_c
