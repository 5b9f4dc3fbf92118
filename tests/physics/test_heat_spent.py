"""Equivalent minutes at 160 degC."""

from __future__ import annotations

import pytest

from bench.physics.heat_spent import minutes_at_160, ramp_minutes_at_160, spent_pct


@pytest.mark.parametrize(
    ("at_c", "minutes", "counted"), [(160, 30, 30), (170, 10, 20), (180, 10, 40), (150, 10, 5)]
)
def test_ten_degrees_double_the_count(at_c: float, minutes: float, counted: float) -> None:
    # Common practice, no source: the rule of thumb of van 't Hoff.
    assert minutes_at_160(at_c=at_c, minutes=minutes) == pytest.approx(counted)


def test_an_even_rise_counts_as_many_short_stays() -> None:
    pieces = 10_000
    summed = sum(
        minutes_at_160(at_c=150 + 30 * (number + 0.5) / pieces, minutes=6 / pieces) for number in range(pieces)
    )
    assert ramp_minutes_at_160(from_c=150.0, to_c=180.0, minutes=6.0) == pytest.approx(summed, rel=1e-6)
    assert ramp_minutes_at_160(from_c=180.0, to_c=150.0, minutes=6.0) == pytest.approx(summed, rel=1e-6)
    assert ramp_minutes_at_160(from_c=170.0, to_c=170.0, minutes=6.0) == pytest.approx(12.0)


def test_four_hours_at_160_are_the_whole() -> None:
    # Common practice, no source: hours at 157 to 163 degC before discoloration.
    assert spent_pct(equivalent_minutes=minutes_at_160(at_c=160.0, minutes=240.0)) == pytest.approx(100.0)
    assert spent_pct(equivalent_minutes=480.0) == pytest.approx(200.0)
