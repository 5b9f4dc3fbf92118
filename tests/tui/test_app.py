"""The app: opening, leaving, resuming, past sessions, and what it does not load before its first frame."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from bench.clock import SystemClock
from bench.model.settings import Settings, UnitSystem
from bench.session.events import Left
from bench.store.lock import holder_of
from bench.store.paths import Home
from bench.store.sessions import list_sessions, read
from bench.tui.app import Asked, BenchApp
from bench.tui.colour.desk import Leaving
from bench.tui.past import first_unfinished
from bench.tui.screens.another import AnotherScreen
from bench.tui.screens.leave import LeaveScreen
from bench.tui.screens.past import PastScreen, PastSessionScreen
from bench.tui.screens.pour import PourScreen
from bench.tui.screens.reading import ReadingScreen
from tests.session.bench_sessions import FakeClock, Maker, maker
from tests.store.on_disk import on_disk
from tests.tui.running import press, running, screen_text, until

ROOT = Path(__file__).resolve().parents[2]


@asynccontextmanager
async def app_in(
    home: Path, *, asked: Asked | None = None, size: tuple[int, int] = (100, 30)
) -> AsyncIterator[BenchApp]:
    """The app in that home, its bench filled."""
    app = BenchApp(home=Home(home), clock=SystemClock(), asked=asked)
    async with running(app, size=size):
        await until(lambda: app.bench.library)
        yield app


async def test_a_colour_is_opened_from_the_bench_and_is_on_its_shelf_once_saved(tmp_path: Path) -> None:
    async with app_in(tmp_path) as app:
        await until(lambda: app.bench.planned)
        press(app, "c")
        await until(lambda: app.colour is not None and app.screen is app.colour and app.colour.predicted.look)
        for key in ("right", "s", "2", "enter"):
            press(app, key)
        await until(lambda: "Saved as" in screen_text(app))
        press(app, "escape")
        await until(lambda: app.bench.library and "ember-under-peat-mine2" in app.bench.library.recipes)


async def test_leaving_the_program_asks_about_a_colour_that_is_not_saved(tmp_path: Path) -> None:
    async with app_in(tmp_path) as app:
        await until(lambda: app.bench.planned)
        press(app, "c")
        await until(lambda: app.colour is not None and app.screen is app.colour)
        press(app, "right")
        await until(lambda: app.colour is not None and not app.colour.desk.is_kept)
        press(app, "ctrl+q")
        await until(lambda: app.colour is not None and isinstance(app.colour.desk.mode, Leaving))
        assert app.return_code is None
        press(app, "ctrl+q")
        await until(lambda: app._exit)


def left_at(home: Path, step: str, *, rehearsal: float | None = None) -> Maker:
    """A session that was left at that step, on disk."""
    played = maker(count=4)
    played.walk_to(step)
    on_disk(home, played, rehearsal=rehearsal)
    return played


async def test_pour_and_leave_and_resume(tmp_path: Path) -> None:
    async with app_in(tmp_path) as app:
        await until(lambda: app.bench.planned)
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen))
        press(app, "space", " ")
        await until(lambda: list((tmp_path / "sessions").glob("*.toml")))
        press(app, "q")
        press(app, "q")
        await until(lambda: "Enter resume" in screen_text(app))
        assert app.running is None
        (listed,) = list_sessions(tmp_path / "sessions")
        assert listed.summary is not None
        assert listed.summary.state == "running"
        await until(lambda: not holder_of(listed.path))
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen))
        assert isinstance(app.screen, PourScreen)
        assert app.screen.session == read(listed.path).session


async def test_a_session_only_looked_at_leaves_nothing(tmp_path: Path) -> None:
    async with app_in(tmp_path) as app:
        await until(lambda: app.bench.planned)
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen))
        press(app, "q")
        await until(lambda: app.screen is app.bench and app.running is None)
        assert not (tmp_path / "sessions").exists()


async def test_a_rehearsal_is_marked_and_kept_apart(tmp_path: Path) -> None:
    async with app_in(tmp_path) as app:
        await until(lambda: app.bench.planned)
        press(app, "r")
        await until(lambda: isinstance(app.screen, PourScreen))
        await until(lambda: "×20" in screen_text(app))
        press(app, "space", " ")
        await until(lambda: list((tmp_path / "rehearsals").glob("*.toml")))
        assert not (tmp_path / "sessions").exists()
        app.close_session()


async def test_a_rehearsals_clock_never_goes_back(tmp_path: Path) -> None:
    """Left well after its last entry, it goes on from where it was left."""
    async with app_in(tmp_path) as app:
        await until(lambda: app.bench.planned)
        press(app, "r")
        await until(lambda: isinstance(app.screen, PourScreen) and app.running is not None)
        press(app, "space", " ")
        await until(lambda: list((tmp_path / "rehearsals").glob("*.toml")))
        assert app.running is not None
        clock, begun = app.running.clock, app.running.shown.session.last
        assert begun is not None
        await until(lambda: clock.now().elapsed_s > begun.elapsed_s + 20)
        shown_s = clock.now().elapsed_s
        press(app, "q")
        press(app, "q")
        await until(lambda: "Enter resume" in screen_text(app) and app.running is None)
        (path,) = (tmp_path / "rehearsals").glob("*.toml")
        assert isinstance(read(path).events[-1], Left)
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen) and app.running is not None)
        assert app.running is not None
        assert app.running.clock.now().elapsed_s >= shown_s
        app.close_session()
        assert [type(event) for event in read(path).events][-2:] == [Left, Left]


async def test_what_was_asked_for_opens_first_in_its_own_units(tmp_path: Path) -> None:
    asked = Asked(session=maker().session, settings=Settings(units=UnitSystem.US))
    async with app_in(tmp_path, asked=asked) as app:
        await until(lambda: isinstance(app.screen, PourScreen))
        press(app, "space", " ")
        await until(lambda: "°F" in screen_text(app) or "A I have read" in screen_text(app))
        assert isinstance(app.screen, PourScreen)
        assert app.screen.session.started is not None
        app.close_session()


def asked_beside_one_that_waits(home: Path) -> Asked:
    left_at(home, "ready", rehearsal=60)
    assert first_unfinished(Home(home)) is None, "what waits of a rehearsal is cold"
    left_at(home, "warm-mould")
    waits = first_unfinished(Home(home))
    assert waits is not None
    return Asked(session=maker().session, settings=Settings(), waits=waits)


@pytest.mark.parametrize(("key", "step"), [("r", "warm-mould"), ("n", None)])
async def test_a_pour_asked_for_beside_one_that_waits_is_asked_about(
    tmp_path: Path, key: str, step: str | None
) -> None:
    async with app_in(tmp_path, asked=asked_beside_one_that_waits(tmp_path)) as app:
        await until(lambda: isinstance(app.screen, AnotherScreen) and "A session waits." in screen_text(app))
        assert app.running is None
        press(app, key)
        await until(lambda: isinstance(app.screen, PourScreen))
        assert isinstance(app.screen, PourScreen)
        session = app.screen.session
        assert (session.step.id if session.visits else None) == step
        await until(lambda: ("You were away" in screen_text(app)) is (step is not None))
        app.close_session()


async def test_real_sessions_wait_before_rehearsals(tmp_path: Path) -> None:
    left_at(tmp_path, "ready", rehearsal=60)
    left_at(tmp_path, "warm-mould")
    async with app_in(tmp_path) as app:
        await until(lambda: "Rehearsal" in screen_text(app))
        shown = screen_text(app)
        assert shown.index("Resume  ") < shown.index("Rehearsal  ")
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen))
        assert isinstance(app.screen, PourScreen)
        assert app.screen.session.step.id == "warm-mould"
        app.close_session()


async def test_a_rehearsal_stands_still_while_nobody_rehearses(tmp_path: Path) -> None:
    left = left_at(tmp_path, "r1.shell.set", rehearsal=60)
    (path,) = (tmp_path / "rehearsals").glob("*.toml")
    of_another_day = left.events[-1].at.wall.timestamp()
    os.utime(path, (of_another_day, of_another_day))
    async with app_in(tmp_path) as app:
        await until(lambda: "Rehearsal  Ember" in screen_text(app))
        assert "Enter pour" in screen_text(app), "a rehearsal never takes the place of a pour"
        press(app, "left")
        await until(lambda: "Enter resume" in screen_text(app))
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen))
        assert app.running is not None
        last = left.events[-1].at
        gone_s = app.running.clock.now().elapsed_s - last.elapsed_s
        assert 0 <= gone_s < 60 * 10, "it goes on from its last event, not from the machine's own clock"
        app.close_session()


async def test_trays_are_spoken_of(tmp_path: Path) -> None:
    now = SystemClock().now()
    played = maker(count=4)
    played.clock = FakeClock(elapsed_s=now.elapsed_s, wall=now.wall, boot=now.boot)
    played.walk_to_the_end()
    on_disk(tmp_path, played)
    async with app_in(tmp_path) as app:
        await until(lambda: "Trays" in screen_text(app))
        assert "cure until" in screen_text(app)
        assert "Enter pour" in screen_text(app)


async def test_leaving_a_running_session_is_asked_about(tmp_path: Path) -> None:
    left_at(tmp_path, "ready")
    async with app_in(tmp_path) as app:
        await until(lambda: "Enter resume" in screen_text(app))
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen))
        press(app, "ctrl+q")
        await until(lambda: isinstance(app.screen, LeaveScreen))
        press(app, "space", " ")
        await until(lambda: isinstance(app.screen, PourScreen))
        assert isinstance(app.screen, PourScreen)
        assert app.screen.session.step.id == "ready", "the press that stays does nothing else"
        press(app, "ctrl+q")
        await until(lambda: isinstance(app.screen, LeaveScreen))
        press(app, "n")
        await until(lambda: isinstance(app.screen, PourScreen))
        press(app, "ctrl+c")
        await until(lambda: isinstance(app.screen, LeaveScreen))
        press(app, "Y")
        await until(lambda: app.return_value == 0)
        assert app.close_session() is None


async def test_past_sessions_are_listed_and_read(tmp_path: Path) -> None:
    left = left_at(tmp_path, "r1.shell.set")
    async with app_in(tmp_path) as app:
        await until(lambda: "Enter resume" in screen_text(app))
        press(app, "l")
        await until(lambda: isinstance(app.screen, PastScreen) and "unfinished" in screen_text(app))
        press(app, "enter")
        await until(
            lambda: isinstance(app.screen, PastSessionScreen) and "What it was made with" in screen_text(app)
        )
        assert "plastic 1" in screen_text(app)
        press(app, "end")
        await until(lambda: "not ended" in screen_text(app))
        began = left.session.visit.entered.wall
        assert f"{began:%H:%M:%S}  Let it set, round 1" in screen_text(app)
        press(app, "escape")
        await until(lambda: isinstance(app.screen, PastScreen))
        press(app, "r")
        await until(lambda: "No rehearsals yet. R lists real sessions." in screen_text(app))
        press(app, "escape")
        await until(lambda: app.screen is app.bench)


async def test_what_was_changed_by_hand_is_said_before_the_session_goes_on_and_among_the_past_ones(
    tmp_path: Path,
) -> None:
    left_at(tmp_path, "ready")
    (path,) = (tmp_path / "sessions").glob("*.toml")
    whole = path.read_text(encoding="utf-8")
    path.write_text(whole.replace('title = "Soft"', 'title = "Softer"'), encoding="utf-8")
    with path.open("ab") as file:
        file.write(b"[[event]]\nkind =")
    async with app_in(tmp_path) as app:
        await until(lambda: "Enter resume" in screen_text(app))
        press(app, "enter")
        await until(lambda: "The end of this session was lost" in screen_text(app))
        press(app, "enter")
        await until(lambda: "This session was changed by hand" in screen_text(app))
        assert "check amounts and times before going on" in " ".join(screen_text(app).split())
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen))
        app.close_session()
    async with app_in(tmp_path) as app:
        press(app, "l")
        await until(lambda: isinstance(app.screen, PastScreen) and "unfinished" in screen_text(app))
        press(app, "enter")
        await until(lambda: "found a plan that was changed" in screen_text(app))
        assert "no part of it is kept in" in " ".join(screen_text(app).split())
        assert isinstance(app.screen, PastSessionScreen)


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (200, 50)])
async def test_three_that_wait_and_broken_files_of_every_kind_leave_room_to_choose(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    for _ in range(3):
        left_at(tmp_path, "ready")
    for place in ("settings", "sessions/lost", "profiles/recipes/mine", "profiles/moulds/theirs"):
        file = tmp_path / f"{place}.toml"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("format: 1\n", encoding="utf-8")
    async with app_in(tmp_path, size=size) as app:
        await until(lambda: "settings.toml" in screen_text(app))
        await until(lambda: "How many" in screen_text(app))
        assert ("Resume 1 of 3" in screen_text(app)) == (size == (40, 12))
        assert ("lost.toml" in screen_text(app)) == (size == (200, 50))
        press(app, "f")
        await until(lambda: isinstance(app.screen, ReadingScreen))
        assert {Path(fault.file).stem for fault in app.bench.faults} == {"settings", "lost", "mine", "theirs"}


async def test_a_file_that_cannot_be_resumed_says_why(tmp_path: Path) -> None:
    left_at(tmp_path, "ready")
    async with app_in(tmp_path) as app:
        await until(lambda: "Enter resume" in screen_text(app))
        (path,) = (tmp_path / "sessions").glob("*.toml")
        path.write_text("format = 1\n", encoding="utf-8")
        press(app, "enter")
        await until(lambda: "stays closed" in screen_text(app))
        assert app.running is None


async def test_what_a_handler_raises_is_kept_for_the_entry(tmp_path: Path) -> None:
    app = BenchApp(home=Home(tmp_path), clock=SystemClock())

    def fail() -> None:
        raise ZeroDivisionError("of our own making")

    async def crash() -> None:
        async with app.run_test():
            app.call_later(fail)
            await until(lambda: app.crash)

    with pytest.raises(ZeroDivisionError):
        await crash()
    assert isinstance(app.crash, ZeroDivisionError)


HEAVY = {"pint", "numpy", "scipy", "coloraide", "sqlite3", "markdown_it", "tomlkit", "hypothesis", "pygments"}
FIRST_FRAME = """
import asyncio, sys
from pathlib import Path
from bench.clock import SystemClock
from bench.store.paths import Home
from bench.tui.app import BenchApp

