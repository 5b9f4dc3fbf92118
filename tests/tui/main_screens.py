"""The screens that a maker meets, opened in the real app, for tests that look at all of them."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Mapping
from contextlib import asynccontextmanager
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from textual.screen import Screen
from textual.widgets import OptionList

from bench.clock import SystemClock
from bench.model.recipe import Part
from bench.model.settings import Settings
from bench.session.events import CupRead
from bench.session.session import Session
from bench.store.paths import Home
from bench.store.sessions import list_sessions, read
from bench.tui.app import BenchApp
from bench.tui.pour.keys import Keyboard
from bench.tui.saved import SavedState
from bench.tui.screens.aside import SetAsideScreen
from bench.tui.screens.finish import FinishScreen
from bench.tui.screens.help import BenchHelpScreen, ColourHelpScreen, HelpScreen
from bench.tui.screens.keys import KeysScreen
from bench.tui.screens.leave import LeaveScreen
from bench.tui.screens.past import PastScreen, PastSessionScreen
from bench.tui.screens.pour import PourScreen
from bench.tui.screens.reading import ReadingScreen
from tests.session.bench_sessions import maker
from tests.store.on_disk import on_disk
from tests.tui.at_the_bench import HandClock, at, at_kind, at_step, reach, session_of
from tests.tui.running import running, screen_text, until


@cache
def left_session() -> tuple[str, bytes]:
    """The name and the bytes of the file of a session that was left."""
    played = maker(count=4)
    played.walk_to("r1.core.set")
    with TemporaryDirectory() as folder:
        path = on_disk(Path(folder), played)
        return path.name, path.read_bytes()


def leave_sessions(home: Path, number: int) -> None:
    """So many unfinished sessions."""
    name, data = left_session()
    (home / "sessions").mkdir(parents=True, exist_ok=True)
    for place in range(number):
        stem = f"-{place + 1}" if place else ""
        (home / "sessions" / name).with_stem(Path(name).stem + stem).write_bytes(data)


def pour(session: Session, seconds: float) -> PourScreen:
    """A pour screen at that moment, which ticks only when told to."""
    return PourScreen(
        session=session,
        clock=HandClock(seconds=seconds),
        keep=lambda _event: None,
        saved=SavedState,
        settings=Settings(),
        live=False,
    )


def _alarm() -> PourScreen:
    session, now = at_step("r1.heat.shell")
    return pour(session.after(CupRead(at=at(now + 60), part=Part.SHELL, temp_c=212.0)), now + 61)


def _set() -> PourScreen:
    session, now = at_step("r1.shell.set")
    return pour(session, now + 20)


def _shot() -> PourScreen:
    session, now = at_step("r1.shell.shot")
    return pour(session, now + 300)


def _card() -> PourScreen:
    from bench.model.step_kind import StepKind

    return pour(*at_kind(StepKind.CAUTIONS))


def _heat() -> PourScreen:
    return pour(*at_step("m1.warm-up1.heat.shell"))


def _finish() -> FinishScreen:
    session, now = reach(lambda there: there.state.over)
    return FinishScreen(
        session=session, settings=Settings(), clock=HandClock(seconds=now), keep=lambda _event: None
    )


def _past_session(home: Path) -> PastSessionScreen:
    (line, *_) = list_sessions(home / "sessions")
    return PastSessionScreen(read(line.path), Settings())


Make = Callable[[BenchApp, Path], Screen[Any]]

SCREENS: Mapping[str, Make | None] = {
    "bench": None,
    "bench help": lambda _app, _home: BenchHelpScreen(),
    "colour help": lambda _app, _home: ColourHelpScreen(),
    "set aside": lambda app, _home: SetAsideScreen(app.bench.query_one("Waits").waiting.unfinished[0]),  # type: ignore[attr-defined]
    "reading": lambda _app, _home: ReadingScreen("Files that did not load", ["One sentence.", "And another."]),
    "leave": lambda _app, _home: LeaveScreen(SavedState()),
    "pedal": lambda _app, _home: KeysScreen(chosen={}, save=lambda _key: None),
    "past": lambda app, home: PastScreen(Home(home), app.bench.settings),
    "past session": lambda _app, home: _past_session(home),
    "pour: start": lambda _app, _home: pour(session_of(), 0.0),
    "pour: card": lambda _app, _home: _card(),
    "pour: heat": lambda _app, _home: _heat(),
    "pour: set": lambda _app, _home: _set(),
    "pour: shot": lambda _app, _home: _shot(),
    "pour: alarm": lambda _app, _home: _alarm(),
    "help": lambda _app, _home: HelpScreen(Keyboard()),
    "finish": lambda _app, _home: _finish(),
}
"""Each by a name, with how it is made; None for the bench itself, which is there already."""


@asynccontextmanager
async def opened(
    name: str, home: Path, *, size: tuple[int, int] = (100, 30), unfinished: int = 2
) -> AsyncIterator[BenchApp]:
    """The app with that screen on top, drawn; some sessions wait on the bench."""
    leave_sessions(home, unfinished)
    app = BenchApp(home=Home(home), clock=SystemClock())
    async with running(app, size=size):
        await until(lambda: app.bench.planned)
        make = SCREENS[name]
        if make is not None:
            screen = make(app, home)
            app.push_screen(screen)
            await until(lambda: app.screen is screen and screen.is_running)
            if isinstance(screen, PastScreen):
                await until(lambda: screen.query_one(OptionList).option_count)
        await until(lambda: screen_text(app).strip())
        yield app
