"""The colour screen in windows from 40 by 12 to 300 by 100: the title, what is chosen and the next action are
always in sight, whatever is asked; and its text stands out seven to one in both themes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache, partial
from pathlib import Path

import pytest
from rich.color import Color
from rich.style import Style

from bench.model.recipe import Dose, Part, Tail
from bench.tui.colour.amount import By
from bench.tui.colour.cells import text_of
from bench.tui.colour.depth import Depth
from bench.tui.colour.desk import (
    Building,
    Cores,
    Desk,
    Leaving,
    Mode,
    Offer,
    Offers,
    Picking,
    Reckoning,
    Sheet,
    Taken,
    Typing,
    What,
)
from bench.tui.colour.draft import Draft, begun
from bench.tui.colour.goal import doses_found, shelf_found
from bench.tui.colour.page import Showing, page
from bench.tui.colour.predict import cores_found, predicted, variants
from bench.tui.colour.typed import SEARCHING
from bench.tui.theme import BENCH_FEW, BENCH_THEME, BRIGHT_FEW, BRIGHT_THEME
from tests.tui.at_the_bench import shelf
from tests.tui.colour.running import ColourApp, colour_screen
from tests.tui.running import press, until
from tests.tui.test_theme import LEAST, channels, contrast, true

CORNERS = ((40, 12), (300, 100), (40, 100), (300, 12), (80, 24))
BETWEEN = [
    (width, height)
    for width in (40, 46, 60, 72, 80, 100, 120, 160, 240, 300)
    for height in (12, 13, 16, 20, 24, 30, 40, 70, 100)
]
TINY = ((1, 1), (2, 30), (12, 3), (39, 1), (39, 11))
MOULD = "ribbon-leech-4"


@cache
def draft() -> Draft:
    """Core work with a shell of many colours, the cursor on the last of the shell."""
    recipe = shelf().recipes["ember-under-peat"]
    names = [name for name, each in shelf().colourants.items() if each.flake is None][:8]
    doses = tuple(Dose(colourant=name, load_pct=0.011 + number / 100) for number, name in enumerate(names))
    return begun(recipe, MOULD).with_doses(Part.SHELL, doses).moved(7)


@cache
def modes() -> dict[str, tuple[Mode, tuple[str, ...]]]:
    """Everything that can be asked, and what of it has to be seen."""
    recipe, mould, library = shelf().recipes["ember-under-peat"], shelf().moulds[MOULD], shelf()
    chosen = library.colourants[draft().recipe.parts[Part.SHELL].doses[7].colourant].title
    found = doses_found(recipe, mould, library, Part.SHELL, "#306030")
    names = tuple(library.colourants)
    ways = tuple(By)
    return {
        "building": (Building(), (f"› {chosen[:6]}", "0.081 %", "← →")),
        "picking": (Picking(names=names, at=len(names) - 1), ("› ", "Enter take it", "Esc back")),
        "dose": (Typing(what=What.DOSE, typed="30", by=By.COVER, ways=ways), ("› 30▏ % of what", "Enter take it")),
        "goal": (Typing(what=What.GOAL, typed="#306z", problem="This is no colour."), ("#306z▏", "Enter take it")),
        "waiting": (Reckoning(says=SEARCHING), ("Trying the", "Esc leave it")),
        "cores": (Cores(found=cores_found(recipe, mould, library, Part.SHELL), at=5), ("› ", "Enter take it")),
        "sheet": (Sheet(found=variants(recipe, mould, library), tail=Tail.CUT), ("1 ", "9 ", "1–9 take it")),
        "offer": (Offer(found=found), ("Nearest to", "Enter take them", "G search the shelf")),
        "offers": (
            Offers(found=shelf_found(recipe, mould, library, Part.SHELL, "#306030"), at=4),
            ("› 5 ", "1–9 take it"),
        ),
        "taken": (Taken(recipe=recipe, why="There is one already."), ("There is one", "O write over")),
        "leaving": (Leaving(), ("not saved", "S save", "Q leave", "Esc stay")),
    }


@cache
def showing(name: str, depth: Depth) -> Showing:
    seen = predicted(draft().recipe, shelf().moulds[MOULD], shelf())
    desk = Desk(draft=draft(), mode=modes()[name][0], line="")
    return Showing(desk=desk, library=shelf(), predicted=seen, depth=depth)


NAMES = (
    *("building", "picking", "dose", "goal", "waiting", "cores"),
    *("sheet", "offer", "offers", "taken", "leaving"),
)


def test_every_mode_is_looked_at() -> None:
    assert set(NAMES) == modes().keys()


@pytest.mark.parametrize("windows", [CORNERS, pytest.param(BETWEEN, marks=pytest.mark.nightly)], ids=len)
@pytest.mark.parametrize("name", NAMES)
def test_the_title_the_choice_and_the_next_action_are_in_sight(
    name: str, windows: tuple[tuple[int, int], ...]
) -> None:
    for depth in (Depth.TRUE, Depth.NONE):
        for line in ("", "It goes no higher."):
            seen = showing(name, depth)
            seen = replace(seen, desk=replace(seen.desk, line=line))
            for width, height in windows:
                rows = [text_of(row) for row in page(seen, width, height)]
                assert len(rows) == height
                assert all(len(row) <= width for row in rows)
                shown = "\n".join(rows)
                for words in ("Colour · Ember under", *modes()[name][1], line):
                    assert words in shown, f"{words!r} in {width}x{height} {depth}:\n{shown}"


@pytest.mark.parametrize("name", NAMES)
def test_a_window_may_be_dragged_through_any_size(name: str) -> None:
    for width, height in TINY:
        rows = page(showing(name, Depth.TRUE), width, height)
        assert len(rows) == height
        assert all(len(text_of(row)) <= width for row in rows)


THEMES = (BENCH_THEME, BRIGHT_THEME, BENCH_FEW, BRIGHT_FEW)


def written(app: ColourApp) -> Iterator[tuple[str, Color, Color]]:
    """Every piece of text with its colour and its ground; the bait's own colours are pictures, not text."""
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            style = segment.style or Style()
            if any(character.isalnum() or character in "›▼·…" for character in segment.text):
                assert style.color is not None, segment
                assert style.bgcolor is not None, segment
                yield segment.text, style.color, style.bgcolor


def wears(app: ColourApp, ground: str) -> bool:
    return all(max(map(abs, map(int.__sub__, true(each), channels(ground)))) <= 1 for _, _, each in written(app))


async def test_text_stands_out_seven_to_one_in_both_themes(tmp_path: Path) -> None:
    async with colour_screen(tmp_path, size=(100, 30)) as app:
        for one in THEMES:
            app.register_theme(one)
        for keys in (("right",), ("g", "3", "0"), ("escape", "f"), ("escape", "v"), ("escape", "escape")):
            for key in keys:
                press(app, key)
            await until(lambda: app.colour.is_settled and not isinstance(app.colour.desk.mode, Reckoning))
            for one in THEMES:
                app.theme = one.name
                await until(partial(wears, app, one.background or ""))
                faint = [each for each in written(app) if contrast(true(each[1]), true(each[2])) < LEAST]
                assert faint == [], one.name
