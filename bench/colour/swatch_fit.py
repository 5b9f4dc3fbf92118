"""Least squares for K and S: two numbers a band, from any number of films over any backings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bench.colour.layers import reflectance

_LEAST = 1e-7
_MOST = 1e4
_STEPS = 40
_NUDGE = 1e-4
_DONE = 1e-10
"""A gain in squared cube roots so small that K and S stand still: to 0.1 % or so, far within any reading."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FilmReading:
    """One band of a film: how much of the colourant lies in it, what lies behind it, and what it reflects."""

    load_pct: float
    thickness_mm: float
    base_k_per_mm: float
    base_s_per_mm: float
    backing: float
    reflected: float


def fitted(readings: Sequence[FilmReading], start: tuple[float, float]) -> tuple[float, float]:
    """K and S per mm and % of a colourant in one band, neither below 0.

    Levenberg's damped least squares on the logarithms of both, on cube roots of reflectance, which is how
    lightness goes: an error in a dark reading then weighs as much as one in a light one.
    """
    at = [math.log(min(_MOST, max(_LEAST, each))) for each in start]
    misses = _misses(readings, at)
    damping = 1e-3
    for _ in range(_STEPS):
        slopes = [_slope(readings, at, which, misses) for which in (0, 1)]
        found = _step(slopes, misses, damping)
        tried = [_held(old + min(2.0, max(-2.0, by))) for old, by in zip(at, found, strict=True)]
        new = _misses(readings, tried)
        gain = _square(misses) - _square(new)
        if gain > 0:
            at, misses, damping = tried, new, max(1e-9, damping / 4)
            if gain < _DONE:
                break
        else:
            damping *= 8
            if damping > 1e6:
                break
    return math.exp(at[0]), math.exp(at[1])


def _held(log: float) -> float:
    return min(math.log(_MOST), max(math.log(_LEAST), log))


def _misses(readings: Sequence[FilmReading], logs: Sequence[float]) -> list[float]:
    k, s = math.exp(logs[0]), math.exp(logs[1])
    return [
        math.cbrt(
            reflectance(
                k_per_mm=each.base_k_per_mm + each.load_pct * k,
                s_per_mm=each.base_s_per_mm + each.load_pct * s,
                thickness_mm=each.thickness_mm,
                backing=each.backing,
            )
        )
        - math.cbrt(each.reflected)
        for each in readings
    ]


def _slope(
    readings: Sequence[FilmReading], logs: Sequence[float], which: int, misses: Sequence[float]
) -> list[float]:
    nudged = list(logs)
    nudged[which] += _NUDGE
    return [(new - old) / _NUDGE for new, old in zip(_misses(readings, nudged), misses, strict=True)]


def _square(misses: Sequence[float]) -> float:
    return sum(each * each for each in misses)


def _step(slopes: Sequence[Sequence[float]], misses: Sequence[float], damping: float) -> tuple[float, float]:
    one, other = slopes
    a = _square(one) + damping * (1e-6 + _square(one))
    d = _square(other) + damping * (1e-6 + _square(other))
    b = sum(x * y for x, y in zip(one, other, strict=True))
    p = -sum(x * m for x, m in zip(one, misses, strict=True))
    q = -sum(x * m for x, m in zip(other, misses, strict=True))
    det = a * d - b * b
    return (p * d - b * q) / det, (a * q - b * p) / det
