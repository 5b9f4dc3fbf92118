"""Doses for a wanted colour, against the colour they were made from and against an independent search."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.optimize import differential_evolution

from bench.colour.difference import de2000
from bench.colour.lab import Lab, lab_from_hex
from bench.colour.layers import Medium
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.target import MOST_TOTAL_PCT, direction, doses_for, look_of
from bench.colour.views import Section
from bench.errors import BenchError
from tests.colour.media import ALL, BASE, BLUE, BROWN_DYE, PEARL, RED, SMOKE, WHITE, YELLOW, strength

SECTION = Section(body_mm=9.5, core_mm=3.5)
CORE = mix(BASE, [Loaded(strength=BLUE, load_pct=0.5), Loaded(strength=WHITE, load_pct=0.1)])


def made(colourants: list[Strength], loads: list[float]) -> Medium:
    return mix(BASE, [Loaded(strength=s, load_pct=x) for s, x in zip(colourants, loads, strict=True)])


@settings(deadline=None)
@example(picked=["olive dye", "blue", "pearl"], loads=[0.0, 0.005, 0.0, 0.0, 0.0, 0.0], core=None)
@given(
    picked=st.lists(st.sampled_from(sorted(ALL)), min_size=1, max_size=6, unique=True),
    loads=st.lists(st.one_of(st.just(0.0), st.floats(0.005, 0.5)), min_size=6, max_size=6),
    core=st.sampled_from([None, CORE]),
)
def test_a_colour_that_can_be_made_is_met(picked: list[str], loads: list[float], core: Medium | None) -> None:
    colourants = [ALL[name] for name in picked]
    target = look_of(made(colourants, loads[: len(picked)]), SECTION, core)
    found = doses_for(target, base=BASE, colourants=colourants, section=SECTION, core=core)
    assert found.off < 0.5
    assert min(found.loads_pct) >= 0.0
    assert found.added_pct == found.loads_pct
    assert found.off == pytest.approx(
        de2000(target, look_of(made(colourants, list(found.loads_pct)), SECTION, core))
    )


@pytest.mark.parametrize("text", ["#2f6b3a", "#c03028", "#e8d890"])
def test_what_cannot_be_made_is_met_as_nearly_as_an_independent_search_does(text: str) -> None:
    # scipy's differential evolution on the same look; its seed is fixed.
    target, colourants = lab_from_hex(text), [BLUE, YELLOW, RED]
    found = doses_for(target, base=BASE, colourants=colourants, section=SECTION)
    theirs = differential_evolution(
        lambda loads: de2000(target, look_of(made(colourants, list(map(float, loads))), SECTION, None)),
        [(0.0, MOST_TOTAL_PCT / 3)] * 3,
        rng=1,
        popsize=8,
        maxiter=40,
        tol=1e-6,
    )
    assert found.off <= float(theirs.fun) + 0.1
    assert found.misses if found.off > 1.0 else True


def test_additions_only_from_what_is_in_the_cup() -> None:
    colourants = [BLUE, YELLOW, PEARL]
    target = look_of(made(colourants, [0.05, 0.2, 0.1]), SECTION, None)
    already = (0.02, 0.1, 0.0)
    found = doses_for(target, base=BASE, colourants=colourants, section=SECTION, already_pct=already)
    assert found.off < 0.1
    assert all(added >= 0.0 for added in found.added_pct)
    assert found.loads_pct == pytest.approx([a + b for a, b in zip(already, found.added_pct, strict=True)])


def test_too_much_already_in_is_said_as_a_direction() -> None:
    target = look_of(made([SMOKE], [0.05]), SECTION, None)
    found = doses_for(target, base=BASE, colourants=[SMOKE], section=SECTION, already_pct=[0.2])
    assert found.added_pct == (0.0,)
    assert found.off > 5.0
    assert found.misses[0] == "too dark"


def test_the_total_is_kept() -> None:
    found = doses_for(
        lab_from_hex("#ff0000"), base=BASE, colourants=[RED, PEARL], section=SECTION, most_total_pct=1.0
    )
    assert sum(found.loads_pct) <= 1.0 + 1e-9


def test_what_brings_nothing_stays_in_its_bottle() -> None:
    target = look_of(made([BROWN_DYE], [0.1]), SECTION, None)
    found = doses_for(target, base=BASE, colourants=[BROWN_DYE, RED, BLUE], section=SECTION)
    assert found.off < 0.05
    assert sum(load > 0 for load in found.loads_pct) <= 2


@pytest.mark.parametrize(
    ("found", "word"),
    [
        (Lab(60.0, 20.0, 20.0), "too light"),
        (Lab(40.0, 20.0, 20.0), "too dark"),
        (Lab(50.0, 30.0, 30.0), "too strong"),
        (Lab(50.0, 10.0, 10.0), "too dull"),
        (Lab(50.0, 25.0, 13.2), "too red"),
        (Lab(50.0, 13.2, 25.0), "too yellow"),
    ],
)
def test_the_direction_of_a_miss(found: Lab, word: str) -> None:
    assert direction(Lab(50.0, 20.0, 20.0), found)[0] == word


def test_greener_and_bluer() -> None:
    assert "too green" in direction(Lab(50.0, 0.0, 30.0), Lab(50.0, -15.0, 26.0))
    assert "too blue" in direction(Lab(50.0, 30.0, 0.0), Lab(50.0, 26.0, -15.0))
    assert direction(Lab(50.0, 30.0, 0.0), Lab(50.0, 30.0, 0.1)) == ()


def test_refusals_name_the_entry() -> None:
    grey = lab_from_hex("#808080")
    with pytest.raises(BenchError, match="colourants: found 0"):
        doses_for(grey, base=BASE, colourants=[], section=SECTION)
    with pytest.raises(BenchError, match="colourants: found 7"):
        doses_for(grey, base=BASE, colourants=[RED] * 7, section=SECTION)
    with pytest.raises(BenchError, match="already in: found 2 loads for 1"):
        doses_for(grey, base=BASE, colourants=[RED], section=SECTION, already_pct=[0.1, 0.1])
    with pytest.raises(BenchError, match="already in: 9 % is more"):
        doses_for(grey, base=BASE, colourants=[RED], section=SECTION, already_pct=[9.0])
    nothing = strength((0.0,) * 36, (0.0,) * 36)
    with pytest.raises(BenchError, match="neither absorbs nor scatters"):
        doses_for(grey, base=BASE, colourants=[nothing], section=SECTION)
