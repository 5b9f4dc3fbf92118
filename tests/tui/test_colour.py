"""The colour screen driven by keys in a running app."""

from __future__ import annotations

from pathlib import Path

from textual import events

from bench.model.recipe import Part, Tail
from bench.store.paths import Home
from bench.store.shelf import load_library
from bench.tui.colour.cells import Patch
from bench.tui.colour.depth import Depth
from bench.tui.colour.desk import Building, Sheet
from bench.tui.colour.easel import Easel
from bench.tui.screens.colour_asks import Kept
from bench.tui.screens.reading import ReadingScreen
from tests.tui.colour.running import ColourApp, colour_screen
from tests.tui.running import press, screen_text, until


def shown_colours(app: ColourApp) -> set[str]:
    """Every colour of a picture on the screen."""
    rows = app.colour.query_one(Easel).rows
    return {piece.fore for row in rows for piece in row if isinstance(piece, Patch) and piece.fore is not None}


async def test_every_view_follows_a_dose_that_moves(tmp_path: Path) -> None:
    async with colour_screen(tmp_path) as app:
        before, bait = shown_colours(app), app.colour.predicted.bait
        assert bait is not None
        assert bait.sides[0].cup.hex in before
        await app.type("plus", "plus", "plus")
        await app.see("0.37 %")
        await until(lambda: app.colour.is_settled)
        after = app.colour.predicted.bait
        assert after is not None
        assert after.sides[0].alone != bait.sides[0].alone
        colours = shown_colours(app)
        for tint in (after.sides[0].cup, after.sides[0].alone, after.sides[0].over_core, after.sides[0].tail):
            assert tint is not None
            assert tint.hex in colours
        await app.see("▼ now 0.37 %", "not saved")


async def test_a_held_arrow_ends_on_the_look_of_the_last_dose(tmp_path: Path) -> None:
    async with colour_screen(tmp_path) as app:
        await app.type(*["right"] * 40)
        await until(lambda: app.colour.desk.draft.recipe.parts[Part.SHELL].doses[0].load_pct == 0.62)
        await until(lambda: app.colour.is_settled)
        look = app.colour.predicted.look
        assert look is not None
        assert look.worst.window is not None
        assert look.worst.window.now.load_pct == 0.62


async def test_a_mould_without_rods_says_so_and_loses_nothing(tmp_path: Path) -> None:
    async with colour_screen(tmp_path, mould="long-reed-6") as app:
        await app.see("no core rods", "Peat brown")
        await app.type("right")
        await app.see("0.23 %")
        await app.type("m")
        await app.see("core shows")


async def test_a_core_from_the_shelf_is_tried_and_taken(tmp_path: Path) -> None:
    async with colour_screen(tmp_path, size=(120, 40)) as app:
        await app.type("f")
        await app.see("best first", "T third colour first", "Moon between")
        await app.type("t")
        await app.see("third colour first", "T best seen first")
        await app.type("down", "enter")
        await until(lambda: isinstance(app.colour.desk.mode, Building) and app.colour.is_settled)
        assert app.colour.desk.draft.recipe.parts[Part.CORE].doses[0].colourant != "ember-red"


async def test_a_variant_is_chosen_by_its_digit(tmp_path: Path) -> None:
    async with colour_screen(tmp_path) as app:
        await app.type("v")
        await until(lambda: isinstance(app.colour.desk.mode, Sheet))
        await app.see("1 ×0.5 this core", "9 ×2")
        await app.type("t", "6")
        await until(lambda: isinstance(app.colour.desk.mode, Building))
        recipe = app.colour.desk.draft.recipe
        assert recipe.tail is Tail.KEPT
        assert recipe.parts[Part.SHELL].doses[0].load_pct == 0.44


async def test_a_wrong_hex_is_kept_a_right_one_is_answered(tmp_path: Path) -> None:
    async with colour_screen(tmp_path) as app:
        await app.type("g", "6", "a", "3", "z", "enter")
        await app.see("#6a3z", "is not a colour")
        await app.type("backspace", "b", "2", "0", "enter")
        await app.see("#6a3b20", "As good as the same.", "Enter takes them")
        await app.type("enter")
        await until(lambda: app.colour.desk.draft.is_changed)


