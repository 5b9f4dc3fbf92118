"""What waits on the bench: sessions to go on with, trays that cure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from bench.tui.present_plan import curing_lines, unfinished_label
from bench.tui.waiting import Unfinished, Waiting


class Waits(Vertical):
    """Shows nothing at all where nothing waits."""

    @dataclass
    class Clicked(Message):
        """A session to go on with was clicked."""

        session: Unfinished

    def __init__(self) -> None:
        super().__init__(id="waits")
        self.waiting = Waiting()

    def compose(self) -> ComposeResult:
        yield OptionList(id="unfinished", markup=False, compact=True)
        yield Static(id="curing", markup=False)

    def show(self, waiting: Waiting, now: datetime) -> None:
        """Show what waits at this moment."""
        self.waiting = waiting
        self._list.set_options([Option(unfinished_label(each, now)) for each in waiting.unfinished])
        self._list.display = bool(waiting.unfinished)
        self.query_one("#curing", Static).update(curing_lines(waiting.curing, now))
        self.query_one("#curing").display = bool(waiting.curing)
        self.display = bool(waiting.unfinished or waiting.curing)
        if waiting.unfinished:
            self._list.highlighted = 0
            if not waiting.unfinished[0].rehearsal:
                # A rehearsal waits too, but never in the place of a pour.
                self._list.focus()

    def under_cursor(self) -> Unfinished | None:
        """The session that the cursor is on; None while it is elsewhere."""
        place = self._list.highlighted
        return self.waiting.unfinished[place] if self._list.has_focus and place is not None else None

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        """Only clicks come this way: the screen takes the keys."""
        message.stop()
        self.post_message(self.Clicked(self.waiting.unfinished[message.option_index]))

    @property
    def _list(self) -> OptionList:
        return self.query_one("#unfinished", OptionList)
