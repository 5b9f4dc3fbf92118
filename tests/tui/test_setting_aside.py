"""An unfinished session is set aside from the bench: asked first, ended with a reason, nothing deleted."""

from __future__ import annotations

from pathlib import Path

from bench.session.events import Aborted, Started, StopReason
from bench.session.session import State
from bench.store.sessions import list_sessions, open_for_resume, read
from bench.tui.app import BenchApp
from bench.tui.screens.aside import SetAsideScreen
from bench.tui.screens.reading import ReadingScreen
from bench.tui.setting_aside import ending, set_aside
from bench.tui.widgets.waits import Waits
from tests.faults.played import PATIENCE_S
from tests.tui.at_the_bench import HandClock, at, at_step, reach, session_of
from tests.tui.main_screens import leave_sessions, opened
from tests.tui.running import press, screen_text, until


def files(home: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in (home / "sessions").glob("*.toml")}


def waiting(app: BenchApp) -> int:
    return len(app.bench.query_one(Waits).waiting.unfinished)


async def test_it_asks_first_and_keeps_what_is_not_meant(tmp_path: Path) -> None:
    async with opened("bench", tmp_path) as app:
        before = files(tmp_path)
        for no in ("escape", "enter", "n"):
            press(app, "x")
            await until(
                lambda: isinstance(app.screen, SetAsideScreen) and "Nothing is deleted" in screen_text(app)
            )
            press(app, no)
            await until(lambda: app.screen is app.bench)
        assert files(tmp_path) == before
        assert waiting(app) == 2


async def test_a_digit_says_why_and_the_session_stays_among_the_past_ones(tmp_path: Path) -> None:
    async with opened("bench", tmp_path) as app:
        chosen = app.bench.query_one(Waits).waiting.unfinished[0].path
        before = read(chosen)
        press(app, "x")
        await until(lambda: isinstance(app.screen, SetAsideScreen))
        press(app, "3")
        await until(lambda: waiting(app) == 1)
        after = read(chosen)
        assert after.session.state is State.ABORTED
        assert after.events[:-1] == before.events, "everything that happened is still there"
        assert isinstance(after.events[-1], Aborted)
        assert after.events[-1].reason is StopReason.OUT_OF_TIME
        assert sorted(line.over for line in list_sessions(tmp_path / "sessions")) == [False, True]


async def test_a_session_that_another_copy_has_open_stays(tmp_path: Path) -> None:
    async with opened("bench", tmp_path) as app:
        chosen = app.bench.query_one(Waits).waiting.unfinished[0].path
        file = open_for_resume(chosen)
        try:
            press(app, "x")
            await until(lambda: isinstance(app.screen, SetAsideScreen))
            press(app, "1")
            await until(lambda: isinstance(app.screen, ReadingScreen))
            await until(lambda: "This session stays closed" in screen_text(app))
        finally:
            file.close(file.stored.session, PATIENCE_S)
        assert not read(chosen).session.state.over


def test_a_session_that_is_over_needs_nothing_more() -> None:
    session, now = at_step("r1.shell.set")
    (event,) = ending(session, StopReason.DANGER, at(now))
    assert isinstance(event, Aborted)
    assert ending(reach(lambda there: there.state.over)[0], StopReason.DANGER, at(now)) == ()


def test_a_session_whose_start_was_lost_can_be_ended_too() -> None:
    session = session_of()
    events = ending(session, StopReason.ENOUGH_MADE, at(5))
    assert [type(event) for event in events] == [Started, Aborted]
    for event in events:
        session = session.after(event)
    assert session.state is State.ABORTED


def test_it_is_over_on_disk_once_the_call_returns(tmp_path: Path) -> None:
    leave_sessions(tmp_path, 1)
    (line,) = list_sessions(tmp_path / "sessions")
    set_aside(line.path, StopReason.OUT_OF_PLASTIC, HandClock(seconds=10.0))
    (line,) = list_sessions(tmp_path / "sessions")
    assert line.over
