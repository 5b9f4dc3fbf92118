"""Quantities with units, at the edge only: files, command lines and what people type.

Inside the program a number is a plain ``float`` whose name carries its unit. Its type says the same thing to
machines: ``rod_mm: Millimetres`` is a float held in millimetres, written in files under the key ``rod`` as a
string with any unit of length ("3.2 mm", "0.125 in", "1/8 in", "1 1/2 in").

Pint takes about 0.3 s to load, so it is imported when the first quantity needs it, never at start-up: one in the
unit it is held in, or in a usual multiple of that, does not.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Annotated, Any

from bench.errors import UnitError, quoted

if TYPE_CHECKING:
    from pint import UnitRegistry

LONGEST_QUANTITY = 60
"""Characters; no honest quantity is longer, and a bound keeps hostile text away from the unit parser."""

ABSOLUTE_ZERO_C = -273.15

G_PER_OZ = 28.349523125
ML_PER_FL_OZ = 29.5735295625
MM_PER_IN = 25.4
"""The avoirdupois ounce, the US fluid ounce and the inch: NIST Handbook 44, appendix C."""


@dataclass(frozen=True, kw_only=True)
class Unit:
    """How a number is held inside, written in files and bounded.

    ``symbol`` is the unit in Pint's words, ``suffix`` what the names of such numbers end in, ``what`` the
    dimension in words, ``example`` a good value. ``least`` and ``most`` are inclusive, ``above`` exclusive.
    ``likely`` is between which values one is to be expected: it refuses nothing, but tells a forgotten unit.
    """

    symbol: str
    suffix: str
    what: str
    example: str
    least: float | None = None
    above: float | None = None
    most: float | None = None
    likely: tuple[float, float] | None = None

    @property
    def shown(self) -> str:
        """The unit as files and messages show it: "m3" rather than "m**3", "%" rather than "percent"."""
        return "%" if self.symbol == "percent" else self.symbol.replace("**", "")

    def key(self, name: str) -> str:
        """The key in files for the attribute ``name``: the name without its unit.

        Raises ValueError if the name does not carry the unit: the naming rule is kept by whoever asks.
        """
        if not name.endswith(self.suffix):
            raise ValueError(f"{name} holds {self.symbol}, so its name must end in {self.suffix}")
        return name.removesuffix(self.suffix)

    def refusal(self, value: float) -> str | None:
        """Why this value is out of bounds, as words for a sentence; None when it is fine."""
        if not math.isfinite(value):
            return "a finite number"
        if self.above is not None and value <= self.above:
            return f"more than {self.above:g} {self.shown}"
        if self.least is not None and value < self.least:
            return f"at least {self.least:g} {self.shown}"
        if self.most is not None and value > self.most:
            return f"at most {self.most:g} {self.shown}"
        return None


@dataclass(frozen=True, kw_only=True)
class Usual:
    """What is usual of one field, beside its unit: a good value as it is written, and where one likely lies."""

    example: str
    likely: tuple[float, float] | None = None


Celsius = Annotated[
    float,
    Unit(symbol="degC", suffix="_c", what="a temperature", example="170 degC", least=ABSOLUTE_ZERO_C, most=2000),
]
Kelvins = Annotated[
    float,
    Unit(symbol="delta_degC", suffix="_k", what="a temperature difference", example="5 delta_degC", least=0),
]
Seconds = Annotated[float, Unit(symbol="s", suffix="_s", what="a time", example="90 s", least=0)]
Millimetres = Annotated[float, Unit(symbol="mm", suffix="_mm", what="a length", example="3.2 mm", above=0)]
Grams = Annotated[float, Unit(symbol="g", suffix="_g", what="a mass", example="12 g", above=0)]
Millilitres = Annotated[float, Unit(symbol="ml", suffix="_ml", what="a volume", example="8 ml", least=0)]
Watts = Annotated[float, Unit(symbol="W", suffix="_w", what="a power", example="400 W", above=0)]
CubicMetres = Annotated[float, Unit(symbol="m**3", suffix="_m3", what="a volume", example="30 m3", above=0)]
CubicMetresPerHour = Annotated[
    float, Unit(symbol="m**3/h", suffix="_m3_h", what="a flow", example="300 m3/h", above=0)
]
SquareMetres = Annotated[float, Unit(symbol="m**2", suffix="_m2", what="an area", example="0.05 m2", above=0)]
Density = Annotated[float, Unit(symbol="kg/m**3", suffix="_kg_m3", what="a density", example="1.03 g/ml", above=0)]
Conductivity = Annotated[
    float, Unit(symbol="W/m/K", suffix="_w_mk", what="a thermal conductivity", example="0.16 W/m/K", above=0)
]
HeatCapacity = Annotated[
    float, Unit(symbol="J/kg/K", suffix="_j_kgk", what="a specific heat", example="1800 J/kg/K", above=0)
]
Conductance = Annotated[
    float,
    Unit(symbol="W/m**2/K", suffix="_w_m2k", what="a heat transfer coefficient", example="8 W/m2/K", above=0),
]
PerKelvin = Annotated[
    float, Unit(symbol="1/K", suffix="_per_k", what="a thermal expansion", example="6e-4 1/K", above=0)
]
PerMillimetre = Annotated[
    float,
    Unit(symbol="1/mm", suffix="_per_mm", what="an absorption or a scattering", example="0.2 1/mm", least=0),
]
Percent = Annotated[float, Unit(symbol="percent", suffix="_pct", what="a share", example="3 %", least=0, most=100)]

_NUMBER = re.compile(r"\s*([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*(.*?)\s*\Z", re.DOTALL)
_FRACTION = re.compile(r"\s*([+-]?)(?:([0-9]+)\s+)?([0-9]+)/([0-9]+)\s*([^\s0-9/].*?|)\s*\Z", re.DOTALL)
_COMMA = re.compile(r"\s*([+-]?\d+),(\d+)\s*([^\s\d,.][^,]*|)\Z")
_UNIT_TEXT = re.compile(r"1?/?[A-Za-zµ_]+(\*\*[1-4])?(\s?[*/]\s?[A-Za-zµ_]+(\*\*[1-4])?){0,4}")
_POWER = re.compile(r"(?<=[A-Za-z])\^?([234])(?![0-9])")
_OWN_WORDS = {
    "°C": "degC",
    "°F": "degF",
    "C": "degC",
    "F": "degF",
    "%": "percent",
    "K": "delta_degC",
    "/mm": "1/mm",
    "cfm": "ft**3/min",
    "fl oz": "fluid_ounce",
}

_TIMES = {
    ("min", "s"): 60.0,
    ("h", "s"): 3600.0,
    ("cm", "mm"): 10.0,
    ("m", "mm"): 1000.0,
    ("kg", "g"): 1000.0,
    ("l", "ml"): 1000.0,
    ("kW", "W"): 1000.0,
    ("g/ml", "kg/m**3"): 1000.0,
}
"""Usual multiples of the units that numbers are held in, so that most files are read without Pint. Exact by
definition: The International System of Units (BIPM, 9th edition), tables 7 and 8; from memory."""


_RARER = (("cm2", "m**2"),)
"""Multiples that are often meant and seldom enough written for Pint to read them."""

_LIKELY_TIMES = 100.0
"""How far from its example a value is still a likely one, where nothing else is known of it."""


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[Any]:
    import pint

    return pint.UnitRegistry()


def parse(text: str, unit: Unit) -> float:
    """The number in ``unit.symbol`` that ``text`` says, e.g. "350 degF" -> 176.67 for a Celsius.

    A simple fraction will do, as calipers and drills are marked: "3/8 in", "1 1/2 in".

    Raises UnitError for a bare number, an unknown unit, a unit of another dimension or a value out of bounds.
    Temperatures are absolute unless the unit is a difference, so that 350 degF is never read as an interval.
    """
    wanted = f'{unit.what} such as "{unit.example}"'
    said = _split(text) if len(text) <= LONGEST_QUANTITY else None
    if said is None:
        raise UnitError(found=quoted(text), wanted=wanted)
    number, name = said
    comma = _COMMA.match(text)
    if comma is not None:
        raise _comma_refusal(comma, wanted)
    if not name:
        raise UnitError(found=f"the bare number {quoted(text.strip())}", wanted=f"{wanted}, with its unit")
    value = _convert(number, name, unit, found=quoted(text), wanted=wanted)
    bound = unit.refusal(value)
    if bound is not None:
        raise UnitError(found=quoted(text), wanted=f"{unit.what} of {bound}")
    return value


def _comma_refusal(comma: re.Match[str], wanted: str) -> UnitError:
    """Three digits behind a comma may be thousands as well: what was meant is not guessed then."""
    whole, decimals, name = comma.groups()
    thousands = len(decimals) == 3 and whole.strip("+-0")
    right = quoted(f"{whole}.{decimals} {name.strip()}") if name and not thousands else ""
    return UnitError(
        found=f"{quoted(comma.string.strip())}, which has a comma in its number",
        wanted=f"a point in its place: {right}" if right else f"{wanted}, with a point where decimals begin",
    )


def with_likely_unit(number: float, shown: str, unit: Unit) -> str:
    """A bare number, written as ``shown``, with the unit that was probably forgotten: the example's where the
    value is then a likely one, else the one that brings it nearest. Empty where the unit refuses it."""
    own = _split(unit.example)
    names = [own[1] if own else "", unit.shown, *(name for name, held in _TIMES if held == unit.symbol)]
    names += [name for name, held in _RARER if held == unit.symbol]
    values = {name: _convert(number, name, unit, found=shown, wanted="") for name in dict.fromkeys(names) if name}
    good = [name for name, value in values.items() if unit.refusal(value) is None]
    if unit.symbol == "degC" or not good or min(values[name] for name in good) <= 0:
        return f"{shown} {unit.shown}" if unit.shown in good else ""
    usual = parse(unit.example, unit)
    least, most = unit.likely or (usual / _LIKELY_TIMES, usual * _LIKELY_TIMES)
    likely = [name for name in good if least <= values[name] <= most]
    return f"{shown} {min(likely[:1] or good, key=lambda name: abs(math.log(values[name]) - math.log(usual)))}"


def _split(text: str) -> tuple[float, str] | None:
    """The number and the name of its unit; None where there is no number."""
    match = _FRACTION.match(text)
    if match is not None:
        whole, above, below = int(match[2] or 0), int(match[3]), int(match[4])
        if below == 0:
            return None
        value = (whole * below + above) / below  # of whole numbers: rounded once
        return -value if match[1] == "-" else value, match[5]
    match = _NUMBER.match(text)
    return None if match is None else (float(match[1]), match[2])


def _convert(number: float, name: str, unit: Unit, *, found: str, wanted: str) -> float:
    if name in (unit.shown, unit.symbol):
        return number  # nothing to convert, and most files are written so: Pint stays unloaded
    times = _TIMES.get((name, unit.symbol))
    if times is not None:
        return number * times

    import pint

    spelled = _OWN_WORDS.get(name, _POWER.sub(r"**\1", name))
    if name == "K" and unit.symbol == "degC":
        spelled = "kelvin"
    unknown = UnitError(found=f"{found}, whose unit is not known", wanted=wanted)
    if not _UNIT_TEXT.fullmatch(spelled):
        raise unknown
    try:
        return float(_registry().Quantity(number, spelled).to(unit.symbol).magnitude)
    except pint.DimensionalityError as error:
        dimension = _registry().get_dimensionality(error.units1)
        raise UnitError(found=f"{found}, {_dimension_words(str(dimension))}", wanted=wanted) from error
    except (pint.PintError, ValueError, ArithmeticError) as error:
        raise unknown from error


_DIMENSIONS = {
    "[length]": "a length",
    "[mass]": "a mass",
    "[time]": "a time",
    "[temperature]": "a temperature",
    "[length] ** 2": "an area",
    "[length] ** 3": "a volume",
    "dimensionless": "a share or an angle",
}


def _dimension_words(dimension: str) -> str:
    return _DIMENSIONS.get(dimension, "another kind of quantity")


def fahrenheit(temp_c: float) -> float:
    """Degrees Celsius in degF. NIST SP 811, appendix B.8: 37 degC are 98.6 degF."""
    return temp_c * 1.8 + 32


def both_scales(temp_c: float) -> str:
    """ "168 °C (334 °F)"."""
    return f"{temp_c:.0f} °C ({fahrenheit(temp_c):.0f} °F)"


def figure(value: float) -> str:
    """A figure for people in three digits, which is what a scale or a ruler tells: "5.67", "80", "1260"."""
    return f"{float(f'{value:.3g}'):.15g}"


def written(value: float, unit: Unit) -> str:
    """The quantity as files hold it; ``parse(written(x, unit), unit)`` gives x back exactly."""
    return f"{value!r} {unit.shown}"


def unit_of(annotation: object) -> Unit | None:
    """The Unit inside an ``Annotated[float, Unit(...)]``, as a ``Usual`` has it; None for any other type."""
    unit = None
    for extra in getattr(annotation, "__metadata__", ()):
        if isinstance(extra, Unit):
            unit = extra
        elif isinstance(extra, Usual) and unit is not None:
            unit = replace(unit, example=extra.example, likely=extra.likely)
    return unit
