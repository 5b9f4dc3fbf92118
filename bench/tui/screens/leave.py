"""Leaving while a session runs is asked about first."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from bench.tui.present_plan import keys_line
from bench.tui.saved import SavedState, leaving_line
from bench.tui.screens.once import SHORT, LeftOnce

RUNNING = "A session is running."
HOT = "Its clocks run on, and so does the heat: switch off what nobody watches."


class LeaveScreen(ModalScreen[None], LeftOnce[None]):
    """The one key that ends most things stays here."""

    VERTICAL_BREAKPOINTS: list[tuple[int, str]] | None = SHORT

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y,Y", "app.quit", "Leave", priority=True),
        Binding("n,N,escape,enter,space,pagedown", "dismiss", "Stay", priority=True),
    ]

    def __init__(self, saved: SavedState) -> None:
        """``saved`` is how the saving of the session goes."""
        super().__init__()
        self._saved = saved

    def compose(self) -> ComposeResult:
        with Vertical(id="asking"):
            yield Static("Leave the bench?", id="head", markup=False)
            yield Static(f"{RUNNING} {leaving_line(self._saved)} {HOT}", classes="paragraph", markup=False)
            yield Static(keys_line((("Y", "leave"), ("Esc", "stay"))), id="keys", markup=False)
