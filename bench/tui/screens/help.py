"""The keys of the pour screen, on ``?``."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

KEYS: tuple[tuple[str, str], ...] = (
    ("Space, Enter, Page Down", "done: go on to the next step. Pedals and remotes send these."),
    ("B, Backspace, Page Up", "back: take the last step forward back."),
    ("P", "hold the guidance, or go on. The plastic does not wait."),
    ("A", "I have read this: a card, a reminder or the alarm. Space never does it."),
    ("T", "type a temperature: digits, then Enter. Esc leaves it."),
    ("M", "type the mould's temperature."),
    ("digits", "while heating: a reading. While looking: what you see. At the tails: how many you cut."),
    ("Y", "yes: a doubted reading was meant as the question says."),
    ("L", "what this session has learnt from readings and verdicts; a digit refuses one or takes it up again."),
    ("C", "take the next core colour, while the core cup is cold."),
    ("S", "skip this step; a digit says why."),
    ("X", "stop early; a digit says why. The closing steps follow, except after 5: danger, left at once."),
    ("N", "write a note."),
    ("Q", "leave, pressed twice. The session is kept and can be resumed."),
)

_SCROLLING = frozenset({"up", "down", "home", "end"})


class HelpScreen(ModalScreen[None]):
    """The keys, over the pour screen. Any key closes it, and so does whatever calls the maker."""

    def compose(self) -> ComposeResult:
        """One line a key."""
        with VerticalScroll():
            yield Static(_text())

    def on_key(self, event: events.Key) -> None:
        """Scroll, or close. The key does nothing else."""
        if event.key in _SCROLLING:
            return
        event.stop()
        event.prevent_default()
        self.close()

    def close(self) -> None:
        """Uncover the pour screen."""
        self.dismiss(None)


def _text() -> Content:
    rows = [Content.assemble(("Keys at the bench", "bold"), "   any key closes this"), Content("")]
    for key, does in KEYS:
        rows.append(Content.assemble((key, "bold $bench-key"), "\n    ", does))
    return Content("\n").join(rows)
