"""Which few colourants are chosen when nobody names any."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from bench.errors import BenchError
from bench.plan.shelf_match import MOST_BOTTLES, ranked, shelf_choice, shelf_names
from tests.plan.bench_records import PLASTIC
from tests.plan.looks import COLOURANTS


def chosen(offs: dict[str, float], otherwise: float = 30.0) -> tuple[str, ...]:
    def off(names: Sequence[str]) -> float:
        return offs.get("+".join(sorted(names)), otherwise)

    return shelf_choice(off, names=("a", "b", "c", "d"))


def test_few_bottles_before_many() -> None:
    assert chosen({"a": 4.0, "a+b": 3.5}) == ("a",), "half a CIEDE2000 is not worth a bottle"
    assert set(chosen({"a": 4.0, "b": 9.0, "b+c": 0.4, "b+c+d": 0.0})) == {"b", "c"}
    assert set(chosen({"a": 9.0, "a+b": 7.0, "a+b+c": 5.0, "a+b+c+d": 0.0})) == {"a", "b", "c"}
    assert MOST_BOTTLES == 3


def test_what_is_in_the_cup_can_be_topped_up_and_is_no_new_bottle() -> None:
    offs = {"x": 6.0, "a+x": 3.0, "a+b+x": 1.5, "a+b+c+x": 0.2}

    def off(names: Sequence[str]) -> float:
        return offs.get("+".join(sorted(names)), 30.0)

    assert set(shelf_choice(off, names=("a", "b", "c", "d"), there=("x",))) == {"x", "a", "b", "c"}
    assert shelf_choice(lambda _: 0.2, names=("a",), there=("x",)) == ("x",)


def test_one_that_is_the_same_is_enough() -> None:
    assert chosen({"d": 0.3, "c+d": 0.0}) == ("d",)


def test_only_those_that_can_be_reckoned_with() -> None:
    assert set(shelf_names(COLOURANTS, PLASTIC)) == {"brown", "green", "blue", "red", "white", "pearl"}
    with pytest.raises(BenchError, match="no colourant on the shelf"):
        shelf_choice(lambda _: 0.0, names=())


def test_all_that_was_tried_is_ranked_and_another_bottle_counts() -> None:
    tried = {("a",): 4.0, ("b",): 2.0, ("b", "a"): 1.4, ("b", "c"): 0.4}
    assert ranked(tried, first=("b",)) == (("b",), ("b", "c"), ("b", "a"), ("a",))
