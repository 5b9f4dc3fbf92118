"""Clocks that somebody can see: a stopped process, a terminal that does not read."""

from __future__ import annotations

import os
import re
import signal
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import cycle
from pathlib import Path

import pytest

from bench.session import drive
from bench.session.events import StepDone
from bench.session.step import Ending
from bench.store.sessions import read
from bench.tui.pour.beat import MEANWHILE
from tests.session.bench_sessions import FakeClock, maker
from tests.signals.talkers import lines, recorder
from tests.store.on_disk import on_disk
from tests.terminal.conftest import Start
from tests.terminal.hands import Hands
from tests.terminal.hop import Hops
from tests.terminal.term import WITHIN_S, Term
from tests.terminal.test_hearing import speak_with
from tests.terminal.test_sessions import MEANWHILE_S, shows_what_is_left

CODE = """
from pathlib import Path
from queue import Full
from textual.drivers import _writer_thread
from bench.tui.pour import beat
from tests.terminal.hop import run

beat.READ_AFTER_S = 60.0
_writer_thread.MAX_QUEUED_WRITES = 1

def write(self, text):
    try:
        self._queue.put(text, timeout=0.5)
    except Full:
        Path({stuck!r}).touch()
        self._queue.put(text)

_writer_thread.WriterThread.write = write
run()
"""
"""The program, taking every key after a pause for one that waited, as a busy machine reads late. One frame waits
at most; there is a file that says so when another does."""

BLOCKED_S = 1.2
"""A process stopped so long was blocked."""

OVERDUE_S = 10.0
"""A step that ended so long ago was noticed late."""

STILL = re.compile(r"stood still for (\d+) s")
SETTING = "r1.core.set"


def stop_for(hands: Hands, seconds: float, *keys: str) -> None:
    """Stop the process as a shell's ctrl+z or a debugger does, press these keys meanwhile, and have it go on."""
    os.kill(hands.term.pid, signal.SIGSTOP)
    time.sleep(BLOCKED_S)
    hands.let_pass(seconds)
    hands.term.press(*keys)
    os.kill(hands.term.pid, signal.SIGCONT)


def left_s(hands: Hands) -> float:
    """What is left of the present step."""
    return drive.remaining_s(hands.session(), hands.now())


def times_called(record: Path) -> int:
    """How often it was said that a step's time is over."""
    return sum(line.startswith("Time.") for line in lines(record))


@pytest.fixture
def hands(start: Start, hops: Hops, tmp_path: Path) -> Hands:
    """Where the mould sets, in a session that was resumed there; its words go into ``tmp_path / "record"``."""
    home, began = tmp_path / "home", hops.now()
    speak_with(recorder(tmp_path / "record"), home)
    played = maker(count=4)
    played.clock = FakeClock(elapsed_s=began.elapsed_s, wall=began.wall, boot=began.boot)
    played.walk_to(SETTING)
    on_disk(home, played)
    hops.hop(played.clock.elapsed_s - began.elapsed_s + 2 * MEANWHILE_S)

    term = start(columns=110, rows=40, code=CODE.format(stuck=str(tmp_path / "stuck")))
    term.see("Enter resume")
    term.press("enter")
    at_the_set = Hands(term, home / "sessions", hops)
    at_the_set.until(lambda: shows_what_is_left(at_the_set))
    return at_the_set


def test_a_stopped_process_shows_the_right_time_once_it_goes_on(hands: Hands) -> None:
    stop_for(hands, OVERDUE_S, "space", "space", "s", "1")
    hands.term.see("stood still for", MEANWHILE)
    found = STILL.search(hands.term.text)
    assert found is None or int(found[1]) >= int(OVERDUE_S)
    hands.until(lambda: shows_what_is_left(hands))
    assert hands.step() == SETTING


def test_a_step_that_ended_meanwhile_is_ended_once_and_called_once(hands: Hands, tmp_path: Path) -> None:
    record = tmp_path / "record"
    before = times_called(record)
    stop_for(hands, left_s(hands) + OVERDUE_S)
    hands.until(lambda: hands.step() != SETTING)
    hands.term.see("stood still for")
    ends = [event for event in read(hands.file).events if isinstance(event, StepDone) and event.step == SETTING]
    assert [event.by for event in ends] == [Ending.CLOCK]
    assert hands.session().visits[-2].left == ends[0].at
    # By words, as what rings may be a reminder of the same moment: how far the session has come by then differs.
    hands.until(lambda: times_called(record) > before)
    hands.term.rest(0.3)
    assert times_called(record) == before + 1


@contextmanager
def not_reading(term: Term, stuck: Path) -> Iterator[None]:
    """The terminal takes nothing, as one does whose text is being selected (tcflow(3), TCOOFF)."""
    slave = os.open(f"/proc/{term.pid}/fd/0", os.O_RDWR | os.O_NOCTTY)
    try:
        termios.tcflow(slave, termios.TCOOFF)
        stuck.unlink(missing_ok=True)
        # Every frame is one more write that waits, until no more may wait. A figure is typed and taken back.
        term.press("t")
        end = time.monotonic() + WITHIN_S
        for key in cycle(("1", "backspace")):
            if stuck.exists():
                break
            assert time.monotonic() < end, "every frame is written"
            term.press(key)
            time.sleep(0.02)
        yield
    finally:
        termios.tcflow(slave, termios.TCOON)
        os.close(slave)


def test_a_terminal_that_does_not_read_holds_up_no_call_and_no_clock(hands: Hands, tmp_path: Path) -> None:
    record = tmp_path / "record"
    before = times_called(record)
    with not_reading(hands.term, tmp_path / "stuck"):
        hands.let_pass(left_s(hands))
        end = time.monotonic() + WITHIN_S
        while times_called(record) == before:
            assert time.monotonic() < end, lines(record)
            time.sleep(0.02)
        assert hands.step() == SETTING, "the screen is stuck"
    hands.until(lambda: hands.step() != SETTING)
    hands.term.rest(0.2)
    assert times_called(record) == before + 1


def test_a_terminal_that_does_not_read_holds_up_no_end(hands: Hands, tmp_path: Path) -> None:
    term = hands.term
    with not_reading(term, tmp_path / "stuck"):
        os.kill(term.pid, signal.SIGTERM)
        end = time.monotonic() + WITHIN_S
        while (ended := os.waitpid(term.pid, os.WNOHANG))[0] == 0:
            assert time.monotonic() < end, "it waits for the terminal"
            time.sleep(0.02)
    term.code = os.waitstatus_to_exitcode(ended[1])
    assert term.code == 143
    assert hands.step() == SETTING
