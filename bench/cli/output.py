"""What the commands print: one JSON object in full precision for programs, or short lines for people."""

from __future__ import annotations

import json
import math
import re
import textwrap
from collections.abc import Iterable, Mapping

from bench.model.settings import UnitSystem
from bench.units import G_PER_OZ, ML_PER_FL_OZ, MM_PER_IN

WIDTH = 80
"""Columns of what is printed for people."""

TIED = "\N{NO-BREAK SPACE}"
"""Stands for a space at which ``wrapped`` breaks no line."""
_AFTER_FIGURE = re.compile(r"(?<=\d) (?=[(\w°%])")


def emit_json(data: Mapping[str, object]) -> None:
    """One object on one line of standard output; numbers unrounded."""
    print(json.dumps(data, ensure_ascii=False, allow_nan=False))  # noqa: T201


def emit_lines(lines: Iterable[str]) -> None:
    """Lines for people on standard output."""
    for line in lines:
        print(line)  # noqa: T201


def duration(seconds: float) -> str:
    """A time for people: "35 s", "2 min 05 s", "1 h 20 min". Raises ArithmeticError for one that has no end."""
    if not math.isfinite(seconds):
        raise ArithmeticError("a time beyond all numbers")
    whole = round(seconds)
    if whole < 60:
        return f"{whole} s"
    if whole < 3600:
        return f"{whole // 60} min {whole % 60:02} s"
    minutes = round(seconds / 60)
    return f"{minutes // 60} h {minutes % 60:02} min"


def celsius(value_c: float) -> str:
    """A temperature for people, on both scales: "60 °C (140 °F)"."""
    return f"{value_c:.0f} °C ({value_c * 9 / 5 + 32:.0f} °F)"


def mass(g: float, units: UnitSystem, *, digits: int = 1) -> str:
    """Plastic, in the maker's unit: "95.2 g", "3.36 oz". ``digits`` are those of grams."""
    return f"{g / G_PER_OZ:.2f} oz" if units is UnitSystem.US else f"{g:.{digits}f} g"


def volume(ml: float, units: UnitSystem, *, digits: int = 1) -> str:
    """A volume in the maker's unit: "26.2 ml", "0.89 fl oz". ``digits`` are those of millilitres."""
    return f"{ml / ML_PER_FL_OZ:.2f} fl oz" if units is UnitSystem.US else f"{ml:.{digits}f} ml"


def length(mm: float, units: UnitSystem) -> str:
    """A length as a drawing has it: "4 mm", "0.157 in (4 mm)": what is told of walls is told in millimetres."""
    return f"{mm / MM_PER_IN:.3f} in ({mm:g} mm)" if units is UnitSystem.US else f"{mm:g} mm"


def wrapped(text: str, *, bullet: str = "", width: int = WIDTH) -> list[str]:
    """The text in lines that stand under the first word after ``bullet``. A figure and its unit stay together."""
    lines = textwrap.wrap(
        _AFTER_FIGURE.sub(TIED, text),
        width,
        initial_indent=bullet,
        subsequent_indent=" " * len(bullet),
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(TIED, " ") for line in lines]
