"""Looking on: a session that another copy writes is shown as it goes on, and nothing here changes it."""

from __future__ import annotations

import threading
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import cast

import pytest
from textual.app import App

import bench.tui
from bench.clock import FastClock, SystemClock
from bench.errors import BenchError, Fault, FaultyFiles
from bench.model.settings import Settings
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.session import Session
from bench.signals.bell import PATTERNS, Pattern, Signal
from bench.store.onlooker import Onlooker, Seen
from bench.store.paths import Home
from bench.store.sessions import OpenSession, Stored, create, open_for_resume, read
from bench.tui.app import BenchApp
from bench.tui.messages import SessionSeen
from bench.tui.pour.picture import LOOKING_ON, READ_ONCE_RESUMED, READ_THERE, Around, Onlooking, Picture, picture
from bench.tui.screens.onlook import NOBODY_WORKS, SILENT_S, WORK_THERE, OnlookEnd, OnlookHelp, OnlookScreen
from bench.tui.screens.past import PastSessionScreen
from bench.tui.screens.pour import PourScreen
from bench.tui.theme import BENCH_THEME
from bench.tui.widgets.board import Board
from tests.session.bench_sessions import Maker, maker
from tests.tui.at_the_bench import BEGAN, HandClock, at, at_kind, at_step, session_of
from tests.tui.running import press, running, screen_text, until
from tests.tui.test_app import app_in, left_at

pytest.importorskip("fcntl")

PATIENCE_S = 60.0


def everything(folder: Path) -> dict[str, bytes]:
    """Every file of a folder and what it holds."""
    return {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@asynccontextmanager
async def looking_on(home: Path, step: str = "ready") -> AsyncIterator[tuple[BenchApp, OpenSession, Maker]]:
    """The app looking on at a session at that step, which this process writes meanwhile."""
    played = left_at(home, step)
    (path,) = (home / "sessions").glob("*.toml")
    async with app_in(home, size=(80, 24)) as app:
        await until(lambda: "Enter resume" in screen_text(app))
        opened = open_for_resume(path)
        press(app, "enter")
        await until(lambda: LOOKING_ON in screen_text(app))
        yield app, opened, played
        if not opened.recorder.has_ended:
            opened.close(played.session, PATIENCE_S)


def first_words(session: Session) -> str:
    """How the screen begins to say what to do."""
    return session.step.do[:20]


def look(app: BenchApp) -> None:
    """Look at once rather than at the next second."""
    assert isinstance(app.screen, OnlookScreen)
    app.screen.look_again()


async def test_who_comes_second_looks_on_and_no_key_changes_anything(tmp_path: Path) -> None:
    async with looking_on(tmp_path) as (app, _, played):
        shown = screen_text(app)
        assert "Another window has this session open. You look on" in " ".join(shown.split())
        assert first_words(played.session) in shown
        assert app.running is None
        before, screen = everything(tmp_path), app.screen
        assert isinstance(screen, OnlookScreen)
        for key in ("space", "enter", "b", "a", "1", "t", "s", "e", "n", "p", "escape", "f5"):
            screen._line = ""
            press(app, key)
            await until(lambda: screen._line == WORK_THERE)
        await until(lambda: WORK_THERE in screen_text(app))
        assert everything(tmp_path) == before
        press(app, "question_mark")
        await until(lambda: isinstance(app.screen, OnlookHelp) and "Keys while you look on" in screen_text(app))
        press(app, "escape")
        await until(lambda: isinstance(app.screen, OnlookScreen))
        press(app, "q")
        press(app, "q")
        await until(lambda: app.screen is app.bench)
        assert everything(tmp_path) == before
        assert app.crash is None


async def test_what_the_other_copy_does_is_seen(tmp_path: Path) -> None:
    async with looking_on(tmp_path) as (app, opened, played):
        words, events = first_words(played.session), len(played.events)
        played.finish_step()
        for event in played.events[events:]:
            opened.record(event)
        assert opened.recorder.flush(PATIENCE_S)
        look(app)
        await until(lambda: first_words(played.session) in screen_text(app))
        screen = app.screen
        assert isinstance(screen, OnlookScreen)
        assert screen.seen.stored.session == played.session
        assert words not in screen_text(app)


async def test_it_looks_once_a_second_by_itself(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bench.tui.screens.onlook.LOOK_EVERY_S", 0.01)
    async with looking_on(tmp_path) as (app, opened, played):
        opened.close(played.session, PATIENCE_S)
        await until(lambda: "No window has this session open any more" in screen_text(app))


async def test_what_a_key_was_told_goes_once_the_other_window_is_closed(tmp_path: Path) -> None:
    async with looking_on(tmp_path) as (app, opened, played):
        press(app, "space", " ")
        await until(lambda: WORK_THERE in screen_text(app))
        opened.close(played.session, PATIENCE_S)
        look(app)
        await until(lambda: "Enter resume here" in screen_text(app))
        assert WORK_THERE not in screen_text(app)


async def test_once_nobody_writes_it_enter_resumes_it_here(tmp_path: Path) -> None:
    async with looking_on(tmp_path) as (app, opened, played):
        opened.close(played.session, PATIENCE_S)
        look(app)
        await until(lambda: "Enter resume here" in screen_text(app))
        assert "No window has this session open any more" in screen_text(app)
        press(app, "space", " ")
        await until(lambda: NOBODY_WORKS in screen_text(app))
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen))
        assert isinstance(app.screen, PourScreen)
        assert app.screen.session == played.session
        assert app.running is not None
        assert app.close_session() is None


