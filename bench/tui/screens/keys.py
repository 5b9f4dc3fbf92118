"""Press your pedal now: the bench learns what it sends."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from textual import events, work
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from bench.errors import BenchError
from bench.model.key_names import Action, keys_for
from bench.tui.pedal import (
    TOGETHER_S,
    Learning,
    Stage,
    large_words,
    pressed,
    pressed_with,
    saved,
    words,
)
from bench.tui.pour.keys import Counts, Latest, Press, counts
from bench.tui.present_plan import keys_line
from bench.tui.screens.once import LeftOnce
from bench.tui.text import wrap
from bench.tui.widgets.blocks import largest

LARGEST_ROWS = 9
HELD = "A held pedal counts once. Let go and wait a second, then press again."

LEAVE = (("Esc", "back, nothing kept"),)
DONE = (("Enter", "back"),)


class KeysScreen(LeftOnce[bool]):
    """It is dismissed with whether a key was saved.

    ``chosen`` are the settings' keys. ``save`` puts a key into them, off the screen's thread, and raises
    BenchError where that cannot be.
    """

    @dataclass
    class PutDown(Message):
        """The key was saved, or ``problem`` says why not."""

        problem: str

    def __init__(self, *, chosen: Mapping[Action, tuple[str, ...]], save: Callable[[str], None]) -> None:
        super().__init__()
        self.learning = Learning()
        self._every = keys_for(chosen)
        self._save = save
        self._latest: tuple[str, Latest] | None = None
        self._line = ""

    def compose(self) -> ComposeResult:
        """The large words, and the sentences under them."""
        yield Static("Your pedal", id="head", markup=False)
        with VerticalScroll(id="reading", can_focus=False):
            yield Static(id="pedal", markup=False)
        yield Static(id="keys", markup=False)

    def on_mount(self) -> None:
        """Ask for the pedal."""
        self._repaint()

    def on_resize(self) -> None:
        """Fit the words into the new window."""
        self._repaint()

    def on_key(self, event: events.Key) -> None:
        """Every key may be the pedal's, except the one that leaves."""
        if event.key in ("ctrl+q", "ctrl+c"):
            return
        event.stop()
        event.prevent_default()
        key = event.key if len(event.key) > 1 else event.key.lower()
        along = self._came_along_with(key, event.time)
        is_new = self._is_new(key, event.time)
        if key == "escape" or (self.learning.is_over and key == "enter" and is_new and not along):
            self.dismiss(self.learning.stage is Stage.SAVED)
            return
        self._line = "" if is_new else HELD
        if along:
            self.learning = pressed_with(self.learning, along, key)
        elif is_new:
            before = self.learning
            self.learning = pressed(self.learning, key, self._every)
            if self.learning.stage is Stage.SAVING and before.stage is not Stage.SAVING:
                self.put_down(key)
        self._repaint()

    @work(thread=True, exclusive=True, group="key")
    def put_down(self, key: str) -> None:
        """Save the key, off the screen's thread."""
        try:
            self._save(key)
        except BenchError as error:
            self.post_message(self.PutDown(str(error)))
        else:
            self.post_message(self.PutDown(""))

    def on_keys_screen_put_down(self, message: PutDown) -> None:
        """Say what came of it."""
        self.learning = saved(self.learning, message.problem)
        self._repaint()

    def _came_along_with(self, key: str, at_s: float) -> str:
        """The other key of the same press of a pedal; empty where this one came alone."""
        if self._latest is None or self._latest[0] == key:
            return ""
        before, latest = self._latest
        return before if 0 <= at_s - latest.at_s < TOGETHER_S else ""

    def _is_new(self, key: str, at_s: float) -> bool:
        """Whether it is a press of its own, by the filter that the advancing key goes through in a session."""
        before = self._latest[1] if self._latest is not None and self._latest[0] == key else None
        verdict = counts(before, Press.FORWARD, at_s)
        self._latest = (key, Latest(press=Press.FORWARD, at_s=at_s))
        return verdict is Counts.NOW

    def _repaint(self) -> None:
        width = max(1, self.size.width - 4)
        drawing = largest(large_words(self.learning), width, min(LARGEST_ROWS, max(1, self.size.height // 3)))
        large = drawing.lines if drawing else (large_words(self.learning),)
        said = [*words(self.learning, self._every), *filter(None, (self._line,))]
        rows = [Content.styled(row, "bold $bench-title") for row in large]
        for sentence in said:
            rows += [Content(""), *(Content(row) for row in wrap(sentence, width))]
        self.query_one("#pedal", Static).update(Content("\n").join(rows))
        self.query_one("#keys", Static).update(keys_line(DONE if self.learning.is_over else LEAVE))
