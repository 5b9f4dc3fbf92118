"""What the commands print: one JSON object in full precision for programs, or short lines for people."""

from __future__ import annotations

import json
import math
import re
import shutil
import sys
import textwrap
from collections.abc import Iterable, Mapping
from typing import TextIO

from bench.model import figures
from bench.model.settings import UnitSystem
from bench.units import G_PER_OZ, ML_PER_FL_OZ, MM_PER_IN, both_scales

WIDTH = 80
"""Columns of what is printed for people; a narrower terminal gets narrower lines."""

LEAST_WIDTH = 20
"""Columns below which words are no longer broken to fit."""

TIED = "\N{NO-BREAK SPACE}"
"""Stands for a space at which ``wrapped`` breaks no line."""
_LABEL = re.compile(r".*\s{2,}(?=\S)|\s*")
"""What stands before the last gap of a line, or its indent."""

_GAP = re.compile(r"\s{2,}")
"""Between the columns of a table, or a label and its words."""

_AFTER_FIGURE = re.compile(r"(?<=\d) (?=[(\w°%])")


def emit_json(data: Mapping[str, object]) -> None:
    """One object on one line of standard output; numbers unrounded."""
    print(json.dumps(data, ensure_ascii=False, allow_nan=False))  # noqa: T201


def emit_lines(lines: Iterable[str]) -> None:
    """Lines for people on standard output; on a terminal those that are too long for it are ``hung``."""
    for line in lines:
        for row in hung(line, columns(sys.stdout)) if sys.stdout.isatty() else [line]:
            print(row)  # noqa: T201


def columns(stream: TextIO) -> int:
    """How wide the terminal is that this stream writes to; 80 where it writes elsewhere."""
    return max(LEAST_WIDTH, shutil.get_terminal_size().columns) if stream.isatty() else WIDTH


def hung(line: str, width: int) -> list[str]:
    """The line broken between words into rows of so many columns, each below the words that follow its label or
    its indent. A label of more than half the width moves to the left; a row of a table stays whole."""
    if len(line) <= width:
        return [line]
    found = _LABEL.match(line)
    label = found.group() if found else ""
    if 2 * len(label) <= width:
        return wrapped(line[len(label) :], bullet=label, width=width)
    is_table = len(_GAP.findall(line.strip())) > 1
    return [line] if is_table else wrapped(line.strip(), bullet=" " * (width // 4), width=width)


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
    return both_scales(value_c)


def temperature(value_c: float, units: UnitSystem) -> str:
    """A temperature in the maker's unit: "60 °C", "140 °F"."""
    return figures.temperature(value_c, units)


def mass(g: float, units: UnitSystem, *, digits: int = 1) -> str:
    """Plastic, in the maker's unit: "95.2 g", "3.36 oz". ``digits`` are those of grams."""
    return f"{g / G_PER_OZ:.2f} oz" if units is UnitSystem.US else f"{g:.{digits}f} g"


def volume(ml: float, units: UnitSystem, *, digits: int = 1) -> str:
    """A volume in the maker's unit: "26.2 ml", "0.89 fl oz". ``digits`` are those of millilitres."""
    return f"{ml / ML_PER_FL_OZ:.2f} fl oz" if units is UnitSystem.US else f"{ml:.{digits}f} ml"


def length(mm: float, units: UnitSystem) -> str:
    """A length as a drawing has it: "4 mm", "0.157 in (4 mm)": what is told of walls is told in millimetres."""
    return f"{mm / MM_PER_IN:.3f} in ({mm:g} mm)" if units is UnitSystem.US else f"{mm:g} mm"


def wrapped(text: str, *, bullet: str = "", width: int | None = None) -> list[str]:
    """The text in lines that stand under the first word after ``bullet``. A figure and its unit stay together.
    Where no ``width`` is given it is that of standard output, 80 columns at most."""
    lines = textwrap.wrap(
        _AFTER_FIGURE.sub(TIED, text),
        width or min(WIDTH, columns(sys.stdout)),
        initial_indent=bullet,
        subsequent_indent=" " * len(bullet),
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(TIED, " ") for line in lines]
