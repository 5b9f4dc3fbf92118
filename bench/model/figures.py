"""Temperatures and volumes as people read them, in the units that they chose."""

from __future__ import annotations

import math

from bench.model.settings import UnitSystem
from bench.units import ML_PER_FL_OZ, Celsius, Millilitres, fahrenheit

_NEARLY_K = 1e-6
"""What arithmetic may leave above a whole degree."""


def degree_sign(units: UnitSystem) -> str:
    """The unit that temperatures are shown and typed in."""
    return "°F" if units is UnitSystem.US else "°C"


def degrees(temp_c: Celsius, units: UnitSystem) -> int:
    """A temperature in whole degrees of the maker's unit."""
    return round(_shown(temp_c, units))


def degrees_beyond(temp_c: Celsius, limit_c: Celsius, units: UnitSystem) -> int:
    """A temperature on one side of a limit, which rounding never puts at it: 164.8 is 164 under 165."""
    whole, limit = degrees(temp_c, units), degrees(limit_c, units)
    if temp_c == limit_c or whole != limit:
        return whole
    return limit + (1 if temp_c > limit_c else -1)


def degrees_up(temp_c: Celsius, units: UnitSystem) -> int:
    """A temperature to be reached, never rounded down."""
    return math.ceil(_shown(temp_c, units) - _NEARLY_K)


def temperature(temp_c: Celsius, units: UnitSystem) -> str:
    """ "44 °C", "111 °F"."""
    return f"{degrees(temp_c, units)} {degree_sign(units)}"


def as_typed(temp_c: Celsius, units: UnitSystem) -> str:
    """A temperature as a thermometer showed it, tenths where there were any: "33.5 °C", "44 °C"."""
    return f"{round(_shown(temp_c, units), 1):g} {degree_sign(units)}"


def volume(ml: Millilitres, units: UnitSystem) -> str:
    """ "38 ml", "1.28 fl oz"."""
    return f"{ml / ML_PER_FL_OZ:.2f} fl oz" if units is UnitSystem.US else f"{ml:.0f} ml"


def _shown(temp_c: Celsius, units: UnitSystem) -> float:
    return fahrenheit(temp_c) if units is UnitSystem.US else temp_c
