"""When to call the maker: once for what has come up, again and again while an alarm stands."""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.recipe import Part
from bench.session.stamp import Stamp, span
from bench.signals.bell import Signal

ALARM_EVERY_S = 4.0
"""Between the calls of an alarm that nobody has acknowledged (common practice, no source)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Heard:
    """What the maker has been called for: the alarm's latest call, the reminders that have had theirs, and
    the cups whose burst has been called over."""

    alarm: Stamp | None = None
    reminders: frozenset[str] = frozenset()
    bursts: frozenset[Part] = frozenset()


@dataclass(frozen=True, kw_only=True, slots=True)
class Calls:
    """What there is to call for at a moment: ``bursts`` are the cups whose burst ran by itself and is over.
    ``pace`` is how many seconds of the session pass in one of the maker's."""

    now: Stamp
    step_over: bool
    alarm: bool
    reminders: frozenset[str]
    bursts: frozenset[Part] = frozenset()
    pace: float = 1.0


def listen(heard: Heard, calls: Calls) -> tuple[Heard, Signal | None]:
    """What has been called for after this moment, and the signal to give now; the most urgent one stands alone."""
    reminders, bursts = heard.reminders & calls.reminders, heard.bursts & calls.bursts
    again = Heard(alarm=heard.alarm if calls.alarm else None, reminders=reminders, bursts=bursts)
    if calls.alarm:
        if again.alarm is not None and span(again.alarm, calls.now).seconds < ALARM_EVERY_S * calls.pace:
            return again, None
        return Heard(alarm=calls.now, reminders=calls.reminders, bursts=calls.bursts), Signal.STOP_NOW
    if calls.reminders - reminders or calls.bursts - bursts:
        return Heard(reminders=calls.reminders, bursts=calls.bursts), Signal.ATTENTION
    return again, Signal.STEP_OVER if calls.step_over else None
