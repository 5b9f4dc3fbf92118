"""A list whose cursor is told by a mark, not by colour alone."""

from __future__ import annotations

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widgets import OptionList

HERE, CHOSEN = "►", "·"
"""Where the cursor is while keys go to this list, and what stays chosen in it while they go elsewhere."""


class Lines(OptionList):
    """It keeps its cursor in sight when it gets another size. The mark stands in each line's left margin."""

    def on_resize(self) -> None:
        """Scroll once the new size counts."""
        self.call_after_refresh(self.scroll_to_highlight)

    def render_line(self, y: int) -> Strip:
        """A line of the list, marked where the cursor is."""
        strip = super().render_line(y)
        line = self.scroll_offset.y + y
        if self.highlighted is None or line >= len(self._lines) or self._lines[line] != (self.highlighted, 0):
            return strip
        style = next((segment.style for segment in strip), None) or Style()
        mark = HERE if self.has_focus else CHOSEN
        # A quiet colour of the words would be lost on the cursor's ground.
        rest = [
            Segment(each.text, style + Style(bold=each.style.bold if each.style else None))
            for each in strip.crop(1)
        ]
        return Strip([Segment(mark, style), *rest], strip.cell_length)
