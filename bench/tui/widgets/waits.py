"""What waits on the bench: sessions to go on with, trays that cure."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from bench.tui.present_plan import curing_lines, more_waiting, unfinished_label
from bench.tui.waiting import Unfinished, Waiting, rows_for
from bench.tui.widgets.marked_list import Lines

LATELY = timedelta(hours=12)
"""How long somebody who rehearsed is taken to come back to the rehearsal first."""


class Waits(Vertical):
    """Shows nothing at all where nothing waits, and never so much that nothing else has room."""

    @dataclass
    class Clicked(Message):
        """A session to go on with was clicked."""

        session: Unfinished

    def __init__(self) -> None:
        super().__init__(id="waits")
        self.waiting = Waiting()
        self.now: datetime | None = None

    def compose(self) -> ComposeResult:
        yield Lines(id="unfinished", markup=False, compact=True)
        yield Static(id="more", markup=False)
        yield Static(id="curing", markup=False)

    def show(self, waiting: Waiting, now: datetime) -> None:
        """Show what waits at this moment."""
        self.waiting, self.now = waiting, now
        self._list.set_options(self._options(now))
        self._list.display = bool(waiting.unfinished)
        self.display = bool(waiting.unfinished or waiting.curing)
        self.fit()
        if waiting.unfinished:
            self._list.highlighted = 0
            if not waiting.unfinished[0].rehearsal or now - waiting.unfinished[0].last < LATELY:
                # A rehearsal of other days waits too, but not in the place of a pour.
                self._list.focus()

    def show_again(self, unfinished: tuple[Unfinished, ...], now: datetime) -> None:
        """What is unfinished by now; the cursor stays on the session it is on."""
        place = self._list.highlighted
        at = self.waiting.unfinished[place].path if place is not None else None
        self.waiting, self.now = replace(self.waiting, unfinished=unfinished), now
        paths = [each.path for each in unfinished]
        self._list.set_options(self._options(now))
        self._list.highlighted = paths.index(at) if at in paths else 0 if paths else None
        self._list.display = bool(unfinished)
        self.display = bool(unfinished or self.waiting.curing)
        self.fit()

    def _options(self, now: datetime) -> list[Option]:
        """A line each; where no row can say that there are more, each line says which of how many it is."""
        unfinished = self.waiting.unfinished
        of = 0 if rows_for(self.screen.size.height).says_more else len(unfinished)
        return [
            Option(unfinished_label(each, now, place=place, of=of))
            for place, each in enumerate(unfinished, start=1)
        ]

    def first_real(self) -> Unfinished | None:
        """The latest pour that is unfinished; None where at most rehearsals wait."""
        return next((each for each in self.waiting.unfinished if not each.rehearsal), None)

    def fit(self) -> None:
        """Take as many rows as this window can spare; the list scrolls to what it does not show."""
        rows = rows_for(self.screen.size.height)
        self._list.styles.max_height = rows.unfinished
        more = more_waiting(len(self.waiting.unfinished) - rows.unfinished)
        self.query_one("#more", Static).update(more)
        self.query_one("#more").display = bool(more.plain) and rows.says_more
        curing = self.waiting.curing
        lines = curing_lines(curing, self.now, most=rows.curing) if self.now else Content("")
        self.query_one("#curing", Static).update(lines)
        self.query_one("#curing").display = bool(curing)

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
