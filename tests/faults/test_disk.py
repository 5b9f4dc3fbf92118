"""A session is begun, kept and closed on a disk that fails at each of its points in each of its ways.

What was called saved is there afterwards, whatever happened; what can be read again is the session or a whole
beginning of it; a disk that recovers leaves a whole session and nothing beside it.
"""

from __future__ import annotations

import errno
import resource
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from _pytest.mark import ParameterSet

from bench.errors import BenchError
from bench.store import journal
from bench.store.event_tables import event_table
from bench.store.paths import Home
from bench.store.sessions import OpenSession, create, list_sessions, open_for_resume, read
from tests.faults.faulty_disk import Fault, FaultyDisk, every_fault
from tests.faults.played import CREATED, NOTES, PATIENCE_S, Played, kept, played
from tests.faults.tally import DONE

FEW = 4
"""Events of a session that is kept anew at every point."""


LIKELY = ((errno.ENOSPC, 2, True), (errno.EIO, 1, False), (errno.EIO, None, False))
"""What is tried in every run: a disk that fills up on the way, one that slips once, and the end of the power."""


def few(number: int = FEW) -> Played:
    """The beginning of a session."""
    whole = played()
    return Played(idle=whole.idle, events=whole.events[:number], after=whole.after[: number + 1])


def begun(home: Home, session: Played) -> OpenSession | None:
    """A file for it; None where the disk refuses and goes on refusing."""
    for _ in range(6):
        try:
            return create(home, session.idle, created=CREATED, retry_s=0.0)
        except BenchError as error:
            DONE["refusals told in one line"] += len(str(error).splitlines()) == 1
    return None


def keep_on(disk: FaultyDisk, home: Home, session: Played) -> int:
    """Keep the session on that disk to its end; how many events were called saved."""
    with pytest.MonkeyPatch.context() as patch:
        disk.install(patch)
        opened = begun(home, session)
        if opened is None:
            return 0
        for event in session.events:
            opened.record(event)
        if disk.fault is None or disk.fault.times is not None:
            assert opened.recorder.flush(PATIENCE_S), opened.recorder.problem
        all_saved = opened.close(session.after[-1], PATIENCE_S)
        saved = opened.recorder.saved_count
        assert all_saved == (saved == len(session.events))
        return saved


def points_of(home: Home, session: Played) -> int:
    """How many points a disk passes on which all goes well."""
    disk = FaultyDisk()
    assert keep_on(disk, home, session) == len(session.events)
    assert {"open for writing", "write", "fsync", "truncate", "replace", "unlink"} <= set(disk.names)
    return disk.passed


def resumed_and_closed(file: Path, session: Played) -> int:
    """How many events the file's session has when it is resumed on a disk that works."""
    opened = open_for_resume(file)
    come_to = session.come_to(opened.stored.session)
    assert come_to >= 0, "a step that never was"
    assert opened.close(opened.stored.session, PATIENCE_S)
    return come_to


def faults() -> Iterator[ParameterSet]:
    """Every fault, with writes cut at lengths that a block of events has; the likeliest in every run."""
    longest = len(journal.block(event_table(played().events[0])))
    for fault in every_fault(longest):
        likely = (fault.number, fault.times, bool(fault.taken)) in LIKELY and fault.taken < longest
        yield pytest.param(fault, id=str(fault), marks=[] if likely else [pytest.mark.nightly])


@pytest.mark.parametrize("fault", list(faults()))
def test_at_whatever_point_the_disk_fails_nothing_called_saved_is_lost(fault: Fault, tmp_path: Path) -> None:
    session = few()
    points = points_of(Home(tmp_path / "fine"), session)
    for point in range(points):
        home = Home(tmp_path / "home")
        saved = keep_on(FaultyDisk(at=point, fault=fault), home, session)
        DONE["disk faults, each at a point of its own"] += 1
        files = list(home.sessions.glob("*.toml"))
        come_to = sorted(resumed_and_closed(file, session) for file in files)
        assert saved <= (come_to or [0])[-1] <= saved + 1, "one event may be on disk though nobody could say so"
        assert not any(come_to[:-1]), "what could not be removed again is an empty session"
        assert not [line.problem for line in list_sessions(home.sessions) if line.problem]
        if fault.times is not None:
            assert saved == len(session.events), "the disk recovered"
            assert not list(home.sessions.glob("*.torn")), "nobody was interrupted"
        if fault.times == 1:
            assert len(files) == 1, "one session, one file"
        if home.root.exists():
            shutil.rmtree(home.root)


def refusing(opened: OpenSession, taken: int) -> journal.Journal:
    """Appends to that file on a disk that is full once, after so many bytes."""
    disk = FaultyDisk(at=0, fault=Fault(number=errno.ENOSPC, times=1, taken=taken))
    return journal.Journal(opened.path, good=opened.path.stat().st_size, opener=disk.only_writes)


