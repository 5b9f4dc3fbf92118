"""A cup that left its band while its shot is at hand: which it is, and the heating that it goes back to."""

from __future__ import annotations

from collections.abc import Callable

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.physics.cup import seconds_until
from bench.physics.fitting import READING_NOISE_C
from bench.session.bodies import cup_of
from bench.session.session import Session, State
from bench.session.stamp import Stamp
from bench.session.step import Step
from bench.session.warmth import cup_carried, cup_now

SHOTS = frozenset({StepKind.SHOT, StepKind.WARM_UP_SHOT})


def cold_cup(session: Session, now: Stamp, *, surely: bool = False) -> Part | None:
    """The cup of the present shot that is furthest under its band, None where none is; ``surely`` by more than a
    reading could be off, unless the maker has come back to that shot."""
    low_c = session.job.plastic.band_c[0]
    known_to_k = _known_to_k(session) if surely else 0.0
    return _worst(session, now, lambda temp_c, spread_k: low_c - temp_c - min(spread_k, known_to_k))


def hot_cup(session: Session, now: Stamp) -> Part | None:
    """The cup of the present shot that is furthest over its band, by more than a reading could be off,
    unless the maker has come back to that shot."""
    high_c, known_to_k = session.job.plastic.band_c[1], _known_to_k(session)
    return _worst(session, now, lambda temp_c, spread_k: temp_c - high_c - min(spread_k, known_to_k))


def _known_to_k(session: Session) -> float:
    """An estimate that is vague is no reason to ask less: only what a thermometer leaves open is, and that was
    seen before by whoever came back."""
    return 0.0 if session.visits and session.visit.revisited else READING_NOISE_C


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


def spoilt_cup(session: Session) -> Part | None:
    """The cup that the present step would heat or shoot although it was read over its scorch limit: it is thrown
    away instead. None where there is none."""
    step = session.step
    if session.state is not State.RUNNING or step.kind not in (*SHOTS, StepKind.HEAT_ON, StepKind.HEAT):
        return None
    for part in step.parts:
        known = session.cups.get(part)
        is_of_it = known is not None and (step.kind in SHOTS or known.melt == step.melt)
        if known is not None and is_of_it and session.is_scorched(part, known.melt):
            return part
    return None


def can_be_shot(session: Session, part: Part, melt: int, now: Stamp) -> bool:
    """Whether that melt of the part is fit for its shot by what is known: read, off the heat for good, liquid, and
    never over its scorch limit."""
    known = session.cups.get(part)
    if known is None or known.melt != melt or known.measured is None or session.is_scorched(part, melt):
        return False
    carried, estimate = cup_carried(session, part, now), cup_now(session, part, now)
    is_at_the_heater = session.step.kind is StepKind.HEAT and part in session.step.parts
    if estimate is None or is_at_the_heater or carried.by_itself or carried.target_c is not None:
        return False
    return estimate.temp_c > session.job.plastic.gel_c


def heating_before(session: Session, part: Part) -> int | None:
    """The place in the script of the last heating of that part's cup before the present step, with what is in it
    now; None where there was none."""
    known = session.cups.get(part)
    if known is None or not session.visits:
        return None
    before = range(session.visit.index - 1, -1, -1)
    return next((place for place in before if _heats(session.job.script[place], part, known.melt)), None)


def _heats(step: Step, part: Part, melt: int) -> bool:
    return step.kind is StepKind.HEAT and step.parts == (part,) and step.melt == melt


def _worst(session: Session, now: Stamp, beyond_k: Callable[[float, float], float]) -> Part | None:
    if session.state is not State.RUNNING or session.step.kind not in SHOTS:
        return None
    cups = {part: cup_now(session, part, now) for part in session.step.parts}
    beyond = {part: beyond_k(cup.temp_c, cup.spread_k) for part, cup in cups.items() if cup is not None}
    worst = max(beyond, key=lambda part: beyond[part], default=None)
    return worst if worst is not None and beyond[worst] > 0 else None
