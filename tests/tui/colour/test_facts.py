"""A prediction in words: numbers that never contradict their thresholds."""

from __future__ import annotations

from functools import cache

import pytest

from bench.model.recipe import Part
from bench.tui.colour.facts import numbers, passed, span_of
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
