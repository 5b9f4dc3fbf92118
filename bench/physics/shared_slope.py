"""One slope shared by several straight lines, and how far to believe it.

The slope is a factor on what was reckoned, so it is about 1. What was believed before the readings counts as one
more observation, normal in the logarithm. A scatter wider than the thermometer's widens the doubt in proportion:
the scale factor of the Particle Data Group (Review of Particle Physics, introduction; from memory), here with four
readings' worth of belief in the thermometer. No factor leaves three spreads of the prior.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple


class Point(NamedTuple):
    """A reading as ``y`` over ``x``, and by how much a kelvin of noise moves ``y``."""

    x: float
    y: float
    per_k: float


class Slope(NamedTuple):
    """The shared slope.

    ``variance_per_k2`` is its variance for readings with a kelvin of noise, ``misses_k2`` the sum of the squares
    left over and ``free`` how many readings there are more than unknowns. ``starts`` are the lines' values at 0.
    """

    value: float
    variance_per_k2: float
    misses_k2: float
    free: int
    starts: list[float]


class Belief(NamedTuple):
    """The likeliest factor, and one sigma of it as a share of it."""

    factor: float
    spread: float


def shared_slope(lines: Sequence[Sequence[Point]]) -> Slope | None:
    """Least squares with a start of its own for every line; None when no line has a width."""
    means: list[tuple[float, float]] = []
    xx = xy = 0.0
    for line in lines:
        weights = [1 / point.per_k**2 for point in line]
        total = math.fsum(weights)
        mean_x = math.fsum(weight * point.x for weight, point in zip(weights, line, strict=True)) / total
        mean_y = math.fsum(weight * point.y for weight, point in zip(weights, line, strict=True)) / total
        means.append((mean_x, mean_y))
        for weight, point in zip(weights, line, strict=True):
            xx += weight * (point.x - mean_x) ** 2
            xy += weight * (point.x - mean_x) * (point.y - mean_y)
    if xx <= 0 or not math.isfinite(xy / xx):
        return None
    value = xy / xx
    starts = [mean_y - value * mean_x for mean_x, mean_y in means]
    misses_k2 = math.fsum(
        ((point.y - start - value * point.x) / point.per_k) ** 2
        for line, start in zip(lines, starts, strict=True)
        for point in line
    )
    return Slope(value, 1 / xx, misses_k2, sum(map(len, lines)) - len(lines) - 1, starts)


_BELIEF_IN_NOISE = 4
_WIDEST = 3.0
_HALVINGS = 50


def believed(slope: Slope, *, prior_spread: float, noise_c: float) -> Belief:
    """Weighs a positive slope against a prior around 1; ``noise_c`` is one sigma of the thermometer, K."""
    trusted_k2 = _BELIEF_IN_NOISE * noise_c**2
    scatter_k2 = (slope.misses_k2 + trusted_k2) / (max(0, slope.free) + _BELIEF_IN_NOISE)
    variance = slope.variance_per_k2 * max(noise_c**2, scatter_k2)
    most = _WIDEST * prior_spread
    low, high = sorted((0.0, min(max(math.log(slope.value), -most), most)))
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        factor = math.exp(middle)
        pull = factor * (factor - slope.value) / variance + middle / prior_spread**2
        low, high = (low, middle) if pull > 0 else (middle, high)
    factor = math.exp((low + high) / 2)
    return Belief(factor, 1 / math.sqrt(factor**2 / variance + 1 / prior_spread**2))
