"""Numbers as a maker reads them, in the maker's units. The only place where anything is rounded."""

from __future__ import annotations

import math
from datetime import datetime

from bench.model import figures
from bench.model.settings import UnitSystem
from bench.units import G_PER_OZ, ML_PER_FL_OZ, Celsius, Grams, Millilitres, Percent, Seconds, Watts

TURN_S = 8.0
"""How long each has its turn: time to read a line twice."""

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_NEARLY = 1e-6
"""What floating point may leave of a whole second."""


def countdown(remaining_s: Seconds) -> str:
    """What is left, as "1:05", full until it is gone; once it is over, how late it is, as "+0:12"."""
    if remaining_s > 0:
        return _minutes(math.ceil(remaining_s - _NEARLY))
    late = math.floor(-remaining_s + _NEARLY)
    return f"+{_minutes(late)}" if late else "0:00"


def is_late(remaining_s: Seconds) -> bool:
    """Whether ``countdown`` counts up: a full second is over."""
    return countdown(remaining_s).startswith("+")


def gone(seconds: Seconds) -> str:
    """Time that has passed, as "1:05"."""
    return _minutes(math.floor(max(0.0, seconds) + _NEARLY))


def lasted(seconds: Seconds) -> str:
    """Time that was measured, or is planned, and is written down, to the nearest second."""
    return _minutes(round(seconds))


def left(seconds: Seconds) -> str:
    """Time still to come, as "1:05"; "0:00" once it is over."""
    return countdown(max(0.0, seconds))


def ago(seconds: Seconds) -> str:
    """How old something is: "20 s ago" by tens, "3 min ago"."""
    if seconds < 60:
        return f"{math.floor(seconds / 10) * 10} s ago" if seconds >= 10 else "just now"
    return f"{long_time(seconds)} ago"


def long_time(seconds: Seconds) -> str:
    """A time to plan with: "40 s", "9 min", "2 h 26 min", "48 h"."""
    if seconds < 59.5:
        return f"{seconds:.0f} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {minutes:02} min" if minutes else f"{hours} h"


def wait(seconds: Seconds) -> str:
    """About how long to wait for what nobody can tell to the minute, never too short: "1 min", "25 min"."""
    minutes = max(1, math.ceil(seconds / 60 - _NEARLY))
    return long_time(60 * (minutes if minutes < 10 else math.ceil(minutes / 5) * 5))


def turn(elapsed_s: Seconds, *, pace: float) -> int:
    """Whose turn it is among things that share one place. ``pace`` is how many seconds of the session pass in one
    of the maker's."""
    return math.floor(elapsed_s / (TURN_S * pace))


def time_of_day(moment: datetime) -> str:
    """ "18:42"."""
    return f"{moment:%H:%M}"


def day_and_time(moment: datetime) -> str:
    """ "Fri 09:40", the same in every locale."""
    return f"{_DAYS[moment.weekday()]} {moment:%H:%M}"


def degree_sign(units: UnitSystem) -> str:
    """The unit that temperatures are shown and typed in."""
    return figures.degree_sign(units)


def degrees(temp_c: Celsius, units: UnitSystem) -> str:
    """A temperature without its unit: "168"."""
    return str(figures.degrees(temp_c, units))


def temperature(temp_c: Celsius, units: UnitSystem) -> str:
    """ "168 °C"."""
    return figures.temperature(temp_c, units)


def as_typed(temp_c: Celsius, units: UnitSystem) -> str:
    """A temperature as it was typed, with its tenths: "33.5 °C", "168 °C"."""
    return figures.as_typed(temp_c, units)


def at_least(temp_c: Celsius, units: UnitSystem) -> str:
    """A temperature to be reached, never rounded down."""
    return f"{figures.degrees_up(temp_c, units)} {degree_sign(units)}"


