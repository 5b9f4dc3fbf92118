"""The line in which a note is typed."""

from __future__ import annotations

from textual import events
from textual.geometry import Region
from textual.widgets import Input

from bench.tui.text import clean

LONGEST_NOTE = 2000
"""Characters. Even where each takes four bytes, the note stays within what a line of a session's file may hold."""


class NoteInput(Input):
    """One line of text. What is pasted passes the same gate as every other foreign string."""

    def __init__(self) -> None:
        super().__init__(max_length=LONGEST_NOTE, select_on_focus=False)
        self.cursor_blink = False

    def on_paste(self, event: events.Paste) -> None:
        """Take the paste cleaned instead of raw."""
        event.prevent_default()
        event.stop()
        self.insert_text_at_cursor(clean(event.text, limit=LONGEST_NOTE))

    def on_resize(self) -> None:
        """Keep in sight what is being typed, however narrow the window becomes."""
        self.call_after_refresh(self._show_cursor)

    def _show_cursor(self) -> None:
        x = self.cursor_screen_offset.x - self.content_region.x + self.scroll_offset.x
        self.scroll_to_region(Region(x, 0, width=1, height=1), force=True, animate=False)

    def restricted(self) -> None:
        """Say why no letter is taken any more, where Textual would only ring."""
        full = (
            f"The note is full at {LONGEST_NOTE} characters. What does not fit is not kept: write a second note."
        )
        self.app.notify(full, severity="warning", markup=False)

    @property
    def note(self) -> str:
        """What is typed, fit to be kept."""
        return clean(self.value, limit=LONGEST_NOTE).strip()
