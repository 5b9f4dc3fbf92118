"""The keys of the pour screen, on ``?``."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from bench.tui.pour.keys import Keyboard, Press

KEYS: tuple[tuple[Press, str], ...] = (
    (
        Press.FORWARD,
        "done: go on to the next step. Pedals and remotes send Page Down, or a key you taught the bench.",
    ),
    (Press.BACK, "back: take the last step forward back."),
    (Press.HOLD, "hold the guidance, or go on. The plastic does not wait."),
    (Press.ACKNOWLEDGE, "I have read this: a card, a reminder or the alarm. The advancing key never does it."),
    (Press.TEMPERATURE, "type a temperature: digits, then Enter. Esc leaves it."),
    (Press.MOULD, "type the mould's temperature."),
    (Press.DIGIT, "while heating: a reading. While looking: what you see. At the tails: how many you cut."),
    (Press.YES, "yes: a doubted reading was meant as the question says."),
    (
        Press.LEARNT,
        "what this session has learnt from readings and verdicts; a digit refuses one or takes it up again.",
    ),
    (Press.CORE, "take the next core colour, while the core cup is cold."),
    (Press.SKIP, "skip this step; a digit says why."),
    (
        Press.STOP,
        "stop early; a digit says why. The closing steps follow, except after 5: danger, left at once.",
    ),
    (Press.NOTE, "write a note."),
    (Press.LEAVE, "leave, pressed twice. The session is kept and can be resumed."),
)

_SCROLLING = frozenset({"up", "down", "home", "end"})


class HelpScreen(ModalScreen[None]):
    """The keys, over the pour screen. Any key closes it, and so does whatever calls the maker."""

    def __init__(self, keyboard: Keyboard) -> None:
        super().__init__()
        self._keyboard = keyboard

    def compose(self) -> ComposeResult:
        """One line a key."""
        with VerticalScroll():
            yield Static(_text(self._keyboard))

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


def _text(keyboard: Keyboard) -> Content:
    rows = [Content.assemble(("Keys at the bench", "bold"), "   any key closes this"), Content("")]
    for press, does in KEYS:
        key = "digits" if press is Press.DIGIT else keyboard.all_shown(press)
        rows.append(Content.assemble((key, "bold $bench-key"), "\n    ", does))
    return Content("\n").join(rows)
