"""Made-up colourants and plastics for the tests: smooth curves such as dyes, pigments and pearls have."""

from __future__ import annotations

import math

from bench.colour.bands import Spectrum, by_wavelength, flat
from bench.colour.layers import Medium
from bench.colour.mix import Strength

BASE = Medium(k_per_mm=by_wavelength(lambda nm: 0.003 + 0.012 * math.exp(-(nm - 380) / 50)), s_per_mm=flat(0.004))
"""A clear soft plastic, a little straw-coloured."""


def hump(centre_nm: float, width_nm: float, height: float, floor: float = 0.0) -> Spectrum:
    """A bell over wavelength on a floor."""
    return by_wavelength(lambda nm: floor + height * math.exp(-(((nm - centre_nm) / width_nm) ** 2)))


def edge(middle_nm: float, width_nm: float, height: float, floor: float = 0.0) -> Spectrum:
    """High below a wavelength, low above it."""
    return by_wavelength(lambda nm: floor + height / (1 + math.exp((nm - middle_nm) / width_nm)))


def strength(k: Spectrum, s: Spectrum) -> Strength:
    """A colourant, per mm and %."""
    return Strength(k_per_mm_pct=k, s_per_mm_pct=s)


BLUE = strength(hump(610, 70, 6.0, 0.05), hump(450, 60, 0.8, 0.4))
RED = strength(edge(590, 12, 5.0, 0.03), flat(0.6))
YELLOW = strength(edge(500, 14, 5.0, 0.01), flat(0.7))
GREEN_DYE = strength(
    tuple(a + b for a, b in zip(hump(660, 60, 3.0, 0.03), hump(420, 50, 4.0), strict=True)), flat(0.02)
)
OLIVE_DYE = strength(
    tuple(a + b for a, b in zip(edge(520, 25, 2.4, 0.25), hump(670, 60, 0.7), strict=True)), flat(0.02)
)
BROWN_DYE = strength(by_wavelength(lambda nm: 0.15 + 2.2 * math.exp(-(nm - 400) / 90)), flat(0.02))
SMOKE = strength(flat(2.0), flat(0.05))
PEARL = strength(flat(0.02), flat(3.0))
WHITE = strength(flat(0.01), flat(10.0))

ALL = {
    "blue": BLUE,
    "red": RED,
    "yellow": YELLOW,
    "green dye": GREEN_DYE,
    "olive dye": OLIVE_DYE,
    "brown dye": BROWN_DYE,
    "smoke": SMOKE,
    "pearl": PEARL,
    "white": WHITE,
}
