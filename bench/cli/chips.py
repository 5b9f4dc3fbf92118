"""Swatches of colour for people: blanks with the colour behind them, where the terminal can show it."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Mapping

Chip = Callable[[str], str]
"""From a hex colour to what stands before its words."""

WIDE = 6


def chip_for(environ: Mapping[str, str], *, is_terminal: bool) -> Chip:
    """True colour for a terminal that says it has it (COLORTERM); nothing at all where NO_COLOR is set, where the
    output is no terminal, and where TERM is dumb."""
    true_colour = environ.get("COLORTERM", "") in ("truecolor", "24bit")
    if is_terminal and true_colour and not environ.get("NO_COLOR") and environ.get("TERM") != "dumb":
        return _painted
    return lambda _: ""


def chip_here() -> Chip:
    """The swatches that standard output can show."""
    return chip_for(os.environ, is_terminal=sys.stdout.isatty())


def _painted(hex_colour: str) -> str:
    red, green, blue = (int(hex_colour[at : at + 2], 16) for at in (1, 3, 5))
    return f"\x1b[48;2;{red};{green};{blue}m{' ' * WIDE}\x1b[0m  "