def beyond(temp_c: Celsius, limit_c: Celsius, units: UnitSystem) -> str:
    """A temperature on one side of a limit; rounding never puts it at the limit: 164.8 is "164 °C" under 165."""
    return f"{figures.degrees_beyond(temp_c, limit_c, units)} {degree_sign(units)}"


def against_band(temp_c: Celsius, band_c: tuple[Celsius, Celsius], units: UnitSystem) -> str:
    """A temperature that shows whether it is inside its band."""
    low_c, high_c = band_c
    if low_c <= temp_c <= high_c:
        return temperature(temp_c, units)
    return beyond(temp_c, low_c if temp_c < low_c else high_c, units)


def temperatures(low_c: Celsius, high_c: Celsius, units: UnitSystem) -> str:
    """ "165 to 175 °C"."""
    return f"{degrees(low_c, units)} to {temperature(high_c, units)}"


def celsius(figure: float, units: UnitSystem) -> float:
    """What a figure typed in the maker's unit is in °C."""
    return (figure - 32) / 1.8 if units is UnitSystem.US else figure


def volume(ml: Millilitres, units: UnitSystem) -> str:
    """ "0.8 ml", "38 ml"; "1.29 fl oz"."""
    if units is UnitSystem.US:
        return f"{ml / ML_PER_FL_OZ:.2f} fl oz"
    return f"{ml:.1f} ml" if ml < 9.95 else f"{ml:.0f} ml"


def volume_sign(units: UnitSystem) -> str:
    """The unit that volumes are shown in."""
    return "fl oz" if units is UnitSystem.US else "ml"


def mass(g: Grams, units: UnitSystem) -> str:
    """Plastic, on the kitchen scale: "186.0 g", "6.56 oz"."""
    return f"{g / G_PER_OZ:.2f} oz" if units is UnitSystem.US else f"{g:.1f} g"


def grams(figure: float, units: UnitSystem) -> float:
    """What a figure typed in the maker's unit of mass is in grams."""
    return figure * G_PER_OZ if units is UnitSystem.US else figure


def mass_sign(units: UnitSystem) -> str:
    """The unit that plastic is weighed in."""
    return "oz" if units is UnitSystem.US else "g"


def small_mass(g: Grams) -> str:
    """Colour, on the fine scale, which weighs grams whatever the maker's units are: "0.42 g"."""
    return f"{g:.2f} g"


def load(pct: Percent) -> str:
    """ "0.25 %"."""
    return f"{pct:.3g} %"


def drops(number: float | None) -> str:
    """A hint beside a mass: "about 9 drops"; nothing where there are none to count."""
    if number is None:
        return ""
    whole = round(number)
    if whole < 1:
        return "less than a drop"
    return f"about {counted(whole, 'drop')}"


def share(pct: Percent) -> str:
    """A share in whole percent: "83 %"."""
    return f"{pct:.0f} %"


def spent(pct: Percent) -> str:
    """What heat has used up: past all of it only that, for how far past tells nothing."""
    return "over 100 %" if pct > 100 else share(pct)


def times(factor: float) -> str:
    """A factor: "1.12 times"."""
    return f"{factor:.2f} times"


def power(watts: Watts) -> str:
    """ "380 W"."""
    return f"{watts:.0f} W"


def warmer(kelvin: float, units: UnitSystem) -> str:
    """A rise in temperature: "+8 °C", "+14 °F"."""
    by = kelvin * 9 / 5 if units is UnitSystem.US else kelvin
    return f"+{by:.0f} {degree_sign(units)}"


def counted(number: int, word: str) -> str:
    """A number with its word: "1 bait", "8 baits"."""
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def speed(factor: float) -> str:
    """ "×60"."""
    return f"×{factor:g}"


def sentence(words: str) -> str:
    """The words with a capital at their beginning."""
    return words[:1].upper() + words[1:]


def _minutes(whole_s: int) -> str:
    minutes, seconds = divmod(whole_s, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{seconds:02}" if hours else f"{minutes}:{seconds:02}"
