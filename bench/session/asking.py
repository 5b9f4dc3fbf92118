"""When the one key asks before it goes on: where a press could be a mistake that hot plastic does not forgive."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.session.aside import old_cup
from bench.session.beginning import begins
from bench.session.clocks import remaining_s
from bench.session.cooldown import cool_down
from bench.session.reheating import SHOTS, cold_cup, hot_cup, spoilt_cup
from bench.session.session import Session, State
from bench.session.stamp import Stamp, span
from bench.session.step import Ending
from bench.session.verdicts import Subject, standing
from bench.session.warmth import cup_carried, cup_now


class Asked(StrEnum):
    """Why the key asks, in words that end a sentence."""

    SCORCHED = "the cup was over its scorch limit and is still hot: it stays where it is"
    OLD_HOT = "the old cup is still too hot to be lifted out"
    COOLED = "nobody has read the cup cool"
    UNREAD = "not read since its last burst, nor in its band"
    SOLID = "it is not liquid, it cannot be shot"
    DOUBT = "the last reading is still in doubt"
    NO_READING = "no reading in the band yet"
    EARLY = "it is not over yet"
    COLD = "the cup is under its band"
    HOT = "the cup is over its band"
    BUSY = "the heater still has the other cup"
    NO_VERDICT = "no verdict yet: one digit says what you see"


INSISTED = frozenset({Asked.SCORCHED, Asked.UNREAD, Asked.SOLID})
"""What the one key never answers, however often it is pressed: a foot on a pedal does not look into the cup. A
reading does, a reason to skip, or, where it may be taken so, the key that says that it was read."""

LOOKED_AT: Mapping[StepKind, Subject] = {
    StepKind.LOOK_AT_SHELLS: Subject.SHELLS,
    StepKind.LOOK_AT_BAITS: Subject.BAITS,
}
"""What is judged at which step."""

_WAITED_FOR = frozenset({StepKind.HOLD, StepKind.SET, StepKind.PURGE_AIR, StepKind.REST_MOULD})
"""Clocks that stand for something physical: left early, a mould opens on soft plastic, a room on its fumes."""


def asks_first(session: Session, now: Stamp) -> Asked | None:
    """Why pressing the one key now asks for a second press; None where it simply goes on."""
    if session.state not in (State.RUNNING, State.STOPPING) or session.next_step is None or session.alarm:
        return None
    if spoilt_cup(session) is not None:
        return _of_its_scorch(session, now)
    if session.waits_for_aside or (session.step.kind is StepKind.HEAT_ON and session.aside is not None):
        return _of_the_old_cup(session, now) or (None if session.waits_for_aside else _of_the_step(session, now))
    return _of_the_step(session, now)


def _of_the_step(session: Session, now: Stamp) -> Asked | None:
    if begins(session, now):
        busy = Asked.BUSY if session.visit.to_begin and _is_busy(session, now) else None
        return busy if session.doubted is None else Asked.DOUBT
    plastic = _of_its_plastic(session, now)
    if plastic is not None or session.doubted is not None:
        return plastic or Asked.DOUBT
    if session.step.ending is Ending.READING:
        return Asked.NO_READING
    if session.step.kind in _WAITED_FOR and remaining_s(session, now) > 0:
        return Asked.EARLY
    if session.step.kind is StepKind.HEAT_ON and _is_busy(session, now):
        return Asked.BUSY
    if session.step.kind in LOOKED_AT and not _is_judged(session, LOOKED_AT[session.step.kind]):
        return Asked.NO_VERDICT
    return _of_its_cup(session, now)


def _of_its_scorch(session: Session, now: Stamp) -> Asked | None:
    """Whether a cup that is to be thrown away may be touched by now: an estimate never says so for sure."""
    cooling = cool_down(session, now)
    if cooling is None or (cooling.is_read and session.doubted is None):
        return None
    return Asked.COOLED if cooling.left_s == 0 else Asked.SCORCHED


def _of_the_old_cup(session: Session, now: Stamp) -> Asked | None:
    """Whether an old cup that stands on the heater can be lifted out by now."""
    old = old_cup(session, now)
    if old is None or (old.is_read and session.doubted is None):
        return None
    return Asked.COOLED if old.left_s == 0 else Asked.OLD_HOT


def _of_its_plastic(session: Session, now: Stamp) -> Asked | None:
    """What would heat or shoot plastic that is not fit for it, whatever else is asked."""
    if is_unread(session, now):
        return Asked.UNREAD
    return None if solid_c(session, now) is None else Asked.SOLID


def is_unread(session: Session, now: Stamp) -> bool:
    """Whether a heating has a cup that was not read at it since its last burst, and is not in its band by the
    estimate either."""
    step = session.step
    if step.kind is not StepKind.HEAT or step.band_c is None:
        return False
    known = session.cups.get(step.parts[0])
    if known is not None and known.measured is not None:
        is_of_this_stay = (
            known.measured == session.visit.entered or span(session.visit.entered, known.measured).seconds
        )
        if is_of_this_stay and cup_carried(session, step.parts[0], now).on_s == 0:
            return False
    estimate = cup_now(session, step.parts[0], now)
    low_c, high_c = step.band_c
    return estimate is None or not low_c <= estimate.temp_c <= high_c


def solid_c(session: Session, now: Stamp) -> float | None:
    """How cold the coldest cup of the present shot is, where it does not flow; None where all do."""
    return min(solid_cups_c(session, now).values(), default=None)


def solid_cups_c(session: Session, now: Stamp) -> Mapping[Part, float]:
    """How cold those cups of the present shot are that do not flow."""
    if session.state is not State.RUNNING or session.step.kind not in SHOTS:
        return {}
    room_c, gel_c = session.job.station.room.temperature_c, session.job.plastic.gel_c
    estimates = {part: cup_now(session, part, now) for part in session.step.parts}
    known_c = {part: estimate.temp_c for part, estimate in estimates.items() if estimate is not None}
    never_heated = {part: room_c for part in estimates if part not in session.cups}
    return {part: temp_c for part, temp_c in {**known_c, **never_heated}.items() if temp_c <= gel_c}


def may_be_taken(session: Session, why: Asked, now: Stamp) -> bool:
    """Whether the maker's word alone answers a question that the one key never does. What a thermometer has shown
    solid is not talked liquid: only where nobody ever read the cup can the estimate be all that is wrong."""
    if why is not Asked.SOLID:
        return True
    solid = (session.cups.get(part) for part in solid_cups_c(session, now))
    return all(known is None or known.measured is None for known in solid)


def _is_judged(session: Session, subject: Subject) -> bool:
    """Whether these of this round have a verdict: what nobody said of them teaches nothing."""
    return bool(standing(session.verdicts, session.step.round, subject))


def _of_its_cup(session: Session, now: Stamp) -> Asked | None:
    """A cup that is outside its band by more than its estimate is known to."""
    if cold_cup(session, now, surely=True) is not None:
        return Asked.COLD
    return None if hot_cup(session, now) is None else Asked.HOT


def _is_busy(session: Session, now: Stamp) -> bool:
    """Whether another cup's burst is on."""
    others = set(session.cups) - set(session.step.parts)
    return any(cup_carried(session, part, now).bursting for part in others)
