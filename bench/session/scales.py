"""A reading typed on the other temperature scale: whether that explains it far better than the figure as typed.

Both scales meet at -40 degrees and are 27 K or more apart on a bench, so a figure that fits on the other scale is
hardly ever an honest one by chance.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.settings import UnitSystem
from bench.physics.fitting import READING_NOISE_C
from bench.units import fahrenheit

COLDER_SPREADS = 1.25
HOTTER_SPREADS = 2.5
"""Starting values: how far below and above its estimate a thing may be, in spreads of it. With the spread of a
profile's power these are half and twice the rise that it reckons with."""

NOISE_SIGMAS = 3.0

FAR_BETTER = 0.5
"""Starting value: the other scale explains a figure far better where it is off by this share of what it is off as
typed, each against how far that side of the estimate may be."""

_ROUNDING = 6


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """What a reading is compared with: the estimate, one sigma of it, and the range that its heating aims at."""

    temp_c: float
    spread_k: float
    aim_c: tuple[float, float] | None


def on_other_scale_c(temp_c: float, typed_in: UnitSystem) -> float:
    """What the figure typed in those units is when it was read on the other scale. NIST SP 811, B.8."""
    meant_c = fahrenheit(temp_c) if typed_in is UnitSystem.US else (temp_c - 32) / 1.8
    return round(meant_c, _ROUNDING)


def explains_better(meant_c: float, temp_c: float, known: Known) -> bool:
    """Whether the reading is further off than the estimate may be, and would not be or far less on the other
    scale, or would be where its heating aims."""
    typed_off, meant_off = _off(temp_c, known), _off(meant_c, known)
    if typed_off <= 1:
        return False
    return meant_off <= max(1.0, FAR_BETTER * typed_off) or _aimed_at(meant_c, known.aim_c)


def fits(temp_c: float, known: Known) -> bool:
    """Whether a reading is no further from the estimate than that may be off, or is where the heating aims."""
    return _off(temp_c, known) <= 1 or _aimed_at(temp_c, known.aim_c)


def _off(temp_c: float, known: Known) -> float:
    """How far from the estimate, as a share of how far that side of it may be."""
    spreads = COLDER_SPREADS if temp_c < known.temp_c else HOTTER_SPREADS
    return abs(temp_c - known.temp_c) / (spreads * known.spread_k + NOISE_SIGMAS * READING_NOISE_C)


def _aimed_at(temp_c: float, aim_c: tuple[float, float] | None) -> bool:
    return aim_c is not None and aim_c[0] <= temp_c <= aim_c[1]
