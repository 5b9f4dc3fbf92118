"""The bench screen: choosing with keys, the plan beside the choice, what it asks the app for."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.message import Message
from textual.widgets import OptionList

from bench.clock import SystemClock
from bench.errors import Fault
from bench.model.recipe import Tail
from bench.store.last_choice import last_choice
from bench.store.paths import Home, shipped_profiles
from bench.tui.app import BenchApp
from bench.tui.messages import OpenSession
from bench.tui.present import long_time
from bench.tui.present_plan import faults_line
from bench.tui.screens.reading import ReadingScreen
from bench.tui.widgets.choosing import Choosing
from tests.tui.running import press, running, screen_text, until


class BenchOnly(BenchApp):
    """The app with nothing behind the bench: requests to open a session are kept, not followed."""

    def __init__(self, home: Path) -> None:
        super().__init__(home=Home(home), clock=SystemClock())
        self.requests: list[OpenSession] = []

    def on_open_session(self, message: Message) -> None:
        message.stop()
        message.prevent_default()
        assert isinstance(message, OpenSession)
        self.requests.append(message)


@asynccontextmanager
async def bench(home: Path, size: tuple[int, int] = (80, 24)) -> AsyncIterator[BenchOnly]:
    """The bench with the demo planned."""
    app = BenchOnly(home)
    async with running(app, size=size):
        await until(lambda: app.bench.planned)
        await until(lambda: "baits in" in screen_text(app))
        yield app


def chosen(app: BenchApp) -> tuple[str, str, int | None]:
    """Recipe, mould and count as they stand."""
    choice = app.bench.query_one(Choosing).choice
    assert choice is not None
    return choice.recipe, choice.mould, choice.count


async def test_the_demo_stands_ready_on_a_first_start(tmp_path: Path) -> None:
    async with bench(tmp_path) as app:
        assert chosen(app)[:2] == ("ember-under-peat", "ribbon-leech-4")
        shown = screen_text(app)
        for words in ("Ember under Peat", "estimates", "Peat brown", "shell cup", "core cup", "How many  8"):
            assert words in shown
        press(app, "enter")
        await until(lambda: app.requests)
        assert app.requests[0].session.job.plan.recipe == "ember-under-peat"
        assert not app.requests[0].rehearsal


async def test_arrows_choose_and_the_plan_follows(tmp_path: Path) -> None:
    async with bench(tmp_path) as app:
        press(app, "down")
        await until(lambda: app.bench.planned and app.bench.planned.choice.recipe == "hoarfrost-reed")
        await until(lambda: "body cup" in screen_text(app))
        press(app, "right")
        press(app, "up")
        await until(lambda: chosen(app)[1] == "marsh-minnow-2")


async def test_digits_and_signs_set_the_count(tmp_path: Path) -> None:
    async with bench(tmp_path) as app:
        press(app, "2")
        press(app, "5")
        await until(lambda: "25 baits in" in screen_text(app))
        press(app, "plus", "+")
        press(app, "plus", "+")
        press(app, "minus", "-")
        await until(lambda: "26 baits in" in screen_text(app))
        press(app, "backspace")
        press(app, "backspace")
        await until(lambda: "How many baits?" in screen_text(app))
        press(app, "r")
        press(app, "4")
        await until(lambda: "4 baits in" in screen_text(app))
        assert not app.requests, "a request without a count is not kept for later"


async def test_a_press_while_it_is_planned_opens_what_was_chosen_then(tmp_path: Path) -> None:
    async with bench(tmp_path) as app:
        press(app, "9")
        press(app, "r")
        await until(lambda: app.requests)
        (asked,) = app.requests
        assert asked.rehearsal
        assert asked.session.job.plan.count == 9


async def test_tails_can_be_kept(tmp_path: Path) -> None:
    async with bench(tmp_path) as app:
        assert "tails cut" in screen_text(app)
        press(app, "t")
        await until(lambda: "tails kept" in screen_text(app))
        assert app.bench.planned is not None
        assert app.bench.planned.session.job.plan.tail is Tail.KEPT


async def test_a_plan_that_cannot_be_made_says_why_in_its_place(tmp_path: Path) -> None:
    async with bench(tmp_path, (160, 40)) as app:
        press(app, "right")
        press(app, "home")
        await until(lambda: "has no core rods" in screen_text(app))
        assert "121.6 g" not in screen_text(app), "the amounts of another choice must not stand beside this one"
        for key in ("enter", "r"):
            press(app, key)
            await until(lambda: isinstance(app.screen, ReadingScreen) and "has no core rods" in screen_text(app))
            press(app, "escape")
            await until(lambda: app.screen is app.bench)
        press(app, "end")
        await until(lambda: app.bench.planned)
        assert not app.requests


async def test_figures_that_no_number_can_hold_end_no_bench(tmp_path: Path) -> None:
    plastics = tmp_path / "profiles" / "plastics"
    plastics.mkdir(parents=True)
    shipped = (shipped_profiles() / "plastics" / "quillmere-soft.toml").read_text(encoding="utf-8")
    absurd = shipped.replace('"0.16 W/m/K"', '"1e300 W/m/K"', 1)
    (plastics / "soft.toml").write_text(absurd, encoding="utf-8")
    app = BenchOnly(tmp_path)
    async with running(app, size=(160, 40)):
        await until(lambda: "too large or too small to reckon with: check their units" in screen_text(app))
        press(app, "enter")
        await until(lambda: isinstance(app.screen, ReadingScreen))
        assert not app.requests


@pytest.mark.parametrize(
    ("size", "line"),
    [
        ((40, 12), "! settings.toml and 2 more: press F"),
        ((80, 24), "! settings.toml and 2 more did not load, the usual settings hold: press F"),
        ((200, 50), "! settings.toml, theirs.toml, mine.toml did not load, the usual settings hold: press F"),
    ],
)
async def test_a_bench_with_broken_files_names_them_and_leaves_none_out_of_its_lists(
    tmp_path: Path, size: tuple[int, int], line: str
) -> None:
    for place in ("settings.toml", "profiles/moulds/theirs.toml", "profiles/recipes/mine.toml"):
        file = tmp_path / place
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("format = 1\ntitle: broken\n", encoding="utf-8")
    async with bench(tmp_path, size) as app:
        await until(lambda: line in screen_text(app))
        recipes, moulds = (app.bench.query_one(which, OptionList) for which in ("#recipes", "#moulds"))
        for options, name in ((recipes, "mine"), (moulds, "theirs")):
            last = options.get_option_at_index(options.option_count - 1)
            assert str(last.prompt) == f"{name}  did not load: F"
            assert last.disabled
        press(app, "f")
        await until(lambda: isinstance(app.screen, ReadingScreen))


def test_as_much_is_said_of_broken_files_as_fits() -> None:
    faults = [Fault(key="", found="x", wanted="y", file=f"/a/recipes/{name}.toml") for name in ("ab", "cd", "cd")]
    for width, line in (
        (80, "! ab.toml, cd.toml did not load: press F"),
        (39, "! ab.toml and 1 more: press F"),
        (20, "! 2 files did not load: press F"),
    ):
        assert str(faults_line(faults, width)) == line
    held = [*faults, Fault(key="", found="x", wanted="y", file="/a/settings.toml", remedy="Rename it.")]
    assert str(faults_line(held, 90)) == (
        "! settings.toml, ab.toml, cd.toml did not load, the usual settings hold: press F"
    )
    assert str(faults_line(held, 79)) == (
        "! settings.toml and 2 more did not load, the usual settings hold: press F"
    )
    assert str(faults_line(held, 72)) == "! settings.toml, ab.toml, cd.toml did not load: press F"


async def test_files_that_do_not_load_are_named_on_a_key(tmp_path: Path) -> None:
    broken = tmp_path / "profiles" / "recipes" / "mine.toml"
    broken.parent.mkdir(parents=True)
    broken.write_text('format = 1\nname = "mine"\nbuild = "plian"\n', encoding="utf-8")
    async with bench(tmp_path) as app:
        assert "! mine.toml did not load: press F" in screen_text(app)
        press(app, "f")
        await until(lambda: '"plain"' in screen_text(app))
        press(app, "escape")
        await until(lambda: app.screen is app.bench)


async def test_foreign_titles_are_shown_as_they_are_and_do_nothing(tmp_path: Path) -> None:
    mine = tmp_path / "profiles" / "moulds" / "ribbon-leech-4.toml"
    mine.parent.mkdir(parents=True)
    shipped = Path(__file__).parents[2] / "profiles" / "moulds" / "ribbon-leech-4.toml"
    title = "[@click=app.quit]x[/] [/] [b"
    text = shipped.read_text(encoding="utf-8").replace("Ribbon leech, four cavities", title)
    mine.write_text(text, encoding="utf-8")
    async with bench(tmp_path, size=(130, 40)) as app:
        assert title in screen_text(app)


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (100, 30), (200, 60)])
async def test_every_size_shows_choice_count_time_and_the_one_key(size: tuple[int, int], tmp_path: Path) -> None:
    async with bench(tmp_path, size) as app:
        assert app.bench.planned is not None
        total = long_time(app.bench.planned.session.job.plan.total_s)
        await until(lambda: total in screen_text(app))
        lines = screen_text(app).splitlines()
        shown = "\n".join(lines)
        assert len(lines) <= size[1]
        for words in ("Ember under Peat", "Ribbon leech", "How many  8", total, "estimate", "Enter pour"):
            assert words in shown, words


async def test_what_is_chosen_stays_in_sight_where_there_is_hardly_room(tmp_path: Path) -> None:
    async with bench(tmp_path, (40, 12)) as app:
        await until(lambda: "Ember under Peat" in screen_text(app))
        press(app, "end")
        await until(lambda: chosen(app)[0] == "peat-plain" and "Plain Peat" in screen_text(app))
        assert "How many  8" in screen_text(app)


async def test_the_plan_can_be_read_to_its_end_by_keys(tmp_path: Path) -> None:
    async with bench(tmp_path, (80, 24)) as app:
        press(app, "9")
        press(app, "9")
        await until(lambda: "99 baits in" in screen_text(app))
        assert app.bench.planned is not None
        last_round = re.compile(rf" {app.bench.planned.session.job.plan.rounds} +\d+ °C")
        assert not last_round.search(screen_text(app))
        press(app, "left")
        press(app, "end")
        await until(lambda: last_round.search(screen_text(app)))


async def test_a_key_says_how_many_moulds_there_are(tmp_path: Path) -> None:
    async with bench(tmp_path) as app:
        assert "How many  8   Moulds  1" in screen_text(app)
        assert "M moulds" in screen_text(app)
        for moulds in (2, 3, 4, 1, 2):
            press(app, "m")
            await until(lambda wanted=moulds: f"Moulds  {wanted}" in screen_text(app))  # type: ignore[misc]
        await until(lambda: app.bench.planned and app.bench.planned.choice.moulds == 2)
        press(app, "enter")
        await until(lambda: app.requests)
        assert app.requests[0].session.job.plan.moulds == 2
        await until(lambda: "8 baits in 2 rounds, 2 moulds" in screen_text(app))


async def test_the_bench_stands_on_the_colour_that_was_just_saved_with_its_plan(tmp_path: Path) -> None:
    async with bench(tmp_path, size=(100, 30)) as app:
        press(app, "c")
        await until(lambda: app.screen is app.colour and app.colour.predicted.look)
        for key in ("right", "s", "2", "enter"):
            press(app, key)
        await until(lambda: app.colour is not None and app.colour.kept)
        press(app, "escape")
        await until(lambda: app.screen is app.bench)
        await until(
            lambda: app.bench.planned is not None and app.bench.planned.choice.recipe == "ember-under-peat-mine2"
        )
        assert chosen(app)[0] == "ember-under-peat-mine2"
        assert app.bench.planned is not None
        assert app.bench.planned.session.job.recipe.title == "Ember under Peat, mine2"
        recipes = app.bench.query_one("#recipes", OptionList)
        assert recipes.highlighted is not None
        assert recipes.get_option_at_index(recipes.highlighted).id == "ember-under-peat-mine2"


async def test_the_next_start_stands_where_this_one_was_left(tmp_path: Path) -> None:
    async with bench(tmp_path) as app:
        assert not Home(tmp_path).last_choice.exists(), "what nobody has chosen is not written"
        for key in ("down", "1", "2", "m"):
            press(app, key)
        await until(lambda: chosen(app) == ("hoarfrost-reed", "ribbon-leech-4", 12))
        await until(lambda: (last := last_choice(Home(tmp_path))) and (last.count, last.moulds) == (12, 2))
    async with bench(tmp_path) as app:
        assert chosen(app) == ("hoarfrost-reed", "ribbon-leech-4", 12)
        await until(lambda: "How many  12   Moulds  2" in screen_text(app))


async def test_a_broken_last_choice_never_stops_the_start(tmp_path: Path) -> None:
    Home(tmp_path).last_choice.mkdir()
    async with bench(tmp_path) as app:
        assert chosen(app) == ("ember-under-peat", "ribbon-leech-4", 8)
        press(app, "down")
        await until(lambda: app.bench.planned and app.bench.planned.choice.recipe == "hoarfrost-reed")
        assert app.crash is None


async def test_another_recipes_plan_begins_at_its_heading_and_another_count_stays_where_it_is(
    tmp_path: Path,
) -> None:
    async with bench(tmp_path) as app:
        beside = app.bench.query_one("#beside")
        await until(lambda: beside.max_scroll_y > 0)
        beside.scroll_to(y=1, animate=False)
        await until(lambda: beside.scroll_offset.y == 1)
        press(app, "plus")
        await until(lambda: app.bench.planned and app.bench.planned.choice.count == 9)
        assert beside.scroll_offset.y == 1
        press(app, "down")
        await until(lambda: beside.scroll_offset.y == 0)
