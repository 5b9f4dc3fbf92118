"""When the one key asks before it goes on: where a press could be a mistake that hot plastic does not forgive."""

from __future__ import annotations

from enum import StrEnum

from bench.model.step_kind import StepKind
from bench.session.clocks import remaining_s
from bench.session.reheating import cold_cup, hot_cup
from bench.session.session import Session, State
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.warmth import cup_carried


class Asked(StrEnum):
    """Why the key asks, in words that end a sentence."""

    DOUBT = "the last reading is still in doubt"
    NO_READING = "no reading in the band yet"
    EARLY = "it is not over yet"
    COLD = "the cup is under its band"
    HOT = "the cup is over its band"
    BUSY = "the heater still has the other cup"


_WAITED_FOR = frozenset({StepKind.HOLD, StepKind.SET, StepKind.PURGE_AIR, StepKind.REST_MOULD})
"""Clocks that stand for something physical: left early, a mould opens on soft plastic, a room on its fumes."""


def asks_first(session: Session, now: Stamp) -> Asked | None:
    """Why pressing the one key now asks for a second press; None where it simply goes on."""
    if session.state not in (State.RUNNING, State.STOPPING) or session.next_step is None or session.alarm:
        return None
    if session.doubted is not None:
        return Asked.DOUBT
    if session.step.ending is Ending.READING:
        return Asked.NO_READING
    if session.step.kind in _WAITED_FOR and remaining_s(session, now) > 0:
        return Asked.EARLY
    if session.step.kind is StepKind.HEAT_ON and _is_busy(session, now):
        return Asked.BUSY
    return _of_its_cup(session, now)


def _of_its_cup(session: Session, now: Stamp) -> Asked | None:
    """A cup that is outside its band by more than its estimate is known to."""
    if cold_cup(session, now, surely=True) is not None:
        return Asked.COLD
    return None if hot_cup(session, now) is None else Asked.HOT


def _is_busy(session: Session, now: Stamp) -> bool:
    """Whether another cup's burst is on."""
    others = set(session.cups) - set(session.step.parts)
    return any(cup_carried(session, part, now).bursting for part in others)
