from __future__ import annotations

import pytest

from bench.tui.pour.keys import Latest, Press, Stroke, is_repeat, stroke_of


@pytest.mark.parametrize(
    ("key", "press"),
    [
        ("space", Press.FORWARD),
        ("enter", Press.FORWARD),
        ("pagedown", Press.FORWARD),
        ("b", Press.BACK),
        ("backspace", Press.BACK),
        ("pageup", Press.BACK),
        ("A", Press.ACKNOWLEDGE),
        ("a", Press.ACKNOWLEDGE),
        ("question_mark", Press.HELP),
    ],
)
def test_keys(key: str, press: Press) -> None:
    assert stroke_of(key) == Stroke(press=press)


def test_digits_carry_their_number() -> None:
    assert [stroke_of(str(digit)) for digit in range(10)] == [
        Stroke(press=Press.DIGIT, digit=digit) for digit in range(10)
    ]


@pytest.mark.parametrize("key", ["f13", "ctrl+q", "ctrl+c", "z", "\x19", "tab"])
def test_other_keys_mean_nothing(key: str) -> None:
    assert stroke_of(key) is None


def test_a_held_key_counts_once() -> None:
    """The first repeat after 0.66 s, then 30 a second, for 5 s: one press."""
    presses = [0.0, *(0.66 + place / 30 for place in range(130))]
    latest, counted = None, 0
    for at_s in presses:
        counted += not is_repeat(latest, Press.FORWARD, at_s)
        latest = Latest(press=Press.FORWARD, at_s=at_s)
    assert counted == 1


def test_a_new_press_counts_after_a_rest_and_another_key_at_once() -> None:
    latest = Latest(press=Press.FORWARD, at_s=10.0)
    assert is_repeat(latest, Press.FORWARD, 10.7)
    assert not is_repeat(latest, Press.FORWARD, 10.9)
    assert not is_repeat(latest, Press.BACK, 10.1)
    assert not is_repeat(None, Press.FORWARD, 0.0)


def test_digits_are_never_taken_for_a_held_key() -> None:
    assert not is_repeat(Latest(press=Press.DIGIT, at_s=10.0), Press.DIGIT, 10.05)