async def test_a_session_that_ends_meanwhile_is_shown_as_a_past_one(tmp_path: Path) -> None:
    async with looking_on(tmp_path, "cure") as (app, opened, played):
        events = len(played.events)
        played.walk_to_the_end()
        for event in played.events[events:]:
            opened.record(event)
        assert opened.recorder.flush(PATIENCE_S)
        look(app)
        await until(lambda: isinstance(app.screen, PastSessionScreen) and "complete" in screen_text(app))
        press(app, "escape")
        await until(lambda: app.screen is app.bench)


class Harness(App[None]):
    """An app with nothing in it but the screen."""

    CSS_PATH = Path(bench.tui.__file__).with_name("pour.tcss")

    def __init__(self, screen: OnlookScreen) -> None:
        super().__init__()
        self.register_theme(BENCH_THEME)
        self.theme = BENCH_THEME.name
        self.onlook = screen
        self.rung = 0
        self.end: OnlookEnd | None = None

    def on_mount(self) -> None:
        self.push_screen(self.onlook, self.left)

    def left(self, end: OnlookEnd | None) -> None:
        self.end = end

    def bell(self) -> None:
        self.rung += 1


def seen(session: Session, *, writer: str = "process 7", rehearsal: float | None = None, now: float = 0.0) -> Seen:
    """That session as an onlooker sees it."""
    stored = Stored(id="one", session=session, created=BEGAN, rehearsal=rehearsal, torn=None)
    return Seen(stored=stored, writer=writer, written=at(now).wall)


@asynccontextmanager
async def shown(
    first: Seen, now: float, look_at: Callable[[], Seen] | None = None, size: tuple[int, int] = (100, 30)
) -> AsyncIterator[tuple[Harness, HandClock]]:
    """The screen on what was seen first, against a clock that only the test moves."""
    clock = HandClock(seconds=now)
    screen = OnlookScreen(
        look=look_at or (lambda: first), seen=first, clock=clock, settings=Settings(), live=False
    )
    app = Harness(screen)
    async with running(app, size=size):
        await until(lambda: screen.is_mounted and screen.query_one(Board).size.width)
        screen.tick()
        yield app, clock


