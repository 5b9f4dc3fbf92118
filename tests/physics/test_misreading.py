"""Temperatures that cannot be, and what they were meant to be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.physics.misreading import Misreading, Slip, likely_unit

BAND_C = (155.0, 185.0)


@pytest.mark.parametrize(
    ("read_c", "meant_c", "why"),
    [
        # NIST SP 811, appendix B.8: t/degC = (t/degF - 32)/1.8.
        (340.0, 171.11, Slip.FAHRENHEIT),
        (350.0, 176.67, Slip.FAHRENHEIT),
        (320.5, 160.28, Slip.FAHRENHEIT),
        (17.0, 170.0, Slip.DIGIT_MISSING),
        (16.5, 165.0, Slip.DIGIT_MISSING),
        (1700.0, 170.0, Slip.DIGIT_TOO_MANY),
        (1705.0, 170.5, Slip.DIGIT_TOO_MANY),
        (1770.0, 170.0, Slip.DIGIT_TOO_MANY),
        (1170.0, 170.0, Slip.DIGIT_TOO_MANY),
    ],
)
def test_a_reading_that_cannot_be_is_guessed(read_c: float, meant_c: float, why: Slip) -> None:
    guess = likely_unit(read_c, expected_c=BAND_C)
    assert guess is not None
    assert guess.value_c == pytest.approx(meant_c, abs=0.01)
    assert guess.why is why


@pytest.mark.parametrize("read_c", [155.0, 170.0, 185.0, 400.0, 120.0, 0.0, -170.0, 99999.0, 17.9e6])
def test_a_likely_reading_and_a_hopeless_one_are_left_alone(read_c: float) -> None:
    # 400 degC cannot be, but neither 204 (from Fahrenheit) nor 40 is expected here: nothing to offer.
    assert likely_unit(read_c, expected_c=BAND_C) is None


def test_fahrenheit_comes_first_in_a_wide_range() -> None:
    assert likely_unit(340.0, expected_c=(7.0, 260.0)) == Misreading(value_c=308 / 1.8, why=Slip.FAHRENHEIT)


def test_a_mould_in_fahrenheit() -> None:
    guess = likely_unit(122.0, expected_c=(10.0, 70.0))
    assert guess is not None
    assert guess.value_c == pytest.approx(50.0)


@given(read_c=st.floats(-1e9, 1e9), low=st.floats(-20.0, 200.0), width=st.floats(0.0, 100.0))
def test_a_guess_is_always_in_the_range_and_never_the_reading(read_c: float, low: float, width: float) -> None:
    guess = likely_unit(read_c, expected_c=(low, low + width))
    if low <= read_c <= low + width:
        assert guess is None
    if guess is not None:
        assert low <= guess.value_c <= low + width
        assert guess.value_c != read_c
