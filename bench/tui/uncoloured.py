"""A screen without colour, for whoever asks for none: the terminal's own two, and what stands out turned round.

Textual itself turns colours into greys, and paints those over what the terminal was set to.
"""

from __future__ import annotations

from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

STANDS_OUT = 0.25
"""Of the brightness between black and white: a ground that differs by more from the one around it is a mark, such
as a cursor or an alarm."""

DEFAULT = Style(color="default", bgcolor="default")


class Uncoloured(LineFilter):
    """Leaves letters bold, dim, underlined or turned round, and takes their colours."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The segments in the terminal's own colours. ``background`` is the ground they stand on."""
        return [
            Segment(text, None if style is None else uncoloured(style, background), control)
            for text, style, control in segments
        ]


@lru_cache(maxsize=1024)
def uncoloured(style: Style, ground: Color) -> Style:
    """The style without its colours, reversed where its ground was a mark."""
    fill = style.bgcolor
    stands_out = (
        fill is not None
        and not fill.is_default
        and abs(Color.from_rich_color(fill).brightness - ground.brightness) > STANDS_OUT
    )
    return style + DEFAULT + Style(reverse=bool(style.reverse) != stands_out)
