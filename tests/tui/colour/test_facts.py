"""A prediction in words: numbers that never contradict their thresholds."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from bench.model.recipe import Dose, Part
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
