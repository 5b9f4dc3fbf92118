"""Figures inside the sentences of a plan, in the maker's units."""

from __future__ import annotations

from bench.model.settings import UnitSystem
from bench.units import ML_PER_FL_OZ, Celsius, Millilitres


def temperature(temp_c: Celsius, units: UnitSystem) -> str:
    """ "44 °C", "111 °F"."""
    return f"{temp_c * 1.8 + 32:.0f} °F" if units is UnitSystem.US else f"{temp_c:.0f} °C"


def volume(ml: Millilitres, units: UnitSystem) -> str:
    """ "38 ml", "1.28 fl oz"."""
    return f"{ml / ML_PER_FL_OZ:.2f} fl oz" if units is UnitSystem.US else f"{ml:.0f} ml"
