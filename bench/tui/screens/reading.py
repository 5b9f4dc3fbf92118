"""Something to read, over whatever is on screen."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from bench.tui.present_plan import keys_line
from bench.tui.screens.once import LeftOnce
from bench.tui.text import clean


class ReadingScreen(ModalScreen[None], LeftOnce[None]):
    """A heading and a paragraph for each sentence."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,space,pagedown,b,B,q,Q", "dismiss", "Back", priority=True),
    ]

    def __init__(self, heading: str, sentences: Iterable[str]) -> None:
        super().__init__()
        self.heading = heading
        self.sentences = tuple(sentences)

    def compose(self) -> ComposeResult:
        yield Static(self.heading, id="head", markup=False)
        with VerticalScroll(id="reading"):
            for sentence in self.sentences:
                yield Static(Content(clean(sentence, limit=600)), classes="paragraph", markup=False)
        yield Static(keys_line((("Enter", "go on"), ("↑ ↓", "read"))), id="keys", markup=False)
