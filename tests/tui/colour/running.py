"""The colour screen in an app of its own."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import ClassVar

from textual.app import App
from textual.types import CSSPathType

import bench.tui
from bench.store.paths import Home
from bench.tui.colour.depth import Depth
from bench.tui.colour.easel import Easel
from bench.tui.screens.colour import ColourScreen
from bench.tui.screens.colour_asks import Kept
from bench.tui.theme import BENCH_THEME
from tests.tui.at_the_bench import shelf
from tests.tui.running import press, running, until

STYLES = Path(bench.tui.__file__).parent


class ColourApp(App[None]):
    """Opens on the colour screen and knows when it was left."""

    CSS_PATH: ClassVar[CSSPathType | None] = [STYLES / "bench.tcss"]

    def __init__(self, home: Path, recipe: str, mould: str, depth: Depth) -> None:
        super().__init__()
        self.register_theme(BENCH_THEME)
        self.theme = BENCH_THEME.name
        self.colour = ColourScreen(home=Home(home), library=shelf(), recipe=recipe, mould=mould, depth=depth)
        self.was_left = False
        self.kept: Kept | None = None

    def on_mount(self) -> None:
        self.push_screen(self.colour, self._left)

    def _left(self, kept: Kept | None) -> None:
        self.was_left, self.kept = True, kept

    @property
    def text(self) -> str:
        """What stands on the colour screen."""
        return self.colour.query_one(Easel).text

    async def type(self, *keys: str) -> None:
        """Press keys one after another."""
        for key in keys:
            press(self, key)

    async def see(self, *words: str) -> None:
        """Wait until all of these stand on the screen, however they are broken into lines."""
        await until(lambda: all(word in " ".join(self.text.split()) for word in words))


@asynccontextmanager
async def colour_screen(
    home: Path,
    recipe: str = "ember-under-peat",
    mould: str = "ribbon-leech-4",
    *,
    size: tuple[int, int] = (80, 24),
    depth: Depth = Depth.TRUE,
) -> AsyncIterator[ColourApp]:
    """The screen with its first look on it."""
    app = ColourApp(home, recipe, mould, depth)
    async with running(app, size=size):
        await until(lambda: app.colour.predicted.look or app.colour.predicted.problem)
        await until(lambda: bool(app.text))
        yield app
