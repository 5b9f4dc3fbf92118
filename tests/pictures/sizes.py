"""Pictures of three steps, the bench and its help at four sizes, in both themes, under ``sizes`` beside this file.

``python -m tests.pictures`` draws them. Look at every one: ``rsvg-convert`` makes PNG of them.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

from textual.pilot import Pilot

from bench.model.settings import ThemeName
from bench.tui import theme
from tests.tui.main_screens import opened
from tests.tui.running import screen_text, until
from tests.tui.test_sizes import NEXT

FOLDER = Path(__file__).parent / "sizes"
SIZES = ((40, 12), (80, 24), (120, 40), (240, 70))
STEPS = ("pour: card", "pour: heat", "pour: set")
OTHERS = ("bench", "finish")


def wanted() -> Iterator[tuple[str, tuple[int, int], ThemeName]]:
    """Each screen with its window and theme: the steps in all windows, the rest in one."""
    for name in STEPS:
        for size in SIZES:
            yield name, size, ThemeName.DARK
    for name in (*OTHERS, "pour: set"):
        yield name, SIZES[1], ThemeName.BRIGHT


async def drawn(name: str, size: tuple[int, int], wears: ThemeName) -> str:
    """The SVG of one picture."""
    with tempfile.TemporaryDirectory() as home:
        async with opened(name, Path(home), size=size, unfinished=5) as app:
            theme.show(app, wears)
            await until(lambda: NEXT[name] in screen_text(app))
            await Pilot(app).pause()
            svg = app.export_screenshot(title=f"pourbench, {size[0]} by {size[1]}")
            # Other viewers than browsers would run the blanks between blocks together.
            return svg.replace("<text ", '<text xml:space="preserve" ')


def file_name(name: str, size: tuple[int, int], wears: ThemeName) -> str:
    """Where it is kept."""
    return f"{name.removeprefix('pour: ')}-{size[0]}x{size[1]}-{wears}.svg"
