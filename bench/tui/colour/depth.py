"""How many colours a terminal has, and which of its own comes nearest to one that was asked for.

Palettes: 256 colours as xterm has them (a cube of six levels and 24 greys), 16 as the console of the IBM PC had
them. What a terminal really shows for its sixteen is its owner's choice, so with sixteen a picture is a rough one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from functools import cache, lru_cache

from bench.colour.lab import Lab, lab_from_hex


class Depth(Enum):
    """What the terminal can show."""

    TRUE = "all colours"
    MANY = "256 colours"
    FEW = "16 colours"
    NONE = "no colours"


def depth_of(color_system: str | None, *, no_color: bool) -> Depth:
    """What a terminal shows, by the name that its driver gives its colours; nothing where colours are refused."""
    if no_color or color_system is None:
        return Depth.NONE
    return {"truecolor": Depth.TRUE, "256": Depth.MANY}.get(color_system, Depth.FEW)


_LEVELS = (0, 95, 135, 175, 215, 255)
_SIXTEEN = (
    *("#000000", "#aa0000", "#00aa00", "#aa5500", "#0000aa", "#aa00aa", "#00aaaa", "#aaaaaa"),
    *("#555555", "#ff5555", "#55ff55", "#ffff55", "#5555ff", "#ff55ff", "#55ffff", "#ffffff"),
)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Entry:
    """A colour of a palette: how it looks, and the hex colour that makes the terminal's driver choose it."""

    lab: Lab
    asked_by: str


def sent(hex_colour: str, depth: Depth) -> str:
    """The hex colour to send for this one so that a terminal of that depth shows the nearest it has."""
    if depth is Depth.TRUE or depth is Depth.NONE:
        return hex_colour
    return _nearest(hex_colour, depth)


@lru_cache(maxsize=4096)
def _nearest(hex_colour: str, depth: Depth) -> str:
    wanted = lab_from_hex(hex_colour)
    return min(_palette(depth), key=lambda entry: math.dist(entry.lab, wanted)).asked_by


@cache
def _palette(depth: Depth) -> tuple[_Entry, ...]:
    return tuple(_sixteen() if depth is Depth.FEW else _cube_and_greys())


def _sixteen() -> Iterator[_Entry]:
    for colour in _SIXTEEN:
        yield _Entry(lab=lab_from_hex(colour), asked_by=colour)


def _cube_and_greys() -> Iterator[_Entry]:
    for red in _LEVELS:
        for green in _LEVELS:
            for blue in _LEVELS:
                if not red == green == blue or red in (0, 255):
                    colour = _hex(red, green, blue)
                    yield _Entry(lab=lab_from_hex(colour), asked_by=colour)
    for step in range(1, 25):
        # The driver finds grey number n from a lightness of n in 25, though that grey itself is 8 + 10 (n - 1).
        looks, asks = 8 + 10 * (step - 1), round(step * 255 / 25)
        yield _Entry(lab=lab_from_hex(_hex(looks, looks, looks)), asked_by=_hex(asks, asks, asks))


def _hex(red: int, green: int, blue: int) -> str:
    return f"#{red:02x}{green:02x}{blue:02x}"
