"""A whole session with a core, killed at every call by which it touches its files, and resumed.

A process that is killed stops between two calls of the system or in the middle of a write: from one point on,
nothing it does reaches the disk any more, neither a second try nor any tidying up.
"""

from __future__ import annotations

import errno
import shutil
from collections.abc import Sequence
from pathlib import Path

import pytest

from bench.store import journal
from bench.store.event_tables import event_table
from bench.store.paths import Home
from bench.store.sessions import create, list_sessions, open_for_resume, read
from tests.faults.faulty_disk import Fault, FaultyDisk
from tests.faults.played import CREATED, PATIENCE_S, Played, played
from tests.faults.tally import DONE
from tests.faults.test_disk import keep_on

POINTS = 1_000
PARTS = 15
"""Into how many parts of its length each write is cut."""

SLICE = 6
"""How many of them in every run."""


def kill_points(session: Played, folder: Path) -> list[tuple[int, int]]:
    """Every call of a whole session, and how many bytes of a write that is cut there are still taken."""
    disk = FaultyDisk()
    assert keep_on(disk, Home(folder), session) == len(session.events)
    longest = max(len(journal.block(event_table(event))) for event in session.events[:8])
    parts = [longest * part // PARTS for part in range(PARTS)]
    every = [
        (place, taken) for place, name in enumerate(disk.names) for taken in (parts if name == "write" else (0,))
    ]
    return [every[number * len(every) // POINTS] for number in range(POINTS)] if len(every) > POINTS else every


def killed_and_resumed(session: Played, folder: Path, points: Sequence[tuple[int, int]]) -> None:
    """At each of these points: what was saved is there, the session goes on from it to the same end."""
    for place, taken in points:
        home = Home(folder / f"{place}-{taken}")
        dead = Fault(number=errno.EIO, times=None, taken=taken)
        saved = keep_on(FaultyDisk(at=place, fault=dead), home, session)
        go_on(home, session, saved)
        DONE["kills at a call of a whole session"] += 1
        shutil.rmtree(home.root, ignore_errors=True)


def go_on(home: Home, session: Played, saved: int) -> None:
    """Resume what is there, or begin anew where nothing is yet, and finish."""
    assert not [line.problem for line in list_sessions(home.sessions) if line.problem], (
        "a file that cannot be read"
    )
    files = sorted(home.sessions.glob("[!.]*.toml"))
    assert len(files) <= 1
    assert files or not saved, "an acknowledged event was lost"
    opened = open_for_resume(files[0]) if files else create(home, session.idle, created=CREATED)
    come_to = session.come_to(opened.stored.session)
    assert saved <= come_to <= saved + 1, "a step that was lost or never was"
    DONE["events acknowledged before a kill"] += saved
    for event in session.events[come_to:]:
        opened.record(event)
    assert opened.close(session.after[-1], PATIENCE_S)
    stored = read(opened.path)
    assert (stored.session, stored.torn, stored.edited) == (session.after[-1], None, ())


def test_killed_at_some_calls_of_a_whole_session_it_goes_on_to_the_same_end(tmp_path: Path) -> None:
    session = played()
    points = kill_points(session, tmp_path / "whole")
    killed_and_resumed(session, tmp_path, points[:: len(points) // SLICE])


@pytest.mark.nightly
def test_killed_at_a_thousand_calls_of_a_whole_session_it_goes_on_to_the_same_end(tmp_path: Path) -> None:
    session = played()
    points = kill_points(session, tmp_path / "whole")
    DONE["calls of a whole session that it can be killed at"] += len(points)
    killed_and_resumed(session, tmp_path, points)
