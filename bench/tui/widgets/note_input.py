"""The line in which a note is typed."""

from __future__ import annotations

from textual import events
from textual.widgets import Input

from bench.tui.text import clean

LONGEST_NOTE = 400


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

    @property
    def note(self) -> str:
        """What is typed, fit to be kept."""
        return clean(self.value, limit=LONGEST_NOTE).strip()
