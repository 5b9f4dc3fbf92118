"""A second copy of the program looks on: it sees every step and leaves no trace."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from bench.errors import FaultyFiles
from bench.store.lock import InUse, holder_of
from bench.store.onlooker import Onlooker
from bench.store.paths import Home
from bench.store.sessions import open_for_resume
from tests.faults.played import PATIENCE_S, kept, played

pytest.importorskip("fcntl")


def everything(folder: Path) -> dict[str, tuple[bytes, int]]:
    """Every file of a folder, what it holds and when it was last written."""
    return {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.iterdir()}


def test_who_looks_on_sees_every_step_and_writes_nothing(tmp_path: Path) -> None:
    session = played()
    opened = kept(Home(tmp_path), session, most=5)
    onlooker = Onlooker(opened.path)
    for place in range(5, 12):
        before = everything(opened.path.parent)
        seen = onlooker.look()
        assert (seen.stored.session, seen.stored.torn) == (session.after[place], None)
        assert seen.writer == f"process {os.getpid()}"
        assert seen.sentence() == "Another window has this session open. You look on: keys change nothing here."
        assert everything(opened.path.parent) == before
        opened.record(session.events[place])
        assert opened.recorder.flush(PATIENCE_S)
    opened.close(session.after[12], PATIENCE_S)
    seen = onlooker.look()
    assert (seen.stored.session, seen.writer) == (session.after[12], "")
    assert seen.sentence() == "No window has this session open any more. It can be resumed here."
    open_for_resume(opened.path).close(session.after[12], PATIENCE_S)


def test_a_file_that_has_not_changed_is_not_read_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = kept(Home(tmp_path), played(), most=5)
    onlooker = Onlooker(opened.path)
    first = onlooker.look()
    monkeypatch.setattr("bench.store.onlooker.read", None)
    assert onlooker.look() == first
    opened.close(first.stored.session, PATIENCE_S)


def test_half_an_event_is_torn_only_where_nobody_writes_it(tmp_path: Path) -> None:
    session = played()
    opened = kept(Home(tmp_path), session, most=5)
    onlooker = Onlooker(opened.path)
    with opened.path.open("ab") as file:
        file.write(b'[[event]]\nkind = "step do')
    assert onlooker.look().stored.torn is None
    lock = opened.path.with_name(f".{opened.path.name}.lock")
    lock.rename(tmp_path / "lock")
    seen = onlooker.look()
    assert seen.stored.torn is not None
    assert seen.stored.session == session.after[5]
    (tmp_path / "lock").rename(lock)
    opened.close(session.after[5], PATIENCE_S)


def test_who_wants_to_write_too_is_told_who_does_and_may_look_on(tmp_path: Path) -> None:
    opened = kept(Home(tmp_path), played(), most=5)
    with pytest.raises(
        InUse, match=rf"is open in another window on this machine \(process {os.getpid()}\)"
    ) as caught:
        open_for_resume(opened.path)
    assert caught.value.holder == holder_of(opened.path)
    opened.close(Onlooker(opened.path).look().stored.session, PATIENCE_S)


@pytest.mark.parametrize("left", [b"", b"4711 and more", b"-5", b"9" * 30, b"\xff"])
def test_a_lock_that_says_nothing_names_nobody(left: bytes, tmp_path: Path) -> None:
    path = tmp_path / "session.toml"
    path.with_name(".session.toml.lock").write_bytes(left)
    assert holder_of(path) == ""


def test_the_lock_of_a_process_that_was_killed_names_nobody(tmp_path: Path) -> None:
    path = tmp_path / "session.toml"
    done = subprocess.run([sys.executable, "-c", "import os; print(os.getpid())"], capture_output=True, check=True)
    path.with_name(".session.toml.lock").write_bytes(done.stdout.strip())
    assert holder_of(path) == ""


def test_a_session_that_is_gone_is_told_in_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(FaultyFiles, match=r"found a file that cannot be read \(no such file or directory\)"):
        Onlooker(tmp_path / "session.toml").look()
