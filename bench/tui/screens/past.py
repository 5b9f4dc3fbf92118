"""Past sessions: the list, and one of them to read."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from bench.errors import BenchError
from bench.model.settings import Settings
from bench.store.paths import Home
from bench.store.sessions import Listed, Stored, list_sessions, read
from bench.tui.messages import PastListed, PastRead, SessionRefused
from bench.tui.present_past import listed_label, none_yet, past_content
from bench.tui.present_plan import READING, keys_line
from bench.tui.screens.once import LeftOnce
from bench.tui.widgets.marked_list import Lines

MOST = 500
"""Sessions listed here; the command line lists them all."""


class PastScreen(LeftOnce[None]):
    """The list, the newest session first."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,b,B,l,L,q,Q", "dismiss", "Back"),
        Binding("enter,space", "read", "Read", priority=True),
        Binding("r,R", "rehearsals", "Rehearsals"),
    ]

    def __init__(self, home: Home, settings: Settings) -> None:
        super().__init__()
        self.home = home
        self.settings = settings
        self.listed: tuple[Listed, ...] = ()
        self.rehearsals = False

    def compose(self) -> ComposeResult:
        yield Static("Past sessions", id="head", markup=False)
        yield Static(READING, id="none", markup=False)
        yield Lines(id="past", markup=False, compact=True)
        keys = (("Enter", "read"), ("R", "rehearsals or real"), ("Esc", "back"))
        yield Static(keys_line(keys), id="keys", markup=False)

    def on_mount(self) -> None:
        self.list_them(rehearsals=False)

    def action_rehearsals(self) -> None:
        """Rehearsals instead of real sessions, or the other way round."""
        self.list_them(rehearsals=not self.rehearsals)

    def action_read(self) -> None:
        """Read the session under the cursor."""
        place = self.query_one(OptionList).highlighted
        if place is not None:
            self.read_one(self.listed[place].path)

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        """A click on a line; keys never come this way."""
        self.read_one(self.listed[message.option_index].path)

    @work(thread=True, exclusive=True, group="past")
    def list_them(self, *, rehearsals: bool) -> None:
        """List off the screen's thread."""
        folder = self.home.rehearsals if rehearsals else self.home.sessions
        self.post_message(PastListed(list_sessions(folder, most=MOST), rehearsals=rehearsals))

    @work(thread=True, exclusive=True, group="past")
    def read_one(self, path: Path) -> None:
        """Read off the screen's thread."""
        try:
            stored = read(path)
        except BenchError as error:
            self.post_message(SessionRefused(str(error)))
        else:
            self.post_message(PastRead(stored))

    def on_past_listed(self, message: PastListed) -> None:
        """Show the list."""
        self.listed, self.rehearsals = message.listed, message.rehearsals
        head = "Rehearsals" if message.rehearsals else "Past sessions"
        self.query_one("#head", Static).update(head)
        self.query_one("#none", Static).update(none_yet(rehearsals=message.rehearsals))
        self.query_one("#none").display = not message.listed
        options = self.query_one(OptionList)
        options.set_options([Option(listed_label(line)) for line in message.listed])
        options.highlighted = 0 if message.listed else None
        options.focus()

    def on_past_read(self, message: PastRead) -> None:
        """Open the session that was read."""
        self.app.push_screen(PastSessionScreen(message.stored, self.settings))


class PastSessionScreen(LeftOnce[None]):
    """One past session."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,space,b,B,l,L,q,Q", "dismiss", "Back", priority=True),
    ]

    def __init__(self, stored: Stored, settings: Settings) -> None:
        super().__init__()
        self.stored = stored
        self.settings = settings

    def compose(self) -> ComposeResult:
        yield Static("Past session", id="head", markup=False)
        with VerticalScroll(id="reading"):
            yield Static(past_content(self.stored, self.settings.units), markup=False)
        yield Static(keys_line((("↑ ↓", "read"), ("Esc", "back"))), id="keys", markup=False)
