"""How a cup that was over its scorch limit cools where it stands, until it may be touched.

Reckoned as any cup that stands, down to what bare hands bear (``bench.physics.touch``). An estimate, never a safe
limit: its middle stays hot longer than the cup as a whole, so that a reading counts for more.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.physics.cup import Cup, seconds_until
from bench.physics.touch import BARE_C
from bench.plan import pace
from bench.session.bodies import cup_of
from bench.session.reheating import spoilt_cup
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.warmth import cup_carried
from bench.units import Celsius


@dataclass(frozen=True, kw_only=True, slots=True)
class CoolDown:
    """The part's cup cools for about ``left_s``, 0 once it is cool by the estimate, None in a room so warm that it
    never is. ``is_read`` says that a thermometer has shown it cool."""

    part: Part
    left_s: float | None
    is_read: bool


def cool_down(session: Session, now: Stamp) -> CoolDown | None:
    """The cup of the present step that is to be thrown away; None where none is."""
    part = spoilt_cup(session)
    if part is None:
        return None
    read_c = session.cups[part].read_c
    is_read = read_c is not None and read_c <= BARE_C
    return CoolDown(part=part, left_s=0.0 if is_read else _left_s(session, part, now), is_read=is_read)


def anew_s(session: Session, cooling: CoolDown) -> float:
    """About how long it takes until another cup is as hot as that one should be: cooled, weighed, heated from
    cold."""
    melt = session.cups[cooling.part].melt
    heats = [
        step
        for step in session.job.script
        if step.kind in (StepKind.HEAT_ON, StepKind.HEAT) and (step.parts, step.melt) == ((cooling.part,), melt)
    ]
    first = heats[: 2 if heats and heats[0].kind is StepKind.HEAT_ON else 1]
    heat_s = sum(step.length_s + (step.burst_s or 0.0) for step in first)
    return (cooling.left_s or 0.0) + pace.weigh_s(session.job.station.pace) + heat_s


def until_touched_s(session: Session, cup: Cup, temp_c: Celsius) -> float | None:
    """How long a standing cup at that temperature takes until bare hands bear it, 0 where they do; None in a room
    so warm that it never is."""
    room_c = session.job.station.room.temperature_c
    if room_c >= BARE_C:
        return None
    loss_factor = session.corrections.cup_loss_factor
    return seconds_until(cup, start_c=temp_c, until_c=BARE_C, room_c=room_c, loss_factor=loss_factor)


def _left_s(session: Session, part: Part, now: Stamp) -> float | None:
    known = cup_carried(session, part, now)
    return until_touched_s(session, cup_of(session, part, known.melt), known.temp_c)
