"""Percent, grams, drops and spoons."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.colour.doses import (
    SPOON_ML,
    WATER_DROP_G,
    Spoon,
    addition_g,
    drop_g,
    drops,
    grams,
    grams_of_drops,
    grams_of_spoons,
    load_pct,
    spoons,
)
from bench.errors import BenchError


def test_percent_is_of_the_whole_cup() -> None:
    assert grams(0.3, cup_g=250.0) == pytest.approx(0.75)
    assert load_pct(0.75, cup_g=250.0) == pytest.approx(0.3)


def test_a_medicine_dropper_of_water() -> None:
    # USP <1101>: 45 to 55 mg a drop; 20 drops to the ml.
    assert 0.045 <= WATER_DROP_G <= 0.055
    assert drops(1.0, one_drop_g=WATER_DROP_G) == pytest.approx(20.0)


def test_drops_by_weighing_some() -> None:
    # Eschbaum (1895): fifty drops of water from 6.56 mm weigh 5.00 g, of glycerin 3.90 g.
    assert drop_g(weighed_g=5.00, drops=50) == pytest.approx(0.100)
    assert drop_g(weighed_g=3.90, drops=50) == pytest.approx(0.078)


@pytest.mark.parametrize("spoon", Spoon)
def test_spoons_against_an_independent_library(spoon: Spoon) -> None:
    # pint; NIST SP 811, appendix B has 4.928 922 ml for the teaspoon (from memory).
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    assert SPOON_ML[spoon] == pytest.approx(registry.Quantity(1, spoon.replace(" ", "_")).to("ml").magnitude)
    assert grams_of_spoons(1, spoon=spoon, bulk_g_ml=2.0) == pytest.approx(2 * SPOON_ML[spoon])


@given(st.floats(0.001, 50), st.floats(0.005, 0.2), st.floats(0.1, 3))
def test_there_and_back(colour_g: float, one_drop_g: float, bulk_g_ml: float) -> None:
    assert grams_of_drops(drops(colour_g, one_drop_g=one_drop_g), one_drop_g=one_drop_g) == pytest.approx(colour_g)
    count = spoons(colour_g, spoon=Spoon.TEASPOON, bulk_g_ml=bulk_g_ml)
    assert grams_of_spoons(count, spoon=Spoon.TEASPOON, bulk_g_ml=bulk_g_ml) == pytest.approx(colour_g)


@given(st.floats(0, 50), st.floats(0, 40), st.floats(10, 1000))
def test_an_addition_brings_the_load_up_in_the_grown_cup(start_pct: float, more_pct: float, cup_g: float) -> None:
    to_pct = start_pct + more_pct
    adding = addition_g(from_pct=start_pct, to_pct=to_pct, cup_g=cup_g)
    assert load_pct(grams(start_pct, cup_g=cup_g) + adding, cup_g=cup_g + adding) == pytest.approx(to_pct)


def test_refusals_name_the_entry() -> None:
    with pytest.raises(BenchError, match="cup"):
        grams(1.0, cup_g=0.0)
    with pytest.raises(BenchError, match="load: 101 %"):
        grams(101.0, cup_g=100.0)
    with pytest.raises(BenchError, match="colour: 11 g"):
        load_pct(11.0, cup_g=10.0)
    with pytest.raises(BenchError, match="drops"):
        drop_g(weighed_g=1.0, drops=0)
    with pytest.raises(BenchError, match="weighed"):
        drop_g(weighed_g=0.0, drops=20)
    with pytest.raises(BenchError, match="drop:"):
        drops(1.0, one_drop_g=0.0)
    with pytest.raises(BenchError, match="density"):
        spoons(1.0, spoon=Spoon.CUP, bulk_g_ml=0.0)
    with pytest.raises(BenchError, match="never taken out"):
        addition_g(from_pct=2.0, to_pct=1.0, cup_g=100.0)
    with pytest.raises(BenchError, match="leaves no plastic"):
        addition_g(from_pct=2.0, to_pct=100.0, cup_g=100.0)
