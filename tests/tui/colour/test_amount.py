"""A dose that is typed: by load, and flake by what it covers or how many a bait holds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.errors import BenchError
from bench.model.recipe import Dose, Part
from bench.tui.colour.amount import By, flake_line, next_way, typed_load, ways
from bench.tui.colour.draft import Draft, begun
from tests.tui.at_the_bench import shelf


def reed(at: int = 1) -> Draft:
    """A plain bait with flake, the cursor on the flake."""
    return begun(shelf().recipes["hoarfrost-reed"], "long-reed-6").moved(at)


def test_only_flake_is_counted_otherwise_than_by_load() -> None:
    assert ways(reed(0), shelf()) == (By.LOAD,)
    assert ways(reed(), shelf()) == (By.LOAD, By.COVER, By.COUNT)
    assert next_way(By.COUNT, reed(), shelf()) is By.LOAD
    cored = begun(shelf().recipes["ember-under-peat"], "ribbon-leech-4")
    flaked = cored.with_doses(Part.CORE, (Dose(colourant="hoarfrost-flake", load_pct=0.1),))
    there = next(at for at, place in enumerate(flaked.places) if place.part is Part.CORE)
    assert ways(flaked.moved(there), shelf()) == (By.LOAD, By.COUNT)


@pytest.mark.parametrize(
    ("text", "by", "said"), [("30 %", By.COVER, "cover 30 %"), ("200", By.COUNT, "200 flakes")]
)
def test_what_was_typed_is_what_the_flake_comes_to(text: str, by: By, said: str) -> None:
    load_pct = typed_load(text, by, reed(), shelf())
    assert said in flake_line(reed().with_load(load_pct), shelf())


def test_a_load_is_typed_as_it_is_with_or_without_its_sign() -> None:
    assert typed_load("0,25 %", By.LOAD, reed(0), shelf()) == 0.25
    assert typed_load(".3", By.LOAD, reed(), shelf()) == 0.3
    assert flake_line(reed(0), shelf()) == ""


def test_a_comma_before_three_digits_never_makes_a_thousand_flakes_one() -> None:
    with pytest.raises(BenchError, match="without a comma"):
        typed_load("1,200", By.COUNT, reed(), shelf())
    assert typed_load("0,125", By.LOAD, reed(), shelf()) == 0.125


@pytest.mark.parametrize("text", ["", ".", "0", "60", "1e9", "nan", "2 g", "-1"])
@pytest.mark.parametrize("by", list(By))
def test_what_is_no_amount_is_refused(text: str, by: By) -> None:
    if text == "60" and by is not By.LOAD:
        assert typed_load(text, by, reed(), shelf()) > 0
        return
    with pytest.raises(BenchError):
        typed_load(text, by, reed(), shelf())


def test_a_mould_that_does_not_fit_leaves_the_load() -> None:
    cored = begun(shelf().recipes["ember-under-peat"], "ribbon-leech-4")
    flaked = cored.with_doses(Part.SHELL, (Dose(colourant="hoarfrost-flake", load_pct=0.1),))
    assert ways(replace(flaked, mould="long-reed-6"), shelf()) == (By.LOAD,)