async def test_the_shelf_is_searched_while_the_screen_lives(tmp_path: Path) -> None:
    async with colour_screen(tmp_path, size=(100, 30)) as app:
        await app.type("g", *"306030", "enter")
        await app.see("G searches the whole shelf")
        await app.type("g")
        await app.see("sets so far", "Esc leave it")
        await app.type("escape")
        await until(lambda: isinstance(app.colour.desk.mode, Building))
        await until(lambda: not any(each.is_running for each in app.colour.workers))
        assert isinstance(app.colour.desk.mode, Building)
        await app.type("g", *"306030", "enter")
        await app.see("G searches the whole shelf")
        await app.type("g")
        await app.see("Nearest to #306030 for the shell", "› 1 ", " 2 ")
        await app.type("2")
        await until(lambda: app.colour.desk.draft.is_changed)
        await app.see("The shell is filled anew.")


async def test_flake_is_typed_by_what_it_covers(tmp_path: Path) -> None:
    async with colour_screen(tmp_path, "hoarfrost-reed", "long-reed-6") as app:
        await app.type("down", "3", "0")
        await app.see("How much Hoarfrost flake?", "30▏ % of the cup", "Tab counted otherwise")
        await app.type("tab")
        await app.see("30▏ % of what lies behind it covered")
        await app.type("enter")
        await app.see("they cover 30 % of what lies behind")
        await until(lambda: app.colour.is_settled)
        await app.see("flake covers 30 %")


async def test_a_recipe_is_saved_and_never_over_another_unasked(tmp_path: Path) -> None:
    async with colour_screen(tmp_path, size=(100, 30)) as app:
        await app.type("right", "s")
        await app.see("Ember under Peat, mine")
        await app.type(*["backspace"] * len(", mine"), "enter")
        await app.see("already", "O puts yours in its place.")
        assert not list(tmp_path.rglob("*.toml"))
        await app.type("escape", " ", "t", "w", "o", "enter")
        await app.see("Saved as", "Ember under Peat two")
        assert "not saved" not in app.text
        saved = load_library(Home(tmp_path))[0].recipes["ember-under-peat-two"]
        assert saved.parts[Part.SHELL].doses[0].load_pct == 0.23
        await app.type("r")
        await app.see("Choose", "Ember under Peat two")
        await app.type("escape", "escape")
        await until(lambda: app.was_left)
        assert app.kept == Kept(recipe="ember-under-peat-two", mould="ribbon-leech-4")


async def test_what_is_not_saved_is_asked_about(tmp_path: Path) -> None:
    async with colour_screen(tmp_path) as app:
        await app.type("x", "escape")
        await app.see("Q leaves")
        assert not app.was_left
        await app.type("escape", "u", "escape")
        await until(lambda: app.was_left)
        assert app.kept is None


async def test_a_disk_that_refuses_is_said_and_the_draft_stays(tmp_path: Path) -> None:
    (tmp_path / "profiles").write_text("a file where a folder belongs", encoding="utf-8")
    async with colour_screen(tmp_path, size=(100, 30)) as app:
        await app.type("right", "s", "2", "enter")
        await app.see("»", "0.23 %")
        assert not app.colour.desk.is_kept


async def test_without_colours_words_stand_for_every_picture(tmp_path: Path) -> None:
    async with colour_screen(tmp_path, depth=Depth.NONE) as app:
        await app.see("From the side:", "tail kept, shell", "tail cut, filled with core")
        assert not shown_colours(app)
        await app.type("w")
        await until(lambda: isinstance(app.screen, ReadingScreen))
        await until(lambda: "core cup: " in screen_text(app))
        press(app, "escape")
        await until(lambda: app.screen is app.colour)


async def test_a_paste_never_becomes_keys(tmp_path: Path) -> None:
    async with colour_screen(tmp_path) as app:
        app.colour.post_message(events.Paste("xxxq"))
        await app.type("down")
        await until(lambda: app.colour.desk.draft.at == 1)
        assert not app.colour.desk.draft.is_changed


async def test_it_fits_into_any_window(tmp_path: Path) -> None:
    for size in ((20, 6), (60, 20), (240, 70)):
        async with colour_screen(tmp_path, size=size) as app:
            rows = app.colour.query_one(Easel).rows
            await until(lambda size=size, app=app: len(app.colour.query_one(Easel).rows) == size[1])  # type: ignore[misc]
            assert rows
