"""Where on a picture of a bait lies what: shapes without colours, in square dots, two to a cell.

The proportions of body and rod are the mould's. The outline is a sign for a bait with a tail, not its drawing: no
profile holds one.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache


class Region(Enum):
    """What a dot belongs to. A is the side shown above, B the one below."""

    NOTHING = "nothing"
    SHELL_A = "shell a"
    SHELL_B = "shell b"
    CORE = "core"
    OVER_A = "over the core a"
    OVER_B = "over the core b"
    TAIL_A = "tail a"
    TAIL_B = "tail b"
    TAIL_CORE = "tail of core"
    FLAKE = "flake"


Dots = tuple[tuple[Region, ...], ...]
"""Rows of dots, twice as many as there will be rows of cells."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Outline:
    """What decides a bait's shape. ``core_share`` is the rod's diameter over the body's, 0 without a core;
    ``covered`` the share of the shell that flake hides, 0 to 1."""

    core_share: float = 0.0
    has_tail: bool = True
    tail_cut: bool = False
    two_sided: bool = False
    covered: float = 0.0


BODY_SHARE = 0.66
"""How much of the length is body where there is a tail."""

STOUTEST = 0.26
"""Diameter over length, at most."""

_SHELL = (Region.SHELL_A, Region.SHELL_B)
_OVER = (Region.OVER_A, Region.OVER_B)
_TAIL = (Region.TAIL_A, Region.TAIL_B)


@lru_cache(maxsize=64)
def cut_across(outline: Outline, width: int, height: int) -> Dots:
    """The cut face, in so many cells: a ring of shell, its two halves in a laminate, and the core in it."""
    down, radius = 2 * height, min(width, 2 * height) / 2

    def region(x: float, y: float) -> Region:
        off = math.hypot(x - width / 2, y - down / 2)
        if off > radius:
            return Region.NOTHING
        if off < radius * outline.core_share:
            return Region.CORE
        return _side(_SHELL, y - down / 2, outline)

    return _dots(region, outline, width, down)


@lru_cache(maxsize=64)
def from_the_side(outline: Outline, width: int, height: int) -> Dots:
    """The bait from its side, in so many cells, head to the left."""
    down = 2 * height
    thick = min(float(down), STOUTEST * width)
    length = BODY_SHARE * width if outline.has_tail else float(width)
    nose = 0.8 * thick

    def region(x: float, y: float) -> Region:
        off = y - down / 2
        if x < length and abs(off) <= _half(x, nose, thick, length, tailed=outline.has_tail):
            core_end = length if outline.tail_cut else length - 0.25 * thick
            over = _in_rod(x, off, thick / 2 * outline.core_share, 0.45 * nose, core_end, cut=outline.tail_cut)
            return _side(_OVER if over else _SHELL, off, outline)
        if outline.has_tail and x >= length:
            along = (x - length) / max(1.0, width - length)
            swung = off - 0.20 * thick * math.sin(1.6 * math.pi * along)
            tip = math.sqrt(max(0.0, 1 - max(0.0, along - 0.9) ** 2 / 0.01))
            if abs(swung) <= thick * (0.33 - 0.20 * along) * tip:
                return Region.TAIL_CORE if outline.tail_cut else _side(_TAIL, swung, outline)
        return Region.NOTHING

    return _dots(region, outline, width, down)


def _half(x: float, nose: float, thick: float, length: float, *, tailed: bool) -> float:
    """Half the body's height at a place along it: a round nose, and a blunt end where there is no tail."""
    half = thick / 2
    if x < nose:
        return half * math.sqrt(max(0.0, 1 - (1 - x / nose) ** 2))
    behind = x - (length - nose)
    if behind > 0:
        drawn_in = behind / nose
        return half * (1 - 0.34 * drawn_in**2) if tailed else half * math.sqrt(max(0.0, 1 - drawn_in**2))
    return half


def _in_rod(x: float, off: float, radius: float, start: float, end: float, *, cut: bool) -> bool:
    """Whether a place lies before the core: a rod with a round nose, and a round end where the tail is kept."""
    if radius <= 0 or x >= end:
        return False
    beyond = max(0.0, start + radius - x, 0.0 if cut else x - (end - radius))
    return math.hypot(beyond, off) < radius


def _side(pair: tuple[Region, Region], off: float, outline: Outline) -> Region:
    return pair[1] if outline.two_sided and off > 0 else pair[0]


_FLAKED = frozenset({*_SHELL, *_OVER, *_TAIL})
"""Flake is in the shell, so it lies before the core too."""


def _dots(region: Callable[[float, float], Region], outline: Outline, width: int, down: int) -> Dots:
    rows: list[tuple[Region, ...]] = []
    for y in range(down):
        row = [region(x + 0.5, y + 0.5) for x in range(width)]
        rows.append(tuple(_strewn(each, x, y, outline.covered) for x, each in enumerate(row)))
    return tuple(rows)


def _strewn(region: Region, x: int, y: int, covered: float) -> Region:
    return Region.FLAKE if region in _FLAKED and _scatter(x, y) < covered else region


def _scatter(x: int, y: int) -> float:
    """A number from 0 to 1 for every dot, always the same one, without a pattern that the eye finds."""
    mixed = (x * 0x9E3779B1 ^ y * 0x85EBCA77) & 0xFFFFFFFF
    mixed = ((mixed ^ mixed >> 15) * 0x2C1B3C6D) & 0xFFFFFFFF
    mixed = ((mixed ^ mixed >> 12) * 0x297A2D39) & 0xFFFFFFFF
    return ((mixed ^ mixed >> 15) & 0xFFFFFF) / 0x1000000
