"""``pourbench distance``: whether the large figures can be read from where the maker stands."""

from __future__ import annotations

import argparse
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Annotated

from bench.cli.output import emit_json, emit_lines, wrapped
from bench.cli.work_flags import add_quantity
from bench.errors import BenchError, quoted
from bench.model.settings import Settings
from bench.physics.sight import LEAST_ARCMIN, PREFERRED_ARCMIN, arc_arcmin, distance_for_mm
from bench.units import Millimetres, unit_of

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs

DISTANCE_MM, SCREEN_MM = 2000.0, 310.0
"""Starting values where nobody has measured: two steps from the bench, and a laptop's screen of 14 inches."""

FEWEST_COLUMNS = 40
"""The narrowest window that shows the whole of a step."""

MOST = 1000
"""Columns or rows; no terminal has more."""

WELL_ARCMIN = PREFERRED_ARCMIN[0]


@dataclass(frozen=True, kw_only=True, slots=True)
class Digits:
    """The main figures of a window: their lines, and how many cells' widths they are high (0: as high as text)."""

    lines: tuple[str, ...] = ()
    widths_high: int = 0


Draw = Callable[[int, int], Digits]
"""The main figures of a window of so many columns and rows."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sight:
    """The main figures of a window, seen from a distance."""

    columns: int
    rows: int
    screen_mm: float
    distance_mm: float
    digits: Digits

    @property
    def height_mm(self) -> float:
        """How high a figure is. A cell is taken to be twice as high as wide, so that a dot is square."""
        return self.digits.widths_high * self.screen_mm / self.columns

    @property
    def arcmin(self) -> float:
        """How high it looks."""
        return arc_arcmin(height_mm=self.height_mm, distance_mm=self.distance_mm)


def add_distance_parser(verbs: Verbs, *, settings: Callable[[], Settings], draw: Draw) -> None:
    """The verb ``distance``. ``draw`` gives the figures as the pour screen draws them."""
    parser = verbs.add_parser(
        "distance",
        help="whether the large figures can be read from where you stand",
        description="Shows the figures of the countdown as large as this window has them, reckons how large they "
        "look from where you stand, and says whether to enlarge the terminal's font. How large a figure looks is "
        f"told in minutes of arc, sixtieths of a degree: {WELL_ARCMIN:.0f} is easy to read, {LEAST_ARCMIN:.0f} "
        "the least. The window is taken to fill the screen's width. What is not given comes from your settings.",
        allow_abbrev=False,
    )
    add_quantity(parser, "--distance", _like("2 m"), "from your eyes to the screen")
    add_quantity(parser, "--screen", _like("310 mm"), "width of the lit part of the screen")
    parser.add_argument(
        "--columns", type=_count, metavar="N", help="columns of the window; this terminal's if not given"
    )
    parser.add_argument(
        "--rows", type=_count, metavar="N", help="rows of the window; this terminal's if not given"
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object, for programs")
    parser.set_defaults(run=lambda arguments: _run(arguments, settings(), draw))


def _like(example: str) -> object:
    """Millimetres whose example is a length of the size that is asked for."""
    unit = unit_of(Millimetres)
    assert unit is not None, "the type carries its unit"
    return Annotated[float, replace(unit, example=example)]


def _count(text: str) -> int:
    number = int(text) if text.isascii() and text.isdigit() and len(text) <= len(str(MOST)) else 0
    if not 1 <= number <= MOST:
        raise argparse.ArgumentTypeError(f"found {quoted(text)}, wanted a whole number from 1 to {MOST}")
    return number


def _run(arguments: argparse.Namespace, settings: Settings, draw: Draw) -> int:
    asked = replace(
        settings,
        viewing_distance_mm=arguments.distance or settings.viewing_distance_mm,
        screen_width_mm=arguments.screen or settings.screen_width_mm,
    )
    for fault in asked.faults():
        raise BenchError(fault.sentence())
    window = shutil.get_terminal_size()
    columns, rows = arguments.columns or window.columns, arguments.rows or window.lines
    sight = Sight(
        columns=columns,
        rows=rows,
        screen_mm=asked.screen_width_mm or SCREEN_MM,
        distance_mm=asked.viewing_distance_mm or DISTANCE_MM,
        digits=draw(columns, rows),
    )
    better = better_columns(sight, draw)
    if arguments.json:
        emit_json(_data(sight, better))
    else:
        emit_lines(f"  {row}" for row in sight.digits.lines)
        emit_lines(row for line in _lines(sight, better, asked) for row in wrapped(line) or [""])
    return 0


def better_columns(sight: Sight, draw: Draw) -> int | None:
    """How many columns the window has once its font is large enough to read the figures well; None where they can
    be already, or where no font makes them so."""
    if sight.arcmin >= WELL_ARCMIN:
        return None
    for columns in range(sight.columns - 1, FEWEST_COLUMNS - 1, -1):
        rows = max(1, sight.rows * columns // sight.columns)
        if replace(sight, columns=columns, rows=rows, digits=draw(columns, rows)).arcmin >= WELL_ARCMIN:
            return columns
    return None


def _data(sight: Sight, better: int | None) -> dict[str, object]:
    return {
        "columns": sight.columns,
        "rows": sight.rows,
        "screen_mm": sight.screen_mm,
        "distance_mm": sight.distance_mm,
        "digit_height_mm": sight.height_mm,
        "digit_arcmin": sight.arcmin,
        "least_arcmin": LEAST_ARCMIN,
        "preferred_arcmin": list(PREFERRED_ARCMIN),
        "better_columns": better,
    }


def _lines(sight: Sight, better: int | None, asked: Settings) -> Iterator[str]:
    if sight.digits.widths_high:
        yield ""
        yield (
            f"The figures of the smallest countdown are {sight.height_mm:.0f} mm high in a window of "
            f"{sight.columns} by {sight.rows} on a screen {sight.screen_mm:.0f} mm wide; "
            "beside a warning they may be smaller."
        )
        yield f"From {_far(sight.distance_mm)} they look {sight.arcmin:.0f} minutes of arc high."
    else:
        yield f"A window of {sight.columns} by {sight.rows} has no room for large figures at every step."
    least, (low, high) = LEAST_ARCMIN, PREFERRED_ARCMIN
    yield (
        f"Minutes of arc tell how large a figure looks: {low:.0f} to {high:.0f} read well, {least:.0f} is the "
        "least (ISO 9241-3)."
    )
    yield from _advice(sight, better)
    if asked.viewing_distance_mm is None:
        yield "The distance is a starting value. Measure yours: --distance, or viewing_distance in settings.toml."
    if asked.screen_width_mm is None:
        yield "The screen's width is a starting value. Measure yours: --screen, or screen_width in settings.toml."


def _advice(sight: Sight, better: int | None) -> Iterator[str]:
    if sight.arcmin >= WELL_ARCMIN:
        far_mm = distance_for_mm(height_mm=sight.height_mm, arcmin=WELL_ARCMIN)
        yield f"Large enough. They read well up to {_far(far_mm)}; the small text does not, and waits for you."
        return
    yield "Readable, but not at ease." if sight.arcmin >= LEAST_ARCMIN else "Too small from there."
    if better is not None:
        yield f"Enlarge the terminal's font until the window has about {better} columns (Ctrl and + in most)."
    elif sight.digits.widths_high:
        near_mm = distance_for_mm(height_mm=sight.height_mm, arcmin=WELL_ARCMIN)
        yield f"No font of this window is large enough. Bring the screen within {_far(near_mm)}."
    else:
        yield "Make the window larger."


def _far(distance_mm: float) -> str:
    return f"{distance_mm / 1000:.1f} m"
