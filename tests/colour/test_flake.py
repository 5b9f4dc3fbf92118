"""Flake: counts and coverage."""

from __future__ import annotations

import math
import random

import pytest

from bench.colour.bands import flat
from bench.colour.flake import count_per_g, coverage, covered, eta_per_mm, hexagon_mm2, mean_depth_mm, strewn
from bench.errors import BenchError

INCH = 25.4


@pytest.mark.parametrize(
    ("size_in", "count"),
    [
        (0.008, 792088),
        (0.015, 225305),
        (0.025, 81110),
        (0.035, 41383),
        (0.040, 31684),
        (0.062, 13188),
        (0.094, 5737),
    ],
)
def test_flakes_to_the_gram(size_in: float, count: int) -> None:
    # Computed from a hexagon's area, 0.001 in film and 1.39 g/ml; half as many of film twice as thick.
    assert count_per_g(across_flats_mm=size_in * INCH) == pytest.approx(count, rel=1e-4)
    assert count_per_g(across_flats_mm=size_in * INCH, film_mm=0.0508) == pytest.approx(count / 2, rel=1e-4)


def test_face_to_the_gram_does_not_depend_on_the_size() -> None:
    # 1 / (rho t): 283.2 cm2 a gram of 0.001 in polyester film, computed.
    for size_mm in (0.2, 1.0, 2.4):
        assert count_per_g(across_flats_mm=size_mm) * hexagon_mm2(size_mm) == pytest.approx(28320, rel=1e-3)
    flat_eta = eta_per_mm(flake_g=1.0, plastic_ml=100.0, tilt=1.0)
    assert eta_per_mm(flake_g=1.0, plastic_ml=100.0) == pytest.approx(flat_eta / 2)
    assert flat_eta == pytest.approx(28320 / 100e3, rel=1e-3)


@pytest.mark.parametrize(
    ("eta", "share"), [(0.1, 0.0952), (0.25, 0.2212), (0.5, 0.3935), (1.0, 0.6321), (2.0, 0.8647), (3.0, 0.9502)]
)
def test_the_law_of_coverage(eta: float, share: float) -> None:
    # Boolean model, 1 - exp(-eta): Hall, Introduction to the Theory of Coverage Processes (1988).
    assert covered(eta) == pytest.approx(share, abs=5e-5)


@pytest.mark.parametrize("eta", [0.25, 1.0, 2.0])
def test_the_law_by_throwing_flakes(eta: float) -> None:
    # Monte Carlo with hexagons turned at random on a square without edges; one seed, so it is the same every time.
    rng = random.Random(20)
    across, side = 0.1, 1.0
    count = round(eta * side**2 / hexagon_mm2(across))
    flakes = [(rng.random(), rng.random(), rng.uniform(0, math.pi / 3)) for _ in range(count)]
    hidden, throws = 0, 4000
    for _ in range(throws):
        x, y = rng.random(), rng.random()
        hidden += any(_inside_hexagon(x - fx, y - fy, turn, across) for fx, fy, turn in flakes)
    # 2.5 standard errors of the throws and as much again for the one pattern of flakes.
    assert hidden / throws == pytest.approx(covered(eta), abs=0.04)


def _inside_hexagon(dx: float, dy: float, turn: float, across: float) -> bool:
    dx, dy = (dx + 0.5) % 1 - 0.5, (dy + 0.5) % 1 - 0.5
    return all(
        abs(dx * math.cos(turn + at * math.pi / 3) + dy * math.sin(turn + at * math.pi / 3)) <= across / 2
        for at in range(3)
    )


def test_half_a_face_shows_of_flakes_turned_at_random() -> None:
    # Cauchy's mean projection: a disc tilted by an angle of uniform cosine shows half of itself.
    rng = random.Random(21)
    assert sum(rng.random() for _ in range(20000)) / 20000 == pytest.approx(0.5, abs=0.01)
    one = coverage(flake_g=1.0, across_flats_mm=1.016, plastic_ml=100.0, wall_mm=3.0)
    assert one.eta == pytest.approx(0.5 * 28320 / 100e3 * 3.0, rel=1e-3)
    assert one.covered == pytest.approx(1 - math.exp(-one.eta))
    assert one.count_per_g == pytest.approx(31684, rel=1e-4)


def test_depth_of_the_flakes_that_are_seen() -> None:
    assert mean_depth_mm(1e-9, 3.0) == pytest.approx(1.5)
    assert mean_depth_mm(1e-3, 3.0) == pytest.approx(1.5, rel=1e-2)
    assert mean_depth_mm(5.0, 60.0) == pytest.approx(0.2)
    assert mean_depth_mm(0.5, 3.0) < 1.5


def test_covered_and_bare_mix_by_area() -> None:
    assert strewn(flat(0.2), flat(0.8), 0.25) == pytest.approx(flat(0.35))


def test_refusals_name_the_entry() -> None:
    with pytest.raises(BenchError, match="size"):
        count_per_g(across_flats_mm=0.0)
    with pytest.raises(BenchError, match="plastic"):
        eta_per_mm(flake_g=1.0, plastic_ml=0.0)
    with pytest.raises(BenchError, match="grams"):
        eta_per_mm(flake_g=-1.0, plastic_ml=10.0)
    with pytest.raises(BenchError, match="film"):
        eta_per_mm(flake_g=1.0, plastic_ml=10.0, film_mm=0.0)
    with pytest.raises(BenchError, match="wall"):
        coverage(flake_g=1.0, across_flats_mm=1.0, plastic_ml=10.0, wall_mm=0.0)
