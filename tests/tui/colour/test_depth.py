"""Terminals with fewer colours: the nearest one is chosen, and the driver really sends it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.color import Color, ColorSystem

from bench.colour.lab import lab_from_hex
from bench.tui.colour.depth import _SIXTEEN, Depth, depth_of, sent

SYSTEMS = {Depth.MANY: ColorSystem.EIGHT_BIT, Depth.FEW: ColorSystem.STANDARD}
ANY_HEX = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")

XTERM = (
    *(
        (r, g, b)
        for r in (0, 95, 135, 175, 215, 255)
        for g in (0, 95, 135, 175, 215, 255)
        for b in (0, 95, 135, 175, 215, 255)
    ),
    *((8 + 10 * step,) * 3 for step in range(24)),
)
"""Colours 16 to 255 of xterm, from its source's 256colres.pl (from memory)."""

REACHED = tuple(rgb for at, rgb in enumerate(XTERM) if at >= 216 or len(set(rgb)) > 1 or rgb[0] in (0, 255))
"""The driver sends greys as steps of the grey scale: four greys inside the cube are never sent."""


def number_of(hex_colour: str, depth: Depth) -> int:
    """The number of the terminal's own colour that Textual's driver sends for a hex colour."""
    number = Color.parse(hex_colour).downgrade(SYSTEMS[depth]).number
    assert number is not None
    return number


@given(ANY_HEX)
def test_with_256_colours_the_driver_sends_the_nearest(hex_colour: str) -> None:
    chosen = XTERM[number_of(sent(hex_colour, Depth.MANY), Depth.MANY) - 16]
    wanted = lab_from_hex(hex_colour)

    def off(rgb: tuple[int, ...]) -> float:
        return math.dist(wanted, lab_from_hex("#" + "".join(f"{channel:02x}" for channel in rgb)))

    assert off(chosen) == pytest.approx(min(map(off, REACHED)), abs=1e-6)


@given(ANY_HEX)
def test_with_16_colours_the_driver_sends_the_nearest(hex_colour: str) -> None:
    chosen = _SIXTEEN[number_of(sent(hex_colour, Depth.FEW), Depth.FEW)]
    wanted = lab_from_hex(hex_colour)
    nearest = min(math.dist(wanted, lab_from_hex(each)) for each in _SIXTEEN)
    assert math.dist(wanted, lab_from_hex(chosen)) == pytest.approx(nearest)


def test_every_colour_is_sent_as_it_is_where_all_can_be_shown() -> None:
    assert sent("#123456", Depth.TRUE) == "#123456"


def test_the_depth_follows_the_terminal_and_no_color_wins() -> None:
    assert depth_of("truecolor", no_color=False) is Depth.TRUE
    assert depth_of("256", no_color=False) is Depth.MANY
    assert depth_of("standard", no_color=False) is Depth.FEW
    assert depth_of(None, no_color=False) is Depth.NONE
    assert depth_of("truecolor", no_color=True) is Depth.NONE
