"""Beginning a pour while another waits is asked about first."""

from __future__ import annotations

from datetime import datetime
from enum import Enum
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from bench.tui.present_plan import keys_line, left_when, titles_of
from bench.tui.screens.once import SHORT, LeftOnce
from bench.tui.waiting import Unfinished

WORDS = "First see that nothing of it is still on the heat. It stays to be resumed whatever you begin."


class Another(Enum):
    """What to do instead of going back."""

    NEW = 1
    WAITING = 2


class AnotherScreen(ModalScreen[Another | None], LeftOnce[Another | None]):
    """It is dismissed with what is wanted, or with None: nothing yet. The keys that begin a pour, pressed once
    more or held down, begin none here."""

    VERTICAL_BREAKPOINTS: list[tuple[int, str]] | None = SHORT

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n,N", "want('NEW')", "New pour", priority=True),
        Binding("r,R", "want('WAITING')", "The one that waits", priority=True),
        Binding("escape,enter,space,pagedown", "dismiss", "Back", priority=True),
    ]

    def __init__(self, unfinished: Unfinished, now: datetime) -> None:
        super().__init__()
        self.unfinished = unfinished
        self._now = now

    def compose(self) -> ComposeResult:
        """What waits, what to see to first, and the keys."""
        waiting = self.unfinished
        what = f"{', '.join(titles_of(waiting))}: {left_when(waiting, self._now)}."
        with Vertical(id="asking"):
            yield Static("A session waits. Begin another?", id="head", markup=False)
            yield Static(what, classes="paragraph", markup=False)
            yield Static(WORDS, classes="paragraph", markup=False)
            resume = "look on" if waiting.elsewhere else "resume it"
            yield Static(keys_line((("R", resume), ("N", "new pour"), ("Esc", "back"))), id="keys", markup=False)

    def action_want(self, name: str) -> None:
        """Close with that."""
        self.dismiss(Another[name])
