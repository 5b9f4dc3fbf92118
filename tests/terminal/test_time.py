"""Clocks that somebody can see: a stopped process, a terminal that does not read."""

from __future__ import annotations

import os
import signal
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench.session.events import StepDone
from bench.session.step import Ending
from bench.store.sessions import read
from bench.tui.pour.beat import MEANWHILE
from tests.signals.talkers import lines, recorder
from tests.terminal.conftest import Start
from tests.terminal.hands import Hands
from tests.terminal.term import WITHIN_S, Term
from tests.terminal.test_hearing import speak_with
from tests.terminal.test_sessions import comes_to_show_what_is_left

DEMO = ("ember-under-peat", "--mould", "ribbon-leech-4", "--count", "4", "--spares", "0", "--warm-up", "0")
IMPATIENT = """
import sys
from textual.drivers import _writer_thread
from bench.__main__ import main
from bench.tui.pour import beat, moment

moment.SETTLE_S = moment.SETTLE_HOT_S = moment.ASKED_S = moment.SETTLE_LEAST_S
beat.STOOD_STILL_S = 1.0
_writer_thread.MAX_QUEUED_WRITES = 1
sys.exit(main())
"""
"""The program, taking a shorter pause for one and having one frame wait at most: nobody wants a test that stops
for ten minutes, or one that a busy machine fails."""

FRAMES_A_SECOND = 60
"""As often as Textual draws at most."""

SPEED = 30.0
"""Of the rehearsals, in which the set takes some four seconds."""

SETTING = "r1.core.set"


def stop_for(term: Term, seconds: float, *keys: str) -> None:
    """Stop the process as a shell's ctrl+z or a debugger does, press these keys meanwhile, and have it go on."""
    os.kill(term.pid, signal.SIGSTOP)
    time.sleep(seconds)
    term.press(*keys)
    os.kill(term.pid, signal.SIGCONT)


def times_called(record: Path) -> int:
    """How often it was said that a step's time is over."""
    return sum(line.startswith("Time.") for line in lines(record))


def at_the_set(start: Start, folder: Path, *asked: str) -> Hands:
    """Where the mould sets, by its clock."""
    term = start(*asked, columns=110, rows=40, code=IMPATIENT)
    term.see("Space start")
    term.press("space")
    hands = Hands(term, folder)
    hands.until_step("cautions")
    hands.walk_to(SETTING)
    hands.term.rest(0.3)
    return hands


def test_a_stopped_process_shows_the_right_time_once_it_goes_on(start: Start, tmp_path: Path) -> None:
    hands = at_the_set(start, tmp_path / "home" / "sessions", "pour", *DEMO)
    stop_for(hands.term, 1.2, "space", "space", "s", "1")
    hands.term.see("stood still for 1 s", MEANWHILE)
    assert comes_to_show_what_is_left(hands.term, hands.session())
    assert hands.step() == SETTING


def test_a_step_that_ended_meanwhile_is_ended_once_and_called_once(start: Start, tmp_path: Path) -> None:
    record = tmp_path / "record"
    speak_with(recorder(record), tmp_path / "home")
    hands = at_the_set(start, tmp_path / "home" / "rehearsals", "rehearse", *DEMO, "--speed", f"{SPEED:.0f}")
    before = times_called(record)
    stop_for(hands.term, hands.session().step.length_s / SPEED + 0.3)
    hands.until_next(SETTING)
    hands.term.see("stood still for")
    hands.term.rest(0.3)
    stored = read(hands.file)
    ends = [event for event in stored.events if isinstance(event, StepDone) and event.step == SETTING]
    assert [event.by for event in ends] == [Ending.CLOCK]
    assert hands.session().visits[-2].left == ends[0].at
    # By words, as what rings may be a reminder of the same moment: how far the session has come by then differs.
    assert times_called(record) == before + 1


@contextmanager
def not_reading(term: Term) -> Iterator[None]:
    """The terminal takes nothing, as one does whose text is being selected (tcflow(3), TCOOFF)."""
    slave = os.open(f"/proc/{term.pid}/fd/0", os.O_RDWR | os.O_NOCTTY)
    try:
        termios.tcflow(slave, termios.TCOOFF)
        # Every frame is one more write that waits, until no more may wait. A figure is typed and taken back.
        for key in ("t", *("1", "backspace") * 5):
            term.press(key)
            time.sleep(1 / FRAMES_A_SECOND)
        yield
    finally:
        termios.tcflow(slave, termios.TCOON)
        os.close(slave)


def test_a_terminal_that_does_not_read_holds_up_no_call_and_no_clock(start: Start, tmp_path: Path) -> None:
    record = tmp_path / "record"
    speak_with(recorder(record), tmp_path / "home")
    hands = at_the_set(start, tmp_path / "home" / "rehearsals", "rehearse", *DEMO, "--speed", f"{SPEED:.0f}")
    before = times_called(record)
    with not_reading(hands.term):
        end = time.monotonic() + WITHIN_S
        while times_called(record) == before:
            assert time.monotonic() < end, lines(record)
            time.sleep(0.02)
        assert hands.step() == SETTING, "the screen is stuck"
    hands.until_next(SETTING)
    hands.term.rest(0.2)
    assert times_called(record) == before + 1


def test_a_terminal_that_does_not_read_holds_up_no_end(start: Start, tmp_path: Path) -> None:
    term = start("pour", *DEMO, code=IMPATIENT)
    term.see("Space start")
    term.press("space")
    hands = Hands(term, tmp_path / "home" / "sessions")
    hands.until_step("cautions")
    with not_reading(term):
        os.kill(term.pid, signal.SIGTERM)
        end = time.monotonic() + WITHIN_S
        while (ended := os.waitpid(term.pid, os.WNOHANG))[0] == 0:
            assert time.monotonic() < end, "it waits for the terminal"
            time.sleep(0.02)
    term.code = os.waitstatus_to_exitcode(ended[1])
    assert term.code == 143
    assert hands.step() == "cautions"
