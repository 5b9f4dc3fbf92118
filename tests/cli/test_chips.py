"""Swatches of colour are shown where they can be, and nowhere else."""

from __future__ import annotations

import pytest

from bench.cli.chips import WIDE, chip_for

TRUE = {"COLORTERM": "truecolor", "TERM": "xterm-256color"}


def test_a_true_colour_terminal_gets_blanks_on_the_colour_and_a_reset() -> None:
    # SGR 48;2;r;g;b is the background in true colour: ITU-T T.416, as terminals write it.
    assert chip_for(TRUE, is_terminal=True)("#7a4b2c") == f"\x1b[48;2;122;75;44m{' ' * WIDE}\x1b[0m  "
    assert chip_for({**TRUE, "NO_COLOR": ""}, is_terminal=True)("#000000") != "", "an empty NO_COLOR asks nothing"


@pytest.mark.parametrize(
    ("environ", "is_terminal"),
    [
        (TRUE, False),
        ({**TRUE, "NO_COLOR": "1"}, True),
        ({**TRUE, "TERM": "dumb"}, True),
        ({"TERM": "xterm"}, True),
        ({}, True),
    ],
)
def test_elsewhere_there_are_only_words(environ: dict[str, str], is_terminal: bool) -> None:
    assert chip_for(environ, is_terminal=is_terminal)("#7a4b2c") == ""
