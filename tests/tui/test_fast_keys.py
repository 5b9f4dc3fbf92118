"""Keys that come faster than screens close: none is acted on twice, and none closes what it was not meant for."""

from __future__ import annotations

import asyncio
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import pytest
from textual import events
from textual.screen import Screen

import bench.tui.screens
from bench.clock import SystemClock
from bench.session.session import State
from bench.store.paths import Home
from bench.store.sessions import read
from bench.tui.app import BenchApp
from bench.tui.screens.bench_doors import BenchDoors
from bench.tui.screens.finish import FinishScreen
from bench.tui.screens.once import LeftOnce
from bench.tui.screens.past import PastScreen
from bench.tui.screens.pour import PourScreen
from tests.tui.running import press, running, screen_text, until
from tests.tui.test_app import app_in, left_at


async def at_the_last_step(app: BenchApp) -> PourScreen:
    """The pour screen, one press from the session's end."""
    await until(lambda: "Enter resume" in screen_text(app))
    press(app, "enter")
    await until(lambda: isinstance(app.screen, PourScreen) and "Space" in screen_text(app))
    screen = app.screen
    assert isinstance(screen, PourScreen)
    await asyncio.sleep(0)
    return screen


@pytest.mark.parametrize("then", [["space"], ["6"], ["q", "q"], ["space", "enter", "6"], ["?", "n", "s"]])
@pytest.mark.parametrize("at_once", [True, False], ids=["in one read", "one by one"])
async def test_keys_behind_the_one_that_completes_a_session_do_no_harm(
    then: list[str], at_once: bool, tmp_path: Path
) -> None:
    left_at(tmp_path, "cure")
    app = BenchApp(home=Home(tmp_path), clock=SystemClock())
    async with running(app, size=(100, 30)):
        pour = await at_the_last_step(app)
        for key in ("space", *then):
            press(app, key, " " if key == "space" else None)
            if not at_once:
                await until(lambda: pour.session.state.over)
        await until(lambda: isinstance(app.screen, FinishScreen) or app.running is None)
        assert app.crash is None
        assert pour.session.state is State.COMPLETE
        if app.running is not None:
            press(app, "escape")
        await until(lambda: app.screen is app.bench and app.running is None)
        (file,) = (tmp_path / "sessions").glob("*.toml")
        await until(lambda: not list((tmp_path / "sessions").glob(".*.lock")))
        assert read(file).session.state is State.COMPLETE


async def test_keys_behind_the_one_that_leaves_the_summary_do_nothing(tmp_path: Path) -> None:
    left_at(tmp_path, "cure")
    async with app_in(tmp_path) as app:
        await at_the_last_step(app)
        press(app, "space", " ")
        await until(lambda: isinstance(app.screen, FinishScreen) and "Complete." in screen_text(app))
        finish = app.screen
        assert isinstance(finish, FinishScreen)
        before = finish.session
        for key in ("escape", "6", "enter", "escape"):
            finish.post_message(events.Key(key, None))
        await until(lambda: app.screen is app.bench and app.running is None and not finish.is_attached)
        assert finish.session == before, "it was handed on already"
        assert app.crash is None


@pytest.mark.parametrize("key", ["escape", "q"])
async def test_a_second_press_of_the_key_that_closes_a_screen_closes_no_other(key: str, tmp_path: Path) -> None:
    async with app_in(tmp_path) as app:
        press(app, "l")
        await until(lambda: isinstance(app.screen, PastScreen) and "No sessions yet." in screen_text(app))
        past = app.screen
        for _ in range(3):
            press(app, key)
        await until(lambda: app.screen is app.bench and not past.is_attached)
        assert app.crash is None


@pytest.mark.parametrize("key", ["h", "c", "k"], ids=["heater", "colours", "pedal"])
async def test_a_screen_that_is_closed_in_the_moment_of_a_new_size_is_not_painted_any_more(
    key: str, tmp_path: Path
) -> None:
    """What follows a refresh is done by the screen that is shown then: by a busy bench when the rows are gone."""
    async with app_in(tmp_path) as app:
        await until(lambda: app.bench.planned)
        press(app, key)
        await until(lambda: app.screen is not app.bench and screen_text(app).strip())
        over = app.screen
        app.bench.call_later(until, lambda: not over.is_attached)
        over.post_message(events.Resize(over.size, over.size))
        over.post_message(events.Key("escape", None))
        await until(lambda: app.screen is app.bench and not over.is_attached)
        refreshed = asyncio.Event()
        app.call_after_refresh(refreshed.set)
        await until(lambda: refreshed.is_set() or app.crash)
        assert app.crash is None


def test_every_screen_over_the_bench_is_left_once() -> None:
    for module in iter_modules(bench.tui.screens.__path__):
        for name, held in vars(import_module(f"bench.tui.screens.{module.name}")).items():
            if isinstance(held, type) and issubclass(held, Screen) and held.__module__.startswith("bench."):
                assert issubclass(held, (LeftOnce, BenchDoors)), f"{name} can be dismissed twice"
