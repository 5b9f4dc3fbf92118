"""Layers of colour against published figures, an independent boundary-value solution, and their limits."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from bench.colour.bands import flat
from bench.colour.layers import (
    Medium,
    deep,
    film,
    k_over_s,
    over,
    reflectance,
    reflectance_infinite,
    stacked,
    transmittance,
)
from tests.physics.figures import rows

FIGURES = rows("kubelka_munk.tsv")
COEFFICIENTS = st.one_of(st.just(0.0), st.floats(1e-300, 1e-6), st.floats(1e-6, 10.0), st.floats(10.0, 1e9))
THICKNESSES = st.one_of(st.just(0.0), st.floats(1e-12, 1e-3), st.floats(1e-3, 100.0), st.floats(100.0, 1e9))
SHARES = st.floats(0.0, 1.0)


@pytest.mark.parametrize("row", FIGURES, ids=lambda row: f"{row['source']} {row['k']} {row['s']} over {row['rg']}")
def test_published_and_independent_reflectances(row: dict[str, str]) -> None:
    k, s, d, backing = (float(row[key]) for key in ("k", "s", "d", "rg"))
    found = reflectance(k_per_mm=k, s_per_mm=s, thickness_mm=d, backing=backing)
    assert found == pytest.approx(float(row["r"]), abs=1e-6)
    one = film(Medium(k_per_mm=(k,), s_per_mm=(s,)), d)
    assert over(one, (backing,))[0] == pytest.approx(float(row["r"]), abs=1e-6)
    if row["t"] != "-":
        assert transmittance(k_per_mm=k, s_per_mm=s, thickness_mm=d) == pytest.approx(float(row["t"]), abs=1e-6)
        assert reflectance_infinite(k_per_mm=k, s_per_mm=s) == pytest.approx(float(row["r_infinite"]), abs=1e-6)


@pytest.mark.parametrize(
    ("k", "s", "d", "backing"),
    [(0.01, 0.05, 4.0, 1.0), (3.0, 6.0, 0.25, 0.8), (0.3, 2.0, 1.5, 0.3), (1.0, 0.1, 2.0, 0.5)],
)
def test_the_two_fluxes_solved_as_a_boundary_value_problem(k: float, s: float, d: float, backing: float) -> None:
    # Independent of the closed form: scipy's collocation on the differential equations of Kubelka and Munk.
    def slopes(_: np.ndarray, flux: np.ndarray) -> np.ndarray:
        down, up = flux
        return np.vstack([-(k + s) * down + s * up, (k + s) * up - s * down])

    def ends(near: np.ndarray, far: np.ndarray) -> np.ndarray:
        return np.array([near[0] - 1.0, far[1] - backing * far[0]])

    mesh = np.linspace(0.0, d, 400)
    solution = solve_bvp(slopes, ends, mesh, np.full((2, mesh.size), 0.5), tol=1e-9)
    assert reflectance(k_per_mm=k, s_per_mm=s, thickness_mm=d, backing=backing) == pytest.approx(
        float(solution.y[1, 0]), abs=1e-7
    )


@pytest.mark.parametrize(
    ("r", "ratio"),
    [(0.1, 4.05), (0.2, 1.6), (0.4, 0.45), (0.5, 0.25), (0.6, 0.133333), (0.8, 0.025), (0.9, 0.00555556)],
)
def test_ratio_of_a_deep_layer(r: float, ratio: float) -> None:
    # K/S = (1 - R)^2 / 2R: E. Allen (1980), equation 19; the values computed.
    assert k_over_s(r) == pytest.approx(ratio, rel=1e-5)
    assert reflectance_infinite(k_per_mm=ratio, s_per_mm=1.0) == pytest.approx(r, abs=1e-6)


def test_limits() -> None:
    clear = reflectance(k_per_mm=0.3, s_per_mm=0.0, thickness_mm=2.0, backing=0.7)
    assert clear == pytest.approx(0.7 * math.exp(-1.2), abs=1e-15)
    assert reflectance(k_per_mm=0.3, s_per_mm=1e-14, thickness_mm=2.0, backing=0.7) == pytest.approx(
        clear, abs=1e-12
    )
    white = reflectance(k_per_mm=0.0, s_per_mm=1.5, thickness_mm=2.0, backing=0.0)
    assert white == pytest.approx(3.0 / 4.0, abs=1e-15)
    assert transmittance(k_per_mm=0.0, s_per_mm=1.5, thickness_mm=2.0) == pytest.approx(1.0 / 4.0, abs=1e-15)
    assert reflectance(k_per_mm=1e-16, s_per_mm=1.5, thickness_mm=2.0, backing=0.0) == pytest.approx(
        white, abs=1e-7
    )
    assert reflectance(k_per_mm=0.3, s_per_mm=0.9, thickness_mm=0.0, backing=0.7) == 0.7
    endless = reflectance(k_per_mm=0.3, s_per_mm=0.9, thickness_mm=math.inf, backing=0.7)
    assert endless == pytest.approx(reflectance_infinite(k_per_mm=0.3, s_per_mm=0.9), abs=1e-15)
    assert reflectance(k_per_mm=0.0, s_per_mm=1.0, thickness_mm=math.inf, backing=0.2) == 1.0
    assert reflectance(k_per_mm=1.0, s_per_mm=0.0, thickness_mm=math.inf, backing=0.2) == 0.0
    assert reflectance_infinite(k_per_mm=0.0, s_per_mm=0.0) == 0.0
    assert transmittance(k_per_mm=0.0, s_per_mm=1.0, thickness_mm=math.inf) == 0.0
    assert math.isinf(k_over_s(0.0))


@given(k=COEFFICIENTS, s=COEFFICIENTS, d=THICKNESSES, backing=SHARES)
def test_nothing_leaves_its_range(k: float, s: float, d: float, backing: float) -> None:
    found = reflectance(k_per_mm=k, s_per_mm=s, thickness_mm=d, backing=backing)
    through = transmittance(k_per_mm=k, s_per_mm=s, thickness_mm=d)
    bare = reflectance(k_per_mm=k, s_per_mm=s, thickness_mm=d, backing=0.0)
    assert 0.0 <= found <= 1.0
    assert 0.0 <= through <= 1.0 + 1e-12
    assert bare + through <= 1.0 + 1e-9, "no light is made"
    one = over(film(Medium(k_per_mm=(k,), s_per_mm=(s,)), d), (backing,))[0]
    assert one == pytest.approx(found, abs=1e-7)


@given(k=st.floats(0, 20), s=st.floats(0, 20), one=st.floats(0, 5), other=st.floats(0, 5), backing=SHARES)
def test_two_layers_of_the_same_stuff_are_one_of_the_sum(
    k: float, s: float, one: float, other: float, backing: float
) -> None:
    medium = Medium(k_per_mm=(k,), s_per_mm=(s,))
    both = stacked((film(medium, one), film(medium, other)), (backing,))[0]
    assert both == pytest.approx(over(film(medium, one + other), (backing,))[0], abs=1e-10)


def test_the_nearest_layer_is_the_first() -> None:
    white = film(Medium(k_per_mm=flat(0.01), s_per_mm=flat(20.0)), 2.0)
    black = film(Medium(k_per_mm=flat(20.0), s_per_mm=flat(0.01)), 2.0)
    assert stacked((white, black), flat(0.5))[0] > 0.9
    assert stacked((black, white), flat(0.5))[0] < 0.1
    assert stacked((), flat(0.5)) == flat(0.5)


@given(k=st.floats(0, 20), s=st.floats(0, 20), thin=st.floats(0, 5), more=st.floats(0, 5), low=SHARES, high=SHARES)
def test_a_thicker_layer_hides_more_of_a_difference_behind_it(
    k: float, s: float, thin: float, more: float, low: float, high: float
) -> None:
    def apart(d: float) -> float:
        return abs(
            reflectance(k_per_mm=k, s_per_mm=s, thickness_mm=d, backing=low)
            - reflectance(k_per_mm=k, s_per_mm=s, thickness_mm=d, backing=high)
        )

    assert apart(thin + more) <= apart(thin) + 1e-12


def test_a_deep_medium_is_a_very_thick_film() -> None:
    medium = Medium(k_per_mm=flat(0.2), s_per_mm=flat(0.5))
    assert deep(medium) == pytest.approx(over(film(medium, 500.0), flat(1.0)))