class Still(BenchApp):
    def read_shelf(self):
        print("LOADED", *sorted({name.split(".")[0] for name in sys.modules}))

async def show():
    app = Still(home=Home(Path(sys.argv[1])), clock=SystemClock())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()

asyncio.run(show())
"""


def test_the_first_frame_loads_nothing_heavy(tmp_path: Path) -> None:
    process = subprocess.run(
        [sys.executable, "-c", FIRST_FRAME, str(tmp_path)],
        cwd=ROOT,
        env=dict(os.environ),
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    line = next(line for line in process.stdout.splitlines() if line.startswith("LOADED"))
    assert not HEAVY & set(line.split())


async def test_a_half_typed_note_stands_there_again_after_a_defect(tmp_path: Path) -> None:
    left_at(tmp_path, "ready")
    async with app_in(tmp_path) as app:
        await until(lambda: "Enter resume" in screen_text(app))
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen))
        press(app, "n")
        await until(lambda: app.focused is not None)
        for key in "slow":
            press(app, key)
        await until(lambda: app.going is not None and app.going.begun.note == "slow")
        going = app.going
    again = BenchApp(home=Home(tmp_path), clock=SystemClock(), going=going)
    async with again.run_test(size=(80, 24)):
        await until(lambda: "slow" in screen_text(again) and again.focused is not None)
        press(again, "s")
        await until(lambda: again.going is not None and again.going.begun.note == "slows")