@pytest.mark.parametrize("step", [7, pytest.param(1, marks=pytest.mark.nightly)])
def test_a_write_cut_at_every_length_is_finished_later_and_not_twice(step: int, tmp_path: Path) -> None:
    session = few(3)
    block = journal.block(event_table(session.events[2]))
    opened = kept(Home(tmp_path), session, most=2)
    before = opened.path.read_bytes()
    for taken in range(0, len(block) + 1, step):
        opened.path.write_bytes(before)
        appender = refusing(opened, taken)
        with pytest.raises(OSError, match="No space left"):
            appender.append(block)
        assert opened.path.read_bytes() == before + block[:taken]
        appender.append(block)
        assert opened.path.read_bytes() == before + block
        DONE["writes cut at each length"] += 1
    assert not journal.torn_file(opened.path).exists()
    assert read(opened.path).session == session.after[3]
    opened.close(session.after[3], PATIENCE_S)


@pytest.mark.parametrize("edit", [b"# mine\n", b"# " + b"x" * 400 + b"\n"])
def test_a_head_edited_while_the_disk_is_full_loses_nothing(edit: bytes, tmp_path: Path) -> None:
    """The file has grown by the edit and by a part of an event: neither place may be taken for the other."""
    session = few(4)
    block = journal.block(event_table(session.events[3]))
    for taken in (0, 1, len(block) // 2, len(block) - 1, len(block)):
        opened = kept(Home(tmp_path / str(taken)), session, most=3)
        appender = refusing(opened, taken)
        with pytest.raises(OSError, match="No space left"):
            appender.append(block)
        opened.path.write_bytes(opened.path.read_bytes().replace(b"\n[summary]", edit + b"\n[summary]", 1))
        appender.append(block)
        stored = read(opened.path)
        assert (stored.session, stored.torn) == (session.after[4], None)
        assert edit in opened.path.read_bytes()
        assert not journal.torn_file(opened.path).exists()
        DONE["edits on a full disk"] += 1
        opened.close(stored.session, PATIENCE_S)


def test_a_real_limit_of_the_system_on_the_size_of_files_is_survived(tmp_path: Path) -> None:
    """RLIMIT_FSIZE (setrlimit, POSIX.1-2017): the kernel cuts a write short, then refuses the next with EFBIG."""
    session = few(8)
    opened = kept(Home(tmp_path), session, most=3)
    size = opened.path.stat().st_size
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    block = journal.block(event_table(session.events[3]))
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (size + len(block) // 2, hard))
        for event in session.events[3:]:
            opened.record(event)
        assert not opened.recorder.flush(0.2)
        problem = opened.recorder.problem
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert problem is not None
    assert "file too large" in problem
    assert opened.recorder.flush(PATIENCE_S)
    assert opened.close(session.after[-1], PATIENCE_S)
    assert read(opened.path).session == session.after[-1]


def test_a_file_never_grows_too_large_to_be_read_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    session = few(6)
    opened = kept(Home(tmp_path), session, most=4)
    room = opened.path.stat().st_size + len(journal.block(event_table(session.events[4])))
    monkeypatch.setattr(journal, "LARGEST_FILE", room)
    opened.record(session.events[4])
    opened.record(session.events[5])
    assert not opened.recorder.flush(0.2)
    assert opened.recorder.saved_count == 5
    assert "file too large" in (opened.recorder.problem or "")
    assert not opened.close(session.after[5], PATIENCE_S)
    assert read(opened.path).session == session.after[5]


def test_the_folder_goes_away_and_comes_back(tmp_path: Path) -> None:
    session = few()
    home = Home(tmp_path / "home")
    opened = kept(home, session, most=3)
    home.root.rename(tmp_path / "stick")
    for event in session.events[3:]:
        opened.record(event)
    assert not opened.recorder.flush(0.2)
    assert "no such file or directory" in (opened.recorder.problem or "")
    (tmp_path / "stick").rename(home.root)
    assert opened.recorder.flush(PATIENCE_S)
    assert opened.close(session.after[-1], PATIENCE_S)
    assert read(opened.path).session == session.after[-1]


def test_leaving_while_the_folder_is_gone_is_no_defect(tmp_path: Path) -> None:
    session = few()
    home = Home(tmp_path / "home")
    opened = kept(home, session)
    home.root.rename(tmp_path / "stick")
    assert opened.close(session.after[-1], PATIENCE_S), "every event is on disk, wherever that is now"


def test_every_note_comes_back_as_it_was_said(tmp_path: Path) -> None:
    session = played()
    opened = kept(Home(tmp_path), session)
    assert opened.close(session.after[-1], PATIENCE_S)
    stored = read(opened.path)
    assert stored.torn is None
    assert stored.session == session.after[-1]
    assert stored.session.notes == NOTES
