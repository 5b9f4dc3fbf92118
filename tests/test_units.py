"""Quantities as people write them, against published factors; traps; hostile text."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from typing import Annotated

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench import units
from bench.errors import UnitError
from bench.units import Seconds, Unit, Usual, figure, parse, unit_of, with_likely_unit, written

UNITS: dict[str, Unit] = {
    name: unit for name, annotation in vars(units).items() if (unit := unit_of(annotation)) is not None
}
CELSIUS, KELVINS, SECONDS = UNITS["Celsius"], UNITS["Kelvins"], UNITS["Seconds"]
MILLIMETRES, GRAMS, MILLILITRES = UNITS["Millimetres"], UNITS["Grams"], UNITS["Millilitres"]

# NIST SP 811 (2008), Appendix B, gives these factors to seven figures (from memory); the exact ones follow from
# the inch of 25.4 mm, the US gallon of 231 cubic inches and the pound of 0.45359237 kg.
GOLDEN = [
    ("350 degF", "Celsius", (350 - 32) / 1.8),
    ("350 °F", "Celsius", 176.0 + 2 / 3),
    ("325 F", "Celsius", 162.7777777778),
    ("-40 degF", "Celsius", -40.0),
    ("212 degF", "Celsius", 100.0),
    ("300 kelvin", "Celsius", 26.85),
    ("9 delta_degF", "Kelvins", 5.0),
    ("5 K", "Kelvins", 5.0),
    ("0.125 in", "Millimetres", 3.175),
    ("1/8 in", "Millimetres", 3.175),
    ("1 1/2 in", "Millimetres", 38.1),
    ("0.2 1/mm", "PerMillimetre", 0.2),
    ("1 ft", "Millimetres", 304.8),
    ("1 tsp", "Millilitres", 4.92892159375),
    ("1 tbsp", "Millilitres", 14.78676478125),
    ("1 fl oz", "Millilitres", 29.5735295625),
    ("1 cup", "Millilitres", 236.5882365),
    ("1 pint", "Millilitres", 473.176473),
    ("1 quart", "Millilitres", 946.352946),
    ("1 gallon", "Millilitres", 3785.411784),
    ("1 oz", "Grams", 28.349523125),
    ("1 lb", "Grams", 453.59237),
    ("1 cfm", "CubicMetresPerHour", 0.3048**3 * 60),
    ("1 ft3", "CubicMetres", 0.3048**3),
    ("1 lb/ft3", "Density", 16.01846337396),
    ("1.03 g/ml", "Density", 1030.0),
    ("1 BTU/lb/delta_degF", "HeatCapacity", 4186.8),
    ("1.8 kJ/kg/K", "HeatCapacity", 1800.0),
    ("1 hour", "Seconds", 3600.0),
    ("1.5 min", "Seconds", 90.0),
    ("490 cm2", "SquareMetres", 0.049),
    ("600 ppm/K", "PerKelvin", 6e-4),
    ("1 g/g", "Percent", 100.0),
    ("5 permille", "Percent", 0.5),
]


@pytest.mark.parametrize(("text", "name", "value"), GOLDEN)
def test_published_factors(text: str, name: str, value: float) -> None:
    # The thermal units of NIST SP 811 rest on the International Table Btu, 4186.8 J/(kg K) exactly.
    tolerance = 1e-3 if "BTU" in text else 1e-9
    assert parse(text, UNITS[name]) == pytest.approx(value, rel=tolerance)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("10 degF", KELVINS),
        ("10 °C", KELVINS),
        ("5 delta_degC", CELSIUS),
    ],
)
def test_a_temperature_is_never_read_as_a_difference_nor_the_other_way_round(text: str, unit: Unit) -> None:
    with pytest.raises(UnitError, match="a temperature, wanted"):
        parse(text, unit)


def test_kelvin_is_absolute_where_a_temperature_is_wanted_and_a_difference_where_that_is() -> None:
    assert parse("300 K", CELSIUS) == pytest.approx(26.85)
    assert parse("5 K", KELVINS) == pytest.approx(5)


def test_ounces_of_weight_are_not_ounces_of_the_cup() -> None:
    with pytest.raises(UnitError, match='found "1 oz", a mass, wanted a volume'):
        parse("1 oz", MILLILITRES)
    with pytest.raises(UnitError, match='found "1 fl oz", a volume, wanted a mass'):
        parse("1 fl oz", GRAMS)


@pytest.mark.parametrize("text", ["3.2", " 3.2 ", "-1e3"])
def test_a_bare_number_is_told_that_it_lacks_its_unit(text: str) -> None:
    with pytest.raises(UnitError, match=rf'the bare number "{re.escape(text.strip())}".*with its unit'):
        parse(text, MILLIMETRES)


@pytest.mark.parametrize(
    ("text", "unit", "wanted"),
    [
        ("0 mm", MILLIMETRES, "a length of more than 0 mm"),
        ("-1 s", SECONDS, "a time of at least 0 s"),
        ("-274 degC", CELSIUS, "a temperature of at least -273.15 degC"),
        ("2001 degC", CELSIUS, "a temperature of at most 2000 degC"),
        ("101 %", UNITS["Percent"], "a share of at most 100 %"),
        ("1e400 mm", MILLIMETRES, "a finite number"),
        ("1e400 degC", CELSIUS, "a finite number"),
    ],
)
def test_values_out_of_bounds_are_told_the_bound(text: str, unit: Unit, wanted: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text, unit)
    assert wanted in caught.value.wanted


HOSTILE = [
    "",
    "mm",
    "3,2 mm",
    "1_000 mm",
    "1/0 in",
    "1/8",
    "1/8/2 in",
    "1 /8 in",
    '4"',
    "1:30",
    "nan mm",
    "inf mm",
    "3 mm; 4 mm",
    "3 mm**9",
    "3 mm**-1**9**9",
    "3 m**99999999",
    "9**9**9**9 mm",
    "3 __import__('os').system('true')",
    "3 [].__class__",
    "3 {mm}",
    "3 %s",
    "3 mm\x1b[2J",
    "3 \u202emm",
    "3 mm\0",
    "3 m m m m m m m m m m",
    "3 " + "m*" * 20 + "m",
    "3 " + "x" * 58,
    "3 " + "(" * 50,
    "9" * 61,
    "9" * 100_000 + " mm",
    " " * 100_000 + "3 mm",
    "3 degC*degC",
    "3 mm/0",
    "3 import",
    "3 banana",
]


@pytest.mark.parametrize("name", ["Millimetres", "Celsius", "Percent"])
@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: repr(text[:20]))
def test_hostile_text_is_refused_in_one_harmless_line(text: str, name: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text, UNITS[name])
    assert str(caught.value).isprintable()
    assert len(str(caught.value)) < 200


@settings(deadline=None)
@given(st.text(max_size=70))
def test_any_text_is_read_or_refused(text: str) -> None:
    for unit in (MILLIMETRES, CELSIUS):
        try:
            value = parse(text, unit)
        except UnitError:
            continue
        assert unit.refusal(value) is None


@given(
    st.integers(0, 10**6), st.integers(0, 10**6), st.integers(1, 10**6), st.sampled_from(["mm", " mm", "  mm "])
)
def test_a_fraction_is_the_number_that_it_says(whole: int, above: int, below: int, unit: str) -> None:
    exactly = whole + Fraction(above, below)
    text = f"{whole} {above}/{below}{unit}" if whole else f"{above}/{below}{unit}"
    assert parse(text, replace(MILLIMETRES, above=None)) == float(exactly)


@settings(deadline=None)
@given(st.sampled_from(sorted(UNITS)), st.floats(allow_nan=False, allow_infinity=False))
def test_what_is_written_is_read_back_exactly(name: str, value: float) -> None:
    unit = UNITS[name]
    if unit.refusal(value) is None:
        assert parse(written(value, unit), unit) == value
    else:
        with pytest.raises(UnitError):
            parse(written(value, unit), unit)


@pytest.mark.parametrize("name", sorted(UNITS))
def test_every_example_is_a_good_value_of_its_unit(name: str) -> None:
    assert UNITS[name].refusal(parse(UNITS[name].example, UNITS[name])) is None


def test_a_name_without_its_unit_is_a_defect() -> None:
    assert MILLIMETRES.key("rod_mm") == "rod"
    with pytest.raises(ValueError, match="must end in _mm"):
        MILLIMETRES.key("rod")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("1,4 kg", 'a point in its place: "1.4 kg"'),
        (" 0,400 kg", 'a point in its place: "0.400 kg"'),
        ("1,03 g/ml", 'a point in its place: "1.03 g/ml"'),
        ("1,400 g", 'a mass such as "12 g", with a point where decimals begin'),
        ("1,4", 'a mass such as "12 g", with a point where decimals begin'),
    ],
)
def test_a_comma_in_a_number_is_told_and_thousands_are_not_guessed(text: str, wanted: str) -> None:
    with pytest.raises(UnitError) as told:
        parse(text, UNITS["Grams"])
    assert told.value.found == f'"{text.strip()}", which has a comma in its number'
    assert told.value.wanted == wanted


@pytest.mark.parametrize(
    ("name", "number", "hint"),
    [
        ("SquareMetres", 480, "480 cm2"),
        ("SquareMetres", 0.048, "0.048 m2"),
        ("Density", 1.03, "1.03 g/ml"),
        ("Density", 1030, "1030 kg/m3"),
        ("Celsius", 40, "40 degC"),
        ("Celsius", -300, ""),
        ("Seconds", 20, "20 s"),
        ("Grams", 0, ""),
        ("Seconds", 5e-324, "5e-324 h"),
        ("Seconds", 1e308, "1e+308 s"),
        ("Percent", 300, ""),
    ],
)
def test_a_forgotten_unit_is_one_with_which_the_figure_is_likely(name: str, number: float, hint: str) -> None:
    assert with_likely_unit(number, f"{number}", UNITS[name]) == hint


def test_a_field_may_say_what_is_usual_of_it() -> None:
    unit = unit_of(Annotated[Seconds, Usual(example="240 min", likely=(60, 1e5))])
    assert unit is not None
    assert with_likely_unit(240, "240", unit) == "240 min"
    assert with_likely_unit(3000, "3000", unit) == "3000 s"


@pytest.mark.parametrize(("name", "unit"), list(units._TIMES))
@pytest.mark.parametrize("number", [0.0, 0.1, 1.39, 48.0, 7.77])
def test_a_usual_multiple_is_what_pint_makes_of_it(name: str, unit: str, number: float) -> None:
    by_pint = units._registry().Quantity(number, name).to(unit).magnitude
    held = next(each for each in UNITS.values() if each.symbol == unit)
    assert parse(f"{number!r} {name}", replace(held, above=None)) == pytest.approx(by_pint, rel=1e-15)


def test_pint_is_not_loaded_before_a_quantity_needs_it() -> None:
    code = (
        "import sys; from bench import units\n"
        "units.parse('1.7 kg', units.unit_of(units.Grams))\n"
        "units.parse('3 mm', units.unit_of(units.Millimetres))\n"
        "print('pint' in sys.modules)"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    assert out.stdout.strip() == "False"


@pytest.mark.parametrize(
    ("value", "shown"),
    [(5.6699, "5.67"), (6.80389, "6.8"), (80.0, "80"), (1257.3, "1260"), (0.0254, "0.0254"), (123456.0, "123000")],
)
def test_a_figure_for_people_has_three_digits(value: float, shown: str) -> None:
    assert figure(value) == shown
