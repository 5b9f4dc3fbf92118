"""What a temperature that cannot be was probably meant to be: a Fahrenheit figure, or a slip on the keys.

A guess to ask the maker about, never to act upon.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Slip(Enum):
    """How a figure can go wrong on its way into a field for degrees of the other sort, or of its own."""

    FAHRENHEIT = "a Fahrenheit figure"
    CELSIUS = "a Celsius figure"
    DIGIT_TOO_MANY = "a digit too many"
    DIGIT_MISSING = "a digit missing"


@dataclass(frozen=True, kw_only=True, slots=True)
class Misreading:
    """The temperature that was probably meant, degC, and what went wrong."""

    value_c: float
    why: Slip


def likely_unit(temp_c: float, *, expected_c: tuple[float, float]) -> Misreading | None:
    """What a reading outside the expected range was probably meant to be; None inside it or without a good guess.

    The first of these that lands in the range: the figure taken as Fahrenheit (340 degF is 171.1 degC), one digit
    less (1700, 1770 or 1170 for 170), a last digit more (17 for 170; any last digit is as good a guess, a nought
    stands for it). A digit left out elsewhere is nobody's guess.
    """
    low, high = expected_c
    if low <= temp_c <= high:
        return None
    guesses = [
        (Slip.FAHRENHEIT, (temp_c - 32) / 1.8),
        *((Slip.DIGIT_TOO_MANY, less) for less in _one_digit_less(temp_c)),
        (Slip.DIGIT_MISSING, temp_c * 10),
    ]
    return next((Misreading(value_c=value, why=why) for why, value in guesses if low <= value <= high), None)


def _one_digit_less(temp_c: float) -> list[float]:
    """A decimal point left out, then every doubled digit typed once; whole positive figures only."""
    if temp_c < 10 or temp_c != round(temp_c):
        return []
    digits = str(round(temp_c))
    once = {
        float(digits[:place] + digits[place + 1 :])
        for place in range(len(digits) - 1)
        if digits[place] == digits[place + 1]
    }
    return [*sorted(once), temp_c / 10]
