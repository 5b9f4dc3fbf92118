"""Between screen and store: nothing is called saved that is not, and nothing waits for the disk."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from bench.errors import BenchError
from bench.session.session import Session
from bench.store.journal import Healed, Journal
from bench.store.paths import Home
from bench.store.sessions import OpenSession, create, list_sessions, open_for_resume, read
from bench.tui.saved import SavedState
from bench.tui.saving import Saving
from tests.faults.played import PATIENCE_S
from tests.session.bench_sessions import Maker, maker

CREATED = datetime(2026, 1, 31, 9, 0, tzinfo=UTC)
SAVED = SavedState(events_waiting=0, problem=None)


def played(step: str = "ready") -> Maker:
    """A session that was walked up to that step."""
    walked = maker(count=4)
    walked.walk_to(step)
    return walked


def until(condition: Callable[[], bool]) -> None:
    """Wait for another thread."""
    end = time.monotonic() + PATIENCE_S
    while not condition():
        assert time.monotonic() < end
        threading.Event().wait(0.002)


def maker_of_files(home: Path, session: Session) -> Callable[[], OpenSession]:
    """What makes the session's file."""
    idle = Session(job=session.job)
    return lambda: create(Home(home), idle, created=CREATED, retry_s=0.01)


def test_a_session_that_nothing_happened_in_leaves_nothing_behind(tmp_path: Path) -> None:
    walked = played()
    saving = Saving(maker_of_files(tmp_path, walked.session))
    assert saving.saved() == SAVED
    assert saving.close(Session(job=walked.session.job), PATIENCE_S)
    assert not list(tmp_path.iterdir())


def test_every_event_is_in_the_file_and_the_summary_too(tmp_path: Path) -> None:
    walked = played("r1.shell.set")
    saving = Saving(maker_of_files(tmp_path, walked.session))
    for event in walked.events:
        saving.keep(event)
    assert saving.close(walked.session, PATIENCE_S)
    (listed,) = list_sessions(tmp_path / "sessions")
    assert read(listed.path).session == walked.session
    assert listed.summary is not None
    assert listed.summary.taken_s > 0
    open_for_resume(listed.path).close(walked.session, PATIENCE_S)


def test_what_another_program_did_to_the_file_is_told(tmp_path: Path) -> None:
    walked = played("r1.shell.set")
    saving = Saving(maker_of_files(tmp_path, walked.session))
    for event in walked.events[:4]:
        saving.keep(event)
    until(lambda: saving.saved() == SAVED)
    (path,) = (tmp_path / "sessions").glob("*.toml")
    with path.open("ab") as file:
        file.write(b"mine")
    for event in walked.events[4:]:
        saving.keep(event)
    until(lambda: not saving.saved().events_waiting)
    assert saving.saved() == SavedState(healed=Healed(kept_in=f"{path.name}.torn"))
    assert saving.close(walked.session, PATIENCE_S)
    assert read(path).session == walked.session
    assert read(path).aside == f"{path.name}.torn"


def test_a_disk_that_refuses_is_told_of_and_tried_again_in_order(tmp_path: Path) -> None:
    walked = played("r1.shell.set")
    real = maker_of_files(tmp_path, walked.session)
    refuses = threading.Event()
    refuses.set()

    def make() -> OpenSession:
        if refuses.is_set():
            raise BenchError("the disk is full")
        return real()

    saving = Saving(make, retry_s=0.01)
    for event in walked.events[:3]:
        saving.keep(event)
    until(lambda: saving.saved() == SavedState(events_waiting=3, problem="the disk is full"))
    for event in walked.events[3:]:
        saving.keep(event)
    refuses.clear()
    until(lambda: saving.saved() == SAVED)
    assert saving.close(walked.session, PATIENCE_S)
    (listed,) = list_sessions(tmp_path / "sessions")
    assert read(listed.path).session == walked.session


def test_closing_on_a_disk_that_still_refuses_says_what_was_not_saved() -> None:
    def refuse() -> OpenSession:
        raise BenchError("the disk is full")

    walked = played()
    saving = Saving(refuse, retry_s=1000)
    saving.keep(walked.events[0])
    until(lambda: saving.saved().problem is not None)
    began = time.monotonic()
    assert not saving.close(walked.session, 500)
    assert time.monotonic() - began < 250, "the last try does not wait for the next one"
    assert saving.saved() == SavedState(events_waiting=1, problem="the disk is full")


def test_after_closing_it_is_known_what_was_not_saved_and_why(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    walked = played()
    saving = Saving(maker_of_files(tmp_path, walked.session))
    saving.keep(walked.events[0])
    until(lambda: saving.saved() == SAVED and any((tmp_path / "sessions").glob("*.toml")))

    def refuse(_journal: Journal, _written: bytes) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Journal, "append", refuse)
    for event in walked.events[1:3]:
        saving.keep(event)
    assert not saving.close(walked.session, PATIENCE_S)
    (path,) = (tmp_path / "sessions").glob("*.toml")
    assert saving.saved() == SavedState(
        events_waiting=2, problem=f"{path.name} cannot be written: no space left on device"
    )


def test_keeping_never_waits_for_the_disk(tmp_path: Path) -> None:
    walked = played()
    real = maker_of_files(tmp_path, walked.session)
    slow = threading.Event()

    def make() -> OpenSession:
        slow.wait(PATIENCE_S)
        return real()

    saving = Saving(make)
    for event in walked.events:
        saving.keep(event)
    assert saving.saved() == SavedState(events_waiting=len(walked.events))
    slow.set()
    assert saving.close(walked.session, PATIENCE_S)


def test_a_maker_that_died_is_followed_by_another(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    walked = played()
    make, tries = maker_of_files(tmp_path, walked.session), []
    died = threading.Event()
    monkeypatch.setattr(threading, "excepthook", lambda _failed: died.set())

    def breaking() -> OpenSession:
        tries.append(1)
        if len(tries) == 1:
            raise ZeroDivisionError
        return make()

    saving = Saving(breaking)
    first, *rest = walked.events
    saving.keep(first)
    assert died.wait(PATIENCE_S)
    until(lambda: not any(thread.name == "session file" for thread in threading.enumerate()))
    for event in rest:
        saving.keep(event)
    assert saving.close(walked.session, PATIENCE_S)
    (listed,) = list_sessions(tmp_path / "sessions")
    assert read(listed.path).events == tuple(walked.events)
