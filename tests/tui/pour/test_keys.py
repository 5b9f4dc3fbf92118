from __future__ import annotations

import pytest

from bench.model.key_names import Action
from bench.tui.pour.keys import (
    PRESSES,
    REPEAT_S,
    USUAL,
    Counts,
    Keyboard,
    Latest,
    Press,
    Stroke,
    counts,
    following,
    key_for,
)


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
    assert USUAL.stroke_of(key) == Stroke(press=press)


def test_chosen_keys_take_the_place_of_the_usual_ones() -> None:
    chosen = Keyboard({Action.FORWARD: ("f9", "space"), Action.HELP: (".",)})
    assert [chosen.stroke_of(key) for key in ("f9", "space", "enter", "full_stop")] == [
        *(Stroke(press=Press.FORWARD),) * 3,
        Stroke(press=Press.HELP),
    ]
    assert chosen.stroke_of("pagedown") is None
    assert chosen.stroke_of("question_mark") is None
    assert chosen.stroke_of("b") == Stroke(press=Press.BACK)
    assert chosen.stroke_of("7") == Stroke(press=Press.DIGIT, digit=7)


def test_every_action_has_its_press_and_its_usual_keys() -> None:
    assert set(PRESSES) == set(Action)
    assert set(PRESSES.values()) == set(Press) - {Press.DIGIT, Press.ESCAPE}


def test_words_name_the_chosen_key_and_nothing_else_is_taken_for_a_mark() -> None:
    chosen = Keyboard({Action.READ: ("f2",)})
    assert chosen.words(f"Press {key_for(Press.ACKNOWLEDGE)}, then {key_for(Press.FORWARD)}.") == (
        "Press F2, then Space."
    )
    assert chosen.words("a recipe called <key:digit> <key:nothing>") == "a recipe called <key:digit> <key:nothing>"
    assert chosen.all_shown(Press.FORWARD) == "Space, Enter, Page Down"


def test_digits_carry_their_number() -> None:
    assert [USUAL.stroke_of(str(digit)) for digit in range(10)] == [
        Stroke(press=Press.DIGIT, digit=digit) for digit in range(10)
    ]


@pytest.mark.parametrize("key", ["f13", "ctrl+q", "ctrl+c", "z", "\x19", "tab"])
def test_other_keys_mean_nothing(key: str) -> None:
    assert USUAL.stroke_of(key) is None


def _counted(presses: list[float]) -> int:
    """How many of these presses of the one key count, each alone or not as those after it say."""
    latest: Latest | None = None
    counted = 0
    for place, at_s in enumerate(presses):
        verdict = counts(latest, Press.FORWARD, at_s)
        alone = place + 1 == len(presses) or presses[place + 1] - at_s > REPEAT_S
        counted += verdict is Counts.NOW or (verdict is Counts.IF_ALONE and alone)
        latest = following(latest, Press.FORWARD, at_s)
    return counted


@pytest.mark.parametrize("first_repeat_s", [0.25, 0.4, 0.5, 0.66])
@pytest.mark.parametrize("rate_hz", [10, 30])
def test_a_held_key_counts_once(first_repeat_s: float, rate_hz: int) -> None:
    """The first repeat after a while, then many a second, for 5 s: one press."""
    assert _counted([0.0, *(first_repeat_s + place / rate_hz for place in range(5 * rate_hz))]) == 1


def test_a_bouncing_pedal_counts_once() -> None:
    assert _counted([0.0, 0.01, 0.04, 0.12]) == 1


def test_presses_in_quick_succession_all_count() -> None:
    assert _counted([0.0, 0.4, 0.8, 1.3, 1.7]) == 5


def test_a_new_press_counts_after_a_rest_and_another_key_at_once() -> None:
    latest = Latest(press=Press.FORWARD, at_s=10.0)
    assert counts(latest, Press.FORWARD, 10.1) is Counts.NOT
    assert counts(latest, Press.FORWARD, 10.7) is Counts.IF_ALONE
    assert counts(latest, Press.FORWARD, 10.9) is Counts.NOW
    assert counts(latest, Press.BACK, 10.1) is Counts.NOW
    assert counts(None, Press.FORWARD, 0.0) is Counts.NOW


def test_digits_are_never_taken_for_a_held_key() -> None:
    assert counts(Latest(press=Press.DIGIT, at_s=10.0), Press.DIGIT, 10.05) is Counts.NOW
