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
    assert set(PRESSES.values()) == set(Press) - {Press.DIGIT, Press.ESCAPE, Press.POINT, Press.OTHER}


def test_words_name_the_chosen_key_and_nothing_else_is_taken_for_a_mark() -> None:
    chosen = Keyboard({Action.READ: ("f2",)})
    assert chosen.words(f"Press {key_for(Press.ACKNOWLEDGE)}, then {key_for(Press.FORWARD)}.") == (
        "Press F2, then Space."
    )
    assert chosen.words("a recipe called <key:digit> <key:nothing>") == "a recipe called <key:digit> <key:nothing>"
    assert chosen.all_shown(Press.FORWARD) == "Space, Enter, Page Down"


@pytest.mark.parametrize(
    ("keys", "shown"),
    [
        (("space", "enter", "pagedown", "f9"), "Space / F9"),
        (("space", "f9", "f8"), "Space / F9"),
        (("f9", "space"), "F9"),
        (("space", "pagedown"), "Space"),
    ],
)
def test_a_key_of_the_makers_own_is_named_beside_the_usual_one(keys: tuple[str, ...], shown: str) -> None:
    assert Keyboard({Action.FORWARD: keys}).shown_with_own(Press.FORWARD) == shown
    assert Keyboard().shown_with_own(Press.FORWARD) == "Space"


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
        latest = Latest(press=Press.FORWARD, at_s=at_s)
    return counted


def _held(first_repeat_s: float, repeat_s: float, for_s: float = 5.0) -> list[float]:
    """A key held down: its press, the first repeat after a while, then one after the other."""
    return [0.0, *(first_repeat_s + place * repeat_s for place in range(round(for_s / repeat_s)))]


@pytest.mark.parametrize("first_repeat_s", [0.25, 0.4, 0.5, 0.66])
@pytest.mark.parametrize("repeat_s", [0.025, 0.03, 0.04, 0.1])
def test_a_held_key_counts_once(first_repeat_s: float, repeat_s: float) -> None:
    """The first repeat after a while, then many a second, for 5 s: one press. Usual settings of keyboards are
    common practice, no source."""
    assert _counted(_held(first_repeat_s, repeat_s)) == 1


@pytest.mark.parametrize("first_repeat_s", [0.25, 0.5, 0.66])
@pytest.mark.parametrize("bunch_s", [0.05, 0.1, 0.13])
def test_a_held_key_counts_once_where_its_repeats_arrive_in_bunches(first_repeat_s: float, bunch_s: float) -> None:
    """A slow line hands on what it has only each ``bunch_s``. Slower than ``REPEAT_S`` nobody can tell."""
    held = _held(first_repeat_s, 0.033)
    arriving = [-(-at_s // bunch_s) * bunch_s + place * 1e-4 for place, at_s in enumerate(held)]
    assert _counted(arriving) == 1


@pytest.mark.parametrize("bounce_s", [0.005, 0.02, 0.05])
def test_a_bouncing_pedal_counts_once(bounce_s: float) -> None:
    assert _counted([0.0, bounce_s, 2 * bounce_s, 3 * bounce_s]) == 1
    pressed = [2.0 * place + bounce for place in range(10) for bounce in (0.0, bounce_s)]
    assert _counted(pressed) == 10


@pytest.mark.parametrize("apart_s", [0.36, 0.4, 0.65, 0.9])
def test_separate_presses_all_count(apart_s: float) -> None:
    """A hand at its own pace, a little uneven, for half a minute."""
    uneven = (0.0, 0.012, -0.009, 0.005)
    presses = [place * apart_s + uneven[place % 4] for place in range(round(30 / apart_s))]
    assert _counted(presses) == len(presses)


def test_presses_count_again_after_a_bounce_or_a_hold_without_a_long_rest() -> None:
    """One bounce, or one hold, must not silence a hand that goes on pressing."""
    assert _counted([0.0, 0.65, 0.67, 1.32, 1.97, 2.62]) == 4
    held = _held(0.5, 0.033, for_s=1.0)
    assert _counted([*held, *(held[-1] + 0.65 * place for place in range(1, 6))]) == 6


def test_a_point_is_typed_in_either_way_where_no_setting_wants_the_key() -> None:
    assert USUAL.stroke_of("full_stop") == USUAL.stroke_of("comma") == Stroke(press=Press.POINT)
    pedal = Keyboard({Action.FORWARD: (".",)})
    assert pedal.stroke_of("full_stop") == Stroke(press=Press.FORWARD)
    assert pedal.stroke_of("comma") == Stroke(press=Press.POINT)


def test_a_new_press_counts_after_a_rest_and_another_key_at_once() -> None:
    latest = Latest(press=Press.FORWARD, at_s=10.0)
    assert counts(latest, Press.FORWARD, 10.1) is Counts.NOT
    assert counts(latest, Press.FORWARD, 10.7) is Counts.IF_ALONE
    assert counts(latest, Press.FORWARD, 10.9) is Counts.NOW
    assert counts(latest, Press.BACK, 10.1) is Counts.NOW
    assert counts(None, Press.FORWARD, 0.0) is Counts.NOW


def test_digits_are_never_taken_for_a_held_key() -> None:
    assert counts(Latest(press=Press.DIGIT, at_s=10.0), Press.DIGIT, 10.05) is Counts.NOW
