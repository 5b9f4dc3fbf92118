"""Setting an unfinished session aside is asked about first."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from bench.session.events import StopReason
from bench.tui.present_plan import keys_line, titles_of
from bench.tui.screens.once import SHORT, LeftOnce
from bench.tui.waiting import Unfinished

REASONS = tuple(StopReason)

WORDS = (
    "It ends here and is no longer offered. Nothing is deleted: it stays among the past sessions, with the "
    "reason. It cannot be gone on with afterwards."
)
HEAT = "First see that nothing of it is still on the heat."


class SetAsideScreen(ModalScreen[StopReason | None], LeftOnce[StopReason | None]):
    """It is dismissed with the reason that a digit said, or with None: the session waits on."""

    VERTICAL_BREAKPOINTS: list[tuple[int, str]] | None = SHORT

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,n,N,enter,space,pagedown", "dismiss", "Keep", priority=True),
    ]

    def __init__(self, unfinished: Unfinished) -> None:
        super().__init__()
        self.unfinished = unfinished

    def compose(self) -> ComposeResult:
        """What would end, what to see to first, why, one digit each, and what that means."""
        reasons = "\n".join(f"{digit}  {reason}" for digit, reason in enumerate(REASONS, start=1))
        yield Static("Set this session aside?", id="head", markup=False)
        with VerticalScroll(id="reading"):
            yield Static("\n".join(titles_of(self.unfinished)), classes="paragraph", markup=False)
            if not self.unfinished.rehearsal:
                yield Static(HEAT, classes="paragraph", markup=False)
            yield Static(f"Why? A digit sets it aside.\n{reasons}", classes="paragraph", markup=False)
            yield Static(WORDS, markup=False)
        keys = ((f"1–{len(REASONS)}", "set aside"), ("Esc", "keep it"))
        yield Static(keys_line(keys), id="keys", markup=False)

    def on_key(self, event: events.Key) -> None:
        """A digit says why."""
        if event.key.isdigit() and 1 <= int(event.key) <= len(REASONS):
            event.stop()
            self.dismiss(REASONS[int(event.key) - 1])
