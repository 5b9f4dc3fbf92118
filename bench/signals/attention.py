"""When to call the maker: once for what has come up, again and again while an alarm stands."""

from __future__ import annotations

from dataclasses import dataclass

from bench.session.stamp import Stamp, span
from bench.signals.bell import Signal

ALARM_EVERY_S = 4.0
"""Between the calls of an alarm that nobody has acknowledged (common practice, no source)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Heard:
    """What the maker has been called for: the alarm's latest call, and the reminders that have had theirs."""

    alarm: Stamp | None = None
    reminders: frozenset[str] = frozenset()


@dataclass(frozen=True, kw_only=True, slots=True)
class Calls:
    """What there is to call for at a moment. ``pace`` is how many seconds of the session pass in one of the
    maker's."""

    now: Stamp
    step_over: bool
    alarm: bool
    reminders: frozenset[str]
    pace: float = 1.0


def listen(heard: Heard, calls: Calls) -> tuple[Heard, Signal | None]:
    """What has been called for after this moment, and the signal to give now; the most urgent one stands alone."""
    again = Heard(alarm=heard.alarm if calls.alarm else None, reminders=heard.reminders & calls.reminders)
    if calls.alarm:
        if again.alarm is not None and span(again.alarm, calls.now).seconds < ALARM_EVERY_S * calls.pace:
            return again, None
        return Heard(alarm=calls.now, reminders=calls.reminders), Signal.STOP_NOW
    if calls.reminders - again.reminders:
        return Heard(reminders=calls.reminders), Signal.ATTENTION
    return again, Signal.STEP_OVER if calls.step_over else None
