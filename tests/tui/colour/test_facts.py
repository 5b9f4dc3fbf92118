"""A prediction in words: numbers that never contradict their thresholds."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from coloraide import Color

from bench.model.recipe import Dose, Part
from bench.plan.look_records import RecipeLook, ViewName
from bench.tui.colour.facts import advice, numbers, passed, span_of, warnings
from bench.tui.colour.predict import Predicted, predicted
from tests.tui.at_the_bench import shelf


@cache
def _seen() -> Predicted:
    return predicted(shelf().recipes["ember-between-banks"], shelf().moulds["ribbon-leech-4"], shelf())


@pytest.mark.parametrize(
    ("difference", "words"),
    [
        (4.97, "4.9 faintly"),
        (5.0, "5.0 just enough"),
        (5.7, "5.7 just enough"),
        (5.8, "5.8 plainly"),
        (15.2, "15.2 strongly"),
        (0.4, "0.4 not seen"),
    ],
)
def test_what_just_passes_is_not_called_plain_and_nothing_rounds_across(difference: float, words: str) -> None:
    assert passed(difference, 5.0) == words


def test_equal_numbers_have_equal_words() -> None:
    side = _dark_shell(1.0).worst
    at_its_threshold = replace(side, core_visibility=5.3, third_colour=5.3, views=())
    look = _seen().look
    assert look is not None
    said = numbers(replace(_seen(), look=replace(look, sides=(at_its_threshold,))))
    assert {"core shows 5.3 just enough", "unlike both 5.3 just enough"} <= set(said)


def _dark_shell(load_pct: float) -> RecipeLook:
    recipe = shelf().recipes["ember-under-peat"]
    dark = replace(recipe.parts[Part.SHELL], doses=(Dose(colourant="peat-brown", load_pct=load_pct),))
    changed = replace(recipe, parts={**recipe.parts, Part.SHELL: dark})
    look = predicted(changed, shelf().moulds["ribbon-leech-4"], shelf()).look
    assert look is not None
    return look


def test_a_core_in_near_black_is_not_said_to_be_seen() -> None:
    look = _dark_shell(2.2)
    assert look.worst.core_visibility is not None
    assert look.worst.core_visibility >= 5, "the formula alone still calls it seen"
    # Coloraide, another's formulas, agrees that both are nearly black.
    for view in look.worst.views:
        if view.name in (ViewName.SHELL_ALONE, ViewName.OVER_CORE):
            assert Color(view.hex).convert("lab-d65")["lightness"] < 12
    said = numbers(replace(_seen(), look=look))
    assert said[0].endswith(f"{look.worst.core_visibility:.1f}, too dark to tell at a bench")
    assert "its dense end too dark to tell at a bench" in look.advice
    assert not any("too dark" in word for word in numbers(replace(_seen(), look=_dark_shell(0.22))))


def test_the_numbers_and_the_gauge_are_those_of_the_side_under_the_cursor() -> None:
    look = _seen().look
    assert look is not None
    names = {}
    for part in (Part.SHELL_A, Part.SHELL_B):
        span = span_of(look, part)
        assert span is not None
        assert numbers(_seen(), part)[0].startswith(f"{part.words}: core shows ")
        names[part] = span.name
    assert names == {Part.SHELL_A: "shell A: Peat brown", Part.SHELL_B: "shell B: Reed green"}
    assert span_of(look, Part.CORE) == span_of(look)


def test_the_advice_is_of_the_side_that_the_gauge_shows_and_of_one_that_needs_something_done() -> None:
    assert advice(_seen(), Part.SHELL_B).startswith("Shell B: Reed green at 0.18 % is inside its window")
    assert "Shell A" not in advice(_seen(), Part.SHELL_B)
    recipe = shelf().recipes["ember-between-banks"]
    dense = replace(recipe.parts[Part.SHELL_A], doses=(Dose(colourant="chalk-white", load_pct=2.0),))
    parts = {**recipe.parts, Part.SHELL_A: dense}
    astray = predicted(replace(recipe, parts=parts), shelf().moulds["ribbon-leech-4"], shelf())
    said = advice(astray, Part.SHELL_B)
    assert said.startswith("Shell B: ")
    assert "Shell A: Too dense" in said


def test_a_mark_that_is_not_drawn_is_not_explained() -> None:
    told = warnings(_seen())
    assert any("marked *" in each for each in told)
    assert not any("marked *" in each for each in warnings(_seen(), marked=False))


def test_what_a_number_counts_is_said_beside_it() -> None:
    """That 1 is just seen is what CIEDE2000 was scaled for, from memory."""
    assert numbers(_seen())[-1] == "in steps of which 1 is just seen"
