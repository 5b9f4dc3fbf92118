"""Pictures for people: screens of the real app as SVG, beside this file. ``python -m tests.pictures`` draws them.

Textual makes the SVG (``App.export_screenshot``). No test compares it: its details change with Textual.
"""

from __future__ import annotations

import asyncio
import os
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from bench.tui.colour.desk import Building, Cores, Sheet
from tests.pictures import sizes
from tests.tui.colour.running import ColourApp, colour_screen
from tests.tui.running import until

FOLDER = Path(__file__).parent


class Wanted(NamedTuple):
    """A picture: the recipe it begins with, the keys pressed, the mode to wait for, and the window."""

    recipe: str
    keys: Sequence[str] = ()
    mode: type = Building
    size: tuple[int, int] = (100, 30)


PICTURES: Mapping[str, Wanted] = {
    "colour": Wanted("ember-under-peat"),
    "colour-laminate-core": Wanted("moon-between-banks"),
    "colour-too-dense": Wanted("ember-under-peat", ["plus"] * 18),
    "colour-variants": Wanted("ember-under-peat", ["v"], Sheet, (110, 32)),
    "colour-cores": Wanted("ember-under-peat", ["f"], Cores),
    "colour-flake": Wanted("hoarfrost-reed"),
}


async def drawn(wanted: Wanted) -> str:
    """The SVG of one picture."""
    with tempfile.TemporaryDirectory() as home:
        async with colour_screen(Path(home), wanted.recipe, size=wanted.size) as app:
            await app.type(*wanted.keys)
            await until(lambda: isinstance(app.colour.desk.mode, wanted.mode) and _has_taken(app, wanted))
            return app.export_screenshot(title="pourbench")


def _has_taken(app: ColourApp, wanted: Wanted) -> bool:
    """Whether every key has done its work and the look on the screen is of the latest draft."""
    moved = len(app.colour.desk.draft.past) == len(wanted.keys) or wanted.mode is not Building
    return moved and app.colour.is_settled


def main() -> None:
    """Draw all of them, in all colours whatever terminal this is."""
    os.environ |= {"TERM": "xterm-256color", "COLORTERM": "truecolor"}
    for name, wanted in PICTURES.items():
        (FOLDER / f"{name}.svg").write_text(asyncio.run(drawn(wanted)), encoding="utf-8")
    sizes.FOLDER.mkdir(exist_ok=True)
    for name, size, wears in sizes.wanted():
        svg = asyncio.run(sizes.drawn(name, size, wears))
        (sizes.FOLDER / sizes.file_name(name, size, wears)).write_text(svg, encoding="utf-8")


if __name__ == "__main__":
    main()
