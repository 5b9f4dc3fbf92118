from __future__ import annotations

from collections.abc import Callable

import pytest

from bench.signals.bell import PATTERNS, Bell, Signal


class Rung:
    """Notes when the bell sounds: at once, or so many seconds later."""

    def __init__(self) -> None:
        self.at_s: list[float] = []
        self.bell = Bell(ring=lambda: self.at_s.append(0.0), later=self.later)

    def later(self, seconds: float, ring: Callable[[], None]) -> None:
        ring()
        self.at_s[-1] = seconds


@pytest.mark.parametrize(("signal", "at_s"), [(Signal.STEP_OVER, [0.0]), (Signal.ATTENTION, [0.0, 0.5])])
def test_a_signal_rings_its_pattern(signal: Signal, at_s: list[float]) -> None:
    rung = Rung()
    rung.bell.sound(signal)
    assert rung.at_s == at_s


def test_the_more_urgent_the_more_rings() -> None:
    assert [PATTERNS[signal].rings for signal in Signal] == sorted({PATTERNS[signal].rings for signal in Signal})


def test_every_pattern_is_over_before_an_alarm_calls_again() -> None:
    for pattern in PATTERNS.values():
        assert pattern.rings * pattern.gap_s < 4.0
