"""Bold without its colour: many terminals of sixteen colours show what is bold in the brighter of two colours.

xterm does (its resource boldColors), the Linux console does, and black becomes the grey of colour 8: bold black on
white would be read at 4:1.
"""

from __future__ import annotations

from functools import lru_cache

from rich.color import Color as RichColor
from rich.color import ColorSystem
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

PLAIN = Style(bold=False)
DARK = range(8)
"""The colours that have a brighter one."""


class Unbrightened(LineFilter):
    """Takes bold from what it would change the colour of, and leaves the rest."""

    def apply(self, segments: list[Segment], _background: Color) -> list[Segment]:
        """The segments, each in the colour that was meant."""
        return [
            Segment(text, None if style is None else unbrightened(style), control)
            for text, style, control in segments
        ]


@lru_cache(maxsize=1024)
def unbrightened(style: Style) -> Style:
    """The style, not bold where its colour has a brighter one."""
    return style + PLAIN if style.bold and _number(style.color) in DARK else style


def _number(colour: RichColor | None) -> int | None:
    return None if colour is None or colour.is_default else colour.downgrade(ColorSystem.STANDARD).number
