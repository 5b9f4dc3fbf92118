"""Numbers as a maker hears them, in the maker's units: every figure rounded as the screen rounds it, every digit a
word, so that no voice has to guess what "1:20" or "0.8 ml" means."""

from __future__ import annotations

import math

from bench.model import figures
from bench.model.settings import UnitSystem
from bench.units import G_PER_OZ, ML_PER_FL_OZ, Celsius, Grams, Millilitres, Seconds

_SMALL = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
)
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_NEARLY = 1e-6
"""What floating point may leave of a whole second."""

EXACT_S = 600
"""From here on seconds say nothing more to an ear."""


def whole(number: int) -> str:
    """ "one hundred seventy"; from a million on as digits, which no figure at a bench reaches."""
    if number < 0:
        return f"minus {whole(-number)}"
    if number < 20:
        return _SMALL[number]
    for size, word in ((1000, "thousand"), (100, "hundred")):
        if number >= size * 1000:
            return str(number)
        if number >= size:
            more = number % size
            return f"{whole(number // size)} {word}" + (f" {whole(more)}" if more else "")
    tens, ones = divmod(number, 10)
    return f"{_TENS[tens]} {_SMALL[ones]}" if ones else _TENS[tens]


def figure(shown: str) -> str:
    """A figure as the screen shows it: "0.8" is "zero point eight", "186.0" is "one hundred eighty six"."""
    before, _, after = shown.partition(".")
    after = after.rstrip("0")
    words = whole(int(before))
    return f"{words} point {' '.join(_SMALL[int(digit)] for digit in after)}" if after else words


def counted(number: int, word: str) -> str:
    """A number with its word: "one bait", "eight baits"."""
    return f"{whole(number)} {word}" if number == 1 else f"{whole(number)} {word}s"


def degrees(temp_c: Celsius, units: UnitSystem) -> str:
    """ "one hundred seventy degrees", in the maker's own."""
    return counted(figures.degrees(temp_c, units), "degree")


def degrees_beyond(temp_c: Celsius, limit_c: Celsius, units: UnitSystem) -> str:
    """A temperature on one side of a limit, which rounding never puts at it."""
    return counted(figures.degrees_beyond(temp_c, limit_c, units), "degree")


def degrees_up(temp_c: Celsius, units: UnitSystem) -> str:
    """A temperature to be reached, never rounded down."""
    return counted(figures.degrees_up(temp_c, units), "degree")


def small_mass(g: Grams) -> str:
    """Colour, on the fine scale: "zero point one nine grams"."""
    return f"{figure(f'{g:.2f}')} grams"


def degrees_between(low_c: Celsius, high_c: Celsius, units: UnitSystem) -> str:
    """ "one hundred sixty five to one hundred seventy five degrees"."""
    return f"{whole(figures.degrees(low_c, units))} to {degrees(high_c, units)}"


def duration(seconds: Seconds) -> str:
    """ "one minute twenty", "forty seconds", "twelve minutes", "two hours five minutes"."""
    whole_s = max(0, math.ceil(seconds - _NEARLY))
    if whole_s < 60:
        return counted(whole_s, "second")
    if whole_s < EXACT_S:
        minutes, rest_s = divmod(whole_s, 60)
        return counted(minutes, "minute") + (f" {whole(rest_s)}" if rest_s else "")
    hours, minutes = divmod(round(whole_s / 60), 60)
    return " ".join(counted(number, word) for number, word in ((hours, "hour"), (minutes, "minute")) if number)


def volume(ml: Millilitres, units: UnitSystem) -> str:
    """ "thirty eight millilitres", "one point two nine fluid ounces"."""
    if units is UnitSystem.US:
        return f"{figure(f'{ml / ML_PER_FL_OZ:.2f}')} fluid ounces"
    return f"{figure(f'{ml:.1f}' if ml < 9.95 else f'{ml:.0f}')} millilitres"


def mass(g: Grams, units: UnitSystem) -> str:
    """Plastic: "one hundred eighty six grams", "six point five six ounces"."""
    return f"{figure(f'{g / G_PER_OZ:.2f}')} ounces" if units is UnitSystem.US else f"{figure(f'{g:.1f}')} grams"
