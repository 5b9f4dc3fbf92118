"""Saving off the screen's thread: nothing acknowledged is lost, nothing lost is called saved. Nothing sleeps."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from pathlib import Path
from typing import BinaryIO

import pytest

from bench.errors import BenchError
from bench.store.journal import Journal, create, load, open_for_writing
from bench.store.lock import Lock
from bench.store.recorder import Recorder

PATIENCE_S = 60.0
"""How long a test waits for another thread before it calls it stuck."""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "session.toml"
    create(path, {"format": 1})
    return path


class Disk:
    """Refuses so many times, then works; tells when it was asked."""

    def __init__(self, *, refusals: int) -> None:
        self.refusals = refusals
        self.asked = threading.Semaphore(0)
        self.lets_go = threading.Event()
        self.lets_go.set()

    def open(self, path: Path) -> BinaryIO:
        self.asked.release()
        assert self.lets_go.wait(PATIENCE_S)
        if self.refusals > 0:
            self.refusals -= 1
            raise OSError(28, "No space left on device")
        return open_for_writing(path)


def _recorder(file: Path, disk: Disk, *, retry_s: float = 0.0) -> Recorder:
    return Recorder(Journal(file, good=file.stat().st_size, opener=disk.open), retry_s=retry_s)


def test_events_are_saved_in_their_order(file: Path) -> None:
    recorder = _recorder(file, Disk(refusals=0))
    events = [{"n": n} for n in range(50)]
    for event in events:
        recorder.record(event)
    assert recorder.flush(PATIENCE_S)
    assert recorder.saved_count == 50
    assert recorder.problem is None
    assert list(load(file).events) == events
    assert recorder.close(PATIENCE_S)


def test_recording_returns_while_the_disk_hangs_and_an_event_is_not_called_saved(file: Path) -> None:
    disk = Disk(refusals=0)
    disk.lets_go.clear()
    recorder = _recorder(file, disk)
    recorder.record({"n": 1})
    assert disk.asked.acquire(timeout=PATIENCE_S)
    recorder.record({"n": 2})
    assert (recorder.saved_count, recorder.unsaved_count) == (0, 2)
    disk.lets_go.set()
    assert recorder.close(PATIENCE_S)
    assert (recorder.saved_count, recorder.unsaved_count) == (2, 0)


def test_a_full_disk_is_told_and_tried_again_until_it_has_room(file: Path) -> None:
    disk = Disk(refusals=3)
    recorder = _recorder(file, disk)
    recorder.record({"n": 1})
    recorder.record({"n": 2})
    assert recorder.flush(PATIENCE_S)
    assert recorder.problem is None
    assert [event["n"] for event in load(file).events] == [1, 2]
    assert recorder.close(PATIENCE_S)


def test_while_the_disk_refuses_the_user_can_read_why_and_how_much_waits(file: Path) -> None:
    disk = Disk(refusals=10**9)
    recorder = _recorder(file, disk, retry_s=PATIENCE_S)
    recorder.record({"n": 1})
    recorder.record({"n": 2})
    assert disk.asked.acquire(timeout=PATIENCE_S)
    assert not recorder.flush(0)
    with recorder._changed:  # until the worker has taken the refusal in
        assert recorder._changed.wait_for(lambda: recorder.problem is not None, PATIENCE_S)
    assert recorder.problem == "session.toml cannot be written: no space left on device"
    disk.refusals = 0
    assert recorder.close(PATIENCE_S), "closing tries at once, whatever the time between tries"
    assert recorder.saved_count == 2
    assert recorder.problem is None


def test_closing_on_a_disk_that_still_refuses_ends_and_says_that_not_all_is_saved(file: Path) -> None:
    disk = Disk(refusals=10**9)
    recorder = _recorder(file, disk, retry_s=PATIENCE_S)
    recorder.record({"n": 1})
    assert disk.asked.acquire(timeout=PATIENCE_S)
    assert not recorder.close(PATIENCE_S)
    assert recorder.unsaved_count == 1
    assert load(file).events == ()


def test_closing_does_not_wait_for_a_disk_that_hangs(file: Path) -> None:
    disk = Disk(refusals=0)
    disk.lets_go.clear()
    recorder = _recorder(file, disk)
    recorder.record({"n": 1})
    assert not recorder.close(0.0)
    disk.lets_go.set()


def test_a_closed_recorder_takes_nothing_more(file: Path) -> None:
    recorder = _recorder(file, Disk(refusals=0))
    assert recorder.close(PATIENCE_S)
    with pytest.raises(RuntimeError):
        recorder.record({"n": 1})


KILLED = """
import os, sys
from pathlib import Path
from bench.store.journal import Journal
from bench.store.recorder import Recorder
path = Path(sys.argv[1])
recorder = Recorder(Journal(path, good=path.stat().st_size))
for n in range(int(sys.argv[2])):
    recorder.record({"n": n})
    assert recorder.flush(20)
recorder.record({"n": -1})
os.kill(os.getpid(), 9)
"""


@pytest.mark.skipif(os.name != "posix", reason="kills as POSIX does")
def test_what_was_called_saved_survives_being_killed(file: Path) -> None:
    done = subprocess.run([sys.executable, "-c", KILLED, str(file), "20"], check=False, timeout=60)
    assert done.returncode == -9
    saved = [event["n"] for event in load(file).events if event["n"] >= 0]
    assert saved == list(range(20))


def test_a_session_in_use_names_its_process_and_is_free_again_after(file: Path) -> None:
    pytest.importorskip("fcntl")
    lock = Lock(file)
    with pytest.raises(
        BenchError, match=rf"^session.toml is open in another window on this machine \(process {os.getpid()}\)"
    ):
        Lock(file)
    lock.release()
    Lock(file).release()
    assert [path.name for path in file.parent.iterdir()] == ["session.toml"]


HOLDER = """
import sys
from pathlib import Path
from bench.store.lock import Lock
lock = Lock(Path(sys.argv[1]))
print("held", flush=True)
sys.stdin.read()
"""


def test_another_process_is_kept_out_until_the_holder_dies_however_it_dies(file: Path) -> None:
    pytest.importorskip("fcntl")
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(file)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        with pytest.raises(
            BenchError, match=rf"is open in another window on this machine \(process {holder.pid}\)"
        ):
            Lock(file)
        holder.kill()
    Lock(file).release()


def test_a_try_that_began_before_closing_is_not_the_last_one(file: Path) -> None:
    """The disk recovers in the very moment in which the program is left."""
    disk = Disk(refusals=1)
    disk.lets_go.clear()
    recorder = _recorder(file, disk, retry_s=PATIENCE_S)
    recorder.record({"kind": "noted", "text": "late"})
    assert disk.asked.acquire(timeout=PATIENCE_S)
    assert not recorder.close(0.0), "nothing is waited for"
    disk.lets_go.set()
    assert recorder.close(PATIENCE_S)
    assert [event["text"] for event in load(file).events] == ["late"]
