"""Figures for people. NIST SP 811, appendix B.8: 0 and 100 degC are 32 and 212 degF; Handbook 44, appendix C: a US
fluid ounce is 29.5735295625 ml."""

from __future__ import annotations

import pytest

from bench.model.figures import degrees, degrees_beyond, degrees_up, temperature, volume
from bench.model.settings import UnitSystem

C, F = UnitSystem.METRIC, UnitSystem.US


def test_a_temperature_is_in_whole_degrees_of_the_maker() -> None:
    assert [temperature(temp_c, F) for temp_c in (0.0, 100.0, 37.0)] == ["32 °F", "212 °F", "99 °F"]
    assert [temperature(temp_c, C) for temp_c in (-0.2, 43.6)] == ["0 °C", "44 °C"]


@pytest.mark.parametrize(
    ("temp_c", "units", "shown"),
    [(164.8, C, 164), (165.0, C, 165), (165.2, C, 166), (150.0, C, 150), (164.8, F, 328), (165.1, F, 330)],
)
def test_no_rounding_puts_a_temperature_at_a_limit_that_it_does_not_keep(
    temp_c: float, units: UnitSystem, shown: int
) -> None:
    """165 degC are 329 degF."""
    assert degrees_beyond(temp_c, 165.0, units) == shown


def test_what_is_to_be_reached_is_never_rounded_down() -> None:
    assert [degrees_up(temp_c, C) for temp_c in (167.1, 168.0, 168.0 + 1e-9)] == [168, 168, 168]
    # 167.5 degC are 333.5 degF.
    assert (degrees_up(167.5, F), degrees(167.4, F)) == (334, 333)


def test_a_volume_is_in_the_unit_of_the_maker() -> None:
    assert volume(38.2, C) == "38 ml"
    assert volume(29.5735295625, F) == "1.00 fl oz"
