"""Light in layers of colour: the two-flux theory of Kubelka and Munk.

A layer absorbs K and scatters S per mm of its thickness. All reflectances here are internal ones, inside the
plastic; ``bench.colour.saunderson`` stands between them and what is seen. P. Kubelka, "New contributions to the
optics of intensely light-scattering materials", J. Opt. Soc. Am. 38:448 (1948).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from bench.colour.bands import Spectrum

_SHORT = 1e-9


@dataclass(frozen=True, kw_only=True, slots=True)
class Medium:
    """What a coloured plastic does to light: absorption K and scattering S per mm, by band."""

    k_per_mm: Spectrum
    s_per_mm: Spectrum


@dataclass(frozen=True, kw_only=True, slots=True)
class Film:
    """A medium of some thickness, reckoned through once: its reflectance over black and its transmittance."""

    over_black: Spectrum
    transmitted: Spectrum


def _ways(k_per_mm: float, s_per_mm: float, thickness_mm: float) -> tuple[float, float, float]:
    """(g, 1 + exp(-2x), 2 exp(-x)) with x = bSd and g = (1 - exp(-2x)) / bS, bS = sqrt(K (K + 2 S)).

    The hyperbolic form divided by exp(x): nothing overflows however thick, and g tends to 2d where K vanishes.
    """
    rate = math.sqrt(k_per_mm) * math.sqrt(k_per_mm + 2 * s_per_mm)
    x = rate * thickness_mm
    if x < _SHORT:
        return 2 * thickness_mm * (1 - x), 2 - 2 * x, 2 - 2 * x
    fall = math.exp(-x)
    lost = -math.expm1(-2 * x)
    return lost / rate, 2 - lost, 2 * fall


def reflectance(*, k_per_mm: float, s_per_mm: float, thickness_mm: float, backing: float) -> float:
    """Reflectance of one band of a layer over a backing of a given reflectance, 0 to 1.

    R = [1 - Rg (a - b coth bSd)] / [a - Rg + b coth bSd] with a = (K + S) / S, b = sqrt(a^2 - 1), written so that
    S, K or the thickness may be 0 and the thickness infinite. K 0.2, S 0.124, d 0.5, Rg 0.65: 0.541596.
    """
    if s_per_mm > 0 and k_per_mm == 0 and math.isinf(thickness_mm):
        return 1.0
    if s_per_mm == 0 and k_per_mm == 0:
        return backing
    g, both, _ = _ways(k_per_mm, s_per_mm, thickness_mm)
    gain = s_per_mm * (1 - backing)
    found = (backing * both + g * (gain - backing * k_per_mm)) / (both + g * (k_per_mm + gain))
    return min(1.0, max(0.0, found))


def transmittance(*, k_per_mm: float, s_per_mm: float, thickness_mm: float) -> float:
    """Share of the light that one band of a layer lets through, with nothing behind it: b / (a sinh + b cosh)."""
    if k_per_mm == 0 and math.isinf(thickness_mm):
        return 0.0 if s_per_mm > 0 else 1.0
    g, both, fall = _ways(k_per_mm, s_per_mm, thickness_mm)
    return fall / (both + g * (k_per_mm + s_per_mm))


def reflectance_infinite(*, k_per_mm: float, s_per_mm: float) -> float:
    """Reflectance of a layer too thick to see through: 1 + K/S - sqrt((K/S)^2 + 2 K/S); 0 if nothing scatters."""
    if s_per_mm == 0:
        return 0.0
    return s_per_mm / (k_per_mm + s_per_mm + math.sqrt(k_per_mm) * math.sqrt(k_per_mm + 2 * s_per_mm))


def k_over_s(r_infinite: float) -> float:
    """K/S of a layer too thick to see through: (1 - R)^2 / 2R. 0.5 gives 0.25; infinite for a perfect black."""
    return math.inf if r_infinite == 0 else (1 - r_infinite) ** 2 / (2 * r_infinite)


def film(medium: Medium, thickness_mm: float) -> Film:
    """A medium of a finite thickness, mm."""
    blacks: list[float] = []
    through: list[float] = []
    for k, s in zip(medium.k_per_mm, medium.s_per_mm, strict=True):
        g, both, fall = _ways(k, s, thickness_mm)
        below = both + g * (k + s)
        blacks.append(s * g / below)
        through.append(fall / below)
    return Film(over_black=tuple(blacks), transmitted=tuple(through))


def over(near: Film, backing: Spectrum) -> Spectrum:
    """What a film over a backing reflects: R0 + T^2 Rg / (1 - R0 Rg), the light going to and fro between them."""
    found: list[float] = []
    for black, through, behind in zip(near.over_black, near.transmitted, backing, strict=True):
        gap = 1 - black * behind
        found.append(min(1.0, black + through * through * behind / gap) if gap > 0 else 1.0)
    return tuple(found)


def stacked(films_outside_in: Iterable[Film], backing: Spectrum) -> Spectrum:
    """What a stack reflects: the films in the order in which one sees them, nearest first, over a backing."""
    seen = backing
    for each in reversed(tuple(films_outside_in)):
        seen = over(each, seen)
    return seen


def deep(medium: Medium) -> Spectrum:
    """What a medium too thick to see through reflects."""
    pairs = zip(medium.k_per_mm, medium.s_per_mm, strict=True)
    return tuple(reflectance_infinite(k_per_mm=k, s_per_mm=s) for k, s in pairs)
