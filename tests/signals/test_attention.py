from __future__ import annotations

from bench.signals.attention import Calls, Heard, listen
from bench.signals.bell import Signal
from tests.tui.at_the_bench import at


def calls(
    seconds: float, *, over: bool = False, alarm: bool = False, remind: str = "", pace: float = 1.0
) -> Calls:
    return Calls(now=at(seconds), step_over=over, alarm=alarm, reminders=frozenset({remind} - {""}), pace=pace)


def signals(*moments: Calls) -> list[Signal | None]:
    heard, given = Heard(), []
    for moment in moments:
        heard, signal = listen(heard, moment)
        given.append(signal)
    return given


def test_a_step_that_ends_by_itself_is_called_once() -> None:
    assert signals(calls(0, over=True), calls(0.25), calls(0.5)) == [Signal.STEP_OVER, None, None]


def test_an_alarm_calls_again_until_it_is_gone() -> None:
    seconds = [0, 1, 3.9, 4, 5, 8, 9]
    given = signals(*(calls(second, alarm=second < 9) for second in seconds))
    assert given == [Signal.STOP_NOW, None, None, Signal.STOP_NOW, None, Signal.STOP_NOW, None]


def test_a_second_alarm_calls_at_once() -> None:
    given = signals(calls(0, alarm=True), calls(1), calls(2, alarm=True))
    assert given == [Signal.STOP_NOW, None, Signal.STOP_NOW]


def test_a_rehearsed_alarm_keeps_the_makers_time() -> None:
    given = signals(
        calls(0, alarm=True, pace=60), calls(100, alarm=True, pace=60), calls(240, alarm=True, pace=60)
    )
    assert given == [Signal.STOP_NOW, None, Signal.STOP_NOW]


def test_a_reminder_calls_once_and_again_when_it_comes_back() -> None:
    given = signals(calls(0, remind="fan"), calls(1, remind="fan"), calls(2), calls(600, remind="fan"))
    assert given == [Signal.ATTENTION, None, None, Signal.ATTENTION]


def test_the_most_urgent_stands_alone() -> None:
    assert signals(calls(0, over=True, alarm=True, remind="fan")) == [Signal.STOP_NOW]
    assert signals(calls(0, over=True, remind="fan")) == [Signal.ATTENTION]
