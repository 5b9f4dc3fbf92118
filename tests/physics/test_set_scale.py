"""How answers on opening move the set time of a mould."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from bench.physics.set_scale import (
    ANSWER_WIDTH,
    LONGEST_SCALE,
    PRIOR_SPREAD,
    SHORTEST_SCALE,
    Firmness,
    Opening,
    fit_set_scale,
)


def opened(ratio: float, found: Firmness) -> Opening:
    return Opening(opened_s=ratio * 120.0, set_s=120.0, found=found)


def scale(*openings: Opening) -> float:
    fit = fit_set_scale(openings)
    assert fit is not None
    return fit.value


SOFT = opened(1.0, Firmness.SOFT)
SOONER = opened(1.0, Firmness.SOONER)

some = st.lists(st.builds(opened, st.floats(0.3, 4.0), st.sampled_from(Firmness)), min_size=1, max_size=8)


def test_nothing_opened_says_nothing() -> None:
    assert fit_set_scale([]) is None
    assert fit_set_scale([Opening(opened_s=0.0, set_s=120.0, found=Firmness.SOFT)]) is None


def test_the_steps_are_those_documented_and_shrink() -> None:
    values = [1.0, *(scale(*[SOFT] * times) for times in (1, 2, 3, 4))]
    assert values == pytest.approx([1.0, 1.08, 1.12, 1.15, 1.17], abs=0.005)
    steps = [later - value for value, later in pairwise(values)]
    assert steps == sorted(steps, reverse=True)


def test_sooner_is_the_mirror_of_soft_and_cancels_it() -> None:
    assert scale(SOONER) == pytest.approx(1 / scale(SOFT))
    assert scale(SOFT, SOONER) == pytest.approx(1.0)


def test_answers_that_were_to_be_expected_move_nothing() -> None:
    assert scale(opened(0.3, Firmness.SOFT)) == pytest.approx(1.0, abs=0.001)
    assert scale(opened(10.0, Firmness.SOONER)) == pytest.approx(1.0, abs=0.001)


@settings(max_examples=60, deadline=None)
@given(openings=some)
def test_the_value_is_that_of_an_independent_search(openings: list[Opening]) -> None:
    def cost(at: float) -> float:
        total = at * at / (2 * PRIOR_SPREAD**2)
        for each in openings:
            off = (at - math.log(each.opened_s / each.set_s)) / ANSWER_WIDTH
            total += math.log1p(math.exp(-off if each.found is Firmness.SOFT else off))
        return total

    reference = minimize_scalar(
        cost, bounds=(math.log(SHORTEST_SCALE), math.log(LONGEST_SCALE)), method="bounded", options={"xatol": 1e-9}
    )
    assert scale(*openings) == pytest.approx(math.exp(reference.x), rel=1e-5)


@settings(max_examples=60, deadline=None)
@given(openings=some)
def test_it_stays_in_bounds_in_any_order_and_claims_more_with_more(openings: list[Opening]) -> None:
    fit, backwards = fit_set_scale(openings), fit_set_scale(openings[::-1])
    assert fit is not None
    assert backwards is not None
    assert SHORTEST_SCALE <= fit.value <= LONGEST_SCALE
    assert fit.value == pytest.approx(backwards.value, rel=1e-9)
    assert fit.readings == len(openings)
    assert 0 < fit.spread <= PRIOR_SPREAD


def test_endless_answers_end_at_the_bounds() -> None:
    assert scale(*[opened(2.5, Firmness.SOFT)] * 50) == pytest.approx(LONGEST_SCALE)
    assert scale(*[opened(0.3, Firmness.SOONER)] * 50) == pytest.approx(SHORTEST_SCALE)


@pytest.mark.parametrize("needs", [0.8, 1.0, 1.25])
def test_rounds_opened_as_told_settle_at_what_the_mould_needs(needs: float) -> None:
    openings: list[Opening] = []
    for _ in range(16):
        ratio = scale(*openings) if openings else 1.0
        openings.append(opened(ratio, Firmness.SOFT if ratio < needs else Firmness.SOONER))
    assert scale(*openings) == pytest.approx(needs, rel=0.04)