async def test_only_danger_rings_here_and_it_rings_until_it_is_acknowledged_there(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for signal in Signal:
        monkeypatch.setitem(cast("dict[Signal, Pattern]", PATTERNS), signal, Pattern(rings=1, gap_s=0.0))
    session, now = at_step("r1.shell.set")
    async with shown(seen(session), now) as (app, clock):
        clock.advance(session.step.length_s + 1.0)
        app.onlook.tick()
        assert app.rung == 0, "a step that ends is called where it is worked at"
    heating, now = at_kind(StepKind.HEAT)
    scorched = heating.after(drive.reading(heating, heating.job.plastic.scorch_c + 5, at(now)))
    scorched = (
        scorched
        if scorched.alarm
        else scorched.after(drive.reading(scorched, heating.job.plastic.scorch_c + 5, at(now)))
    )
    assert scorched.alarm is not None
    async with shown(seen(scorched), now) as (app, clock):
        assert app.rung == 1
        assert "Its plastic scorches above" in app.onlook.query_one(Board).text
        assert READ_THERE in app.onlook.query_one(Board).text
        clock.advance(5.0)
        app.onlook.tick()
        assert app.rung == 2


async def test_the_clock_goes_on_between_two_looks() -> None:
    session, now = at_step("r1.shell.set")
    async with shown(seen(session), now, size=(10, 12)) as (app, clock):
        before = app.onlook.query_one(Board).text
        clock.advance(3.0)
        app.onlook.tick()
        assert app.onlook.query_one(Board).text != before


@pytest.mark.parametrize("size", [(40, 12), (100, 30)])
async def test_a_window_that_writes_nothing_for_long_is_told_of_and_what_to_do(size: tuple[int, int]) -> None:
    session, now = at_kind(StepKind.READY)
    async with shown(seen(session, now=now), now, size=size) as (app, clock):

        def said() -> str:
            app.onlook.tick()
            return " ".join(app.onlook.query_one(Board).text.split())

        clock.advance(SILENT_S - 1.0)
        assert "nothing was written" not in said()
        clock.advance(11 * 60)
        assert "nothing was written there for 13 min" in said()
        if size[1] > 12:
            assert "If it hangs, close it (process 7): once it is gone, Enter resumes here." in said()
        for key in ("space", "enter", "x"):
            press(app, key)
        await until(lambda: app.onlook._line == WORK_THERE)
        assert app.end is None
        # It goes on after all, or is gone.
        app.onlook.on_session_seen(SessionSeen(seen(session, now=clock.seconds)))
        assert "nothing was written" not in said()
        app.onlook.on_session_seen(SessionSeen(seen(session, writer="", now=now)))
        assert "No window has this session open any more" in said()
        press(app, "enter")
        await until(lambda: app.end)
        assert app.end == OnlookEnd(resume=True)


async def test_a_file_that_cannot_be_read_leaves_what_was_seen_last_and_says_so() -> None:
    session, now = at_kind(StepKind.READY)
    wrong = Fault(key="", found="a file that cannot be read (gone)", wanted="a session", file="one.toml")

    def look_at() -> Seen:
        raise FaultyFiles([wrong])

    async with shown(seen(session), now, look_at) as (app, _):
        app.onlook.look_again()
        await until(lambda: "What was seen last: one.toml: found" in app.onlook.query_one(Board).text)
        assert first_words(session) in app.onlook.query_one(Board).text
        press(app, "enter")
        await until(lambda: WORK_THERE in app.onlook.query_one(Board).text)
        press(app, "q")
        await until(lambda: app.end)
        assert app.end == OnlookEnd()


async def test_a_slow_disk_is_asked_once_at_a_time() -> None:
    session, now = at_kind(StepKind.READY)
    answer, asked = threading.Event(), []

    def look_at() -> Seen:
        asked.append(1)
        answer.wait(PATIENCE_S)
        return seen(session, writer="")

    async with shown(seen(session), now, look_at) as (app, _):
        for _ in range(5):
            app.onlook.look_again()
        await until(lambda: asked)
        answer.set()
        await until(lambda: "No window has this session open" in app.onlook.query_one(Board).text)
        assert len(asked) == 1


async def test_a_rehearsal_is_shown_by_its_own_clock() -> None:
    session, now = at_step("r1.shell.set")
    first = replace(seen(session, rehearsal=60.0), written=at(now - 2).wall)
    async with shown(first, now) as (app, _):
        clock = app.onlook._clock
        assert isinstance(clock, FastClock)
        assert session.last is not None
        assert clock.now().elapsed_s == pytest.approx(session.last.elapsed_s + 120)
        assert clock.now().wall == session.last.wall + timedelta(seconds=120)
        assert "REHEARSAL ×60" in app.onlook.query_one(Board).text
        assert app.rung == 0


def bare(marked: Picture) -> Picture:
    """The picture without its mark, its keys and what asks for one."""
    return replace(marked, corner="", notices=(), hints=(), wide_hints=(), reminder="", sheet=None)


@pytest.mark.parametrize("kind", [StepKind.CAUTIONS, StepKind.READY, StepKind.HEAT, StepKind.LOOK_AT_SHELLS])
def test_the_picture_is_the_pour_screens_but_for_its_mark_and_keys(kind: StepKind) -> None:
    session, now = at_kind(kind)
    around = Around(units=Settings().units)
    there = picture(session, at(now), around)
    here = picture(session, at(now), replace(around, onlooking=Onlooking(sentence="You look on.")))
    assert here.corner.startswith(LOOKING_ON)
    assert here.notices[0] == "You look on."
    assert [hint.does for hint in here.hints] == ["help", "leave"]
    assert bare(here) == bare(there)
    assert (here.sheet is None) == (there.sheet is None)
    if here.sheet is not None:
        assert here.sheet.foot == READ_THERE
        left = picture(
            session,
            at(now),
            replace(around, onlooking=Onlooking(sentence="Nobody writes it.", may_resume=True)),
        )
        assert left.sheet is not None
        assert left.sheet.foot == READ_ONCE_RESUMED


def test_before_its_start_nothing_is_asked_for() -> None:
    here = picture(
        session_of(), at(0), Around(units=Settings().units, onlooking=Onlooking(sentence="You look on."))
    )
    assert here.do == "The session has not been started yet."
    assert [hint.does for hint in here.hints] == ["help", "leave"]


async def test_a_session_in_use_whose_file_is_broken_stays_closed(tmp_path: Path) -> None:
    left_at(tmp_path, "ready")
    (path,) = (tmp_path / "sessions").glob("*.toml")
    async with app_in(tmp_path) as app:
        await until(lambda: "Enter resume" in screen_text(app))
        opened = open_for_resume(path)
        path.write_text("format = 1\n", encoding="utf-8")
        press(app, "enter")
        await until(lambda: "stays closed" in screen_text(app))
        with pytest.raises(BenchError):
            read(path)
        opened.close(maker().session, PATIENCE_S)


def test_what_the_file_was_last_written_at_is_told(tmp_path: Path) -> None:
    before = SystemClock().now().wall
    opened = create(Home(tmp_path), maker().session, created=before)
    told = Onlooker(opened.path).look().written
    assert abs((told - before).total_seconds()) < PATIENCE_S
    opened.close(maker().session, PATIENCE_S)
