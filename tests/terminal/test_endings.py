"""How the program ends: by signals, with the terminal restored, and never by a byte that came in wrong."""

from __future__ import annotations

import fcntl
import os
import signal
import struct
import termios
from pathlib import Path

import pytest

from tests.terminal.conftest import Start
from tests.terminal.hands import Hands
from tests.terminal.term import RESTORED, Term

MODES = 3
"""Where ``termios.tcgetattr`` keeps the local modes."""


def is_restored(term: Term) -> bool:
    """Whether the terminal is back as a shell wants it."""
    local = termios.tcgetattr(term.fd)[MODES]
    return RESTORED in term.sent and bool(local & termios.ICANON) and bool(local & termios.ECHO)


@pytest.mark.parametrize(("number", "code"), [(signal.SIGTERM, 143), (signal.SIGHUP, 129), (signal.SIGINT, 130)])
def test_a_signal_ends_it_in_order(number: signal.Signals, code: int, start: Start, tmp_path: Path) -> None:
    term = start("pour", "peat-plain", "--mould", "long-reed-6", "--count", "6")
    term.see("Space start")
    term.press_for("space", "READ THIS CARD")
    hands = Hands(term, tmp_path / "home" / "sessions")
    hands.until_step("cautions")
    assert term.kill(number) == code
    assert is_restored(term)
    assert hands.step() == "cautions"
    assert not list(hands.folder.glob(".*.lock")), "the lock was given back"


def test_leaving_restores_the_terminal(start: Start) -> None:
    term = start()
    term.see("Enter pour", "baits in")
    term.press("ctrl+q")
    assert term.wait() == 0
    assert is_restored(term)


def test_bytes_that_are_no_key_do_no_harm(start: Start) -> None:
    term = start()
    term.see("8 baits in")
    for bytes_in, count in ((b"\xff\xfe", "9"), (b"\x1b[97;1:3u", "7"), (b"\x1b[99999999u", "6")):
        os.write(term.fd, bytes_in)
        term.rest(0.3)
        term.press("backspace", count)
        term.see(f"{count} baits in")


def test_a_small_terminal_is_enough(start: Start) -> None:
    term = start(columns=40, rows=12)
    term.see("Ember under Peat", "8 baits in", "Enter pour")
    term.press("enter")
    term.see("Space start")


def test_the_window_is_as_large_as_it_is_whatever_the_environment_says(
    start: Start, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("LINES", "24")
    term = start(columns=40, rows=12)
    term.see("The bench", "Ember under Peat", "8 baits in", "Enter pour")
    fcntl.ioctl(term.fd, termios.TIOCSWINSZ, struct.pack("HHHH", 30, 100, 0, 0))
    term.screen.resize(30, 100)
    term.see("The bench", "Ember under Peat", "8 baits in", "M moulds")


def test_what_another_program_wiped_off_the_window_comes_back(start: Start) -> None:
    term = start(
        code="import sys\n"
        "from bench.__main__ import main\n"
        "from bench.tui import guarded\n"
        "guarded.PAINT_ANEW_S = 0.5\n"
        "sys.exit(main())\n"
    )
    term.see("Enter pour", "8 baits in")
    term.screen.erase_in_display(2)
    term.take(b"")
    assert "Enter pour" not in term.text
    term.see("The bench", "Enter pour", "8 baits in")


def test_a_hung_up_terminal_ends_it(start: Start) -> None:
    term = start()
    term.see("Enter pour", "baits in")
    os.close(term.fd)
    term.fd = os.open(os.devnull, os.O_RDONLY)
    assert term.wait() == 129


DEFECTIVE = """
import sys
from bench.__main__ import main
from bench.session import prepare
from bench.tui.screens.bench import BenchScreen

def fail(*_given, **_named):
    secret = "a local variable that is nobody's business"
    raise ZeroDivisionError("of our own making")

{where} = fail
sys.exit(main())
"""


@pytest.mark.parametrize(
    "where",
    ["BenchScreen.action_rehearse", "BenchScreen.show_plan", "BenchScreen.on_screen_resume", "prepare.prepare"],
)
def test_a_defect_is_one_calm_sentence_on_a_restored_terminal(where: str, start: Start, tmp_path: Path) -> None:
    term = start("--home", str(tmp_path), code=DEFECTIVE.format(where=where))
    if where.endswith("rehearse"):
        term.see("Enter pour", "baits in")
        term.press("r")
    assert term.wait() == 3
    assert is_restored(term)
    (written,) = tmp_path.glob("pourbench-defect-*.txt")
    after = term.sent.partition(RESTORED)[2].decode()
    assert written.name in after.replace("\r\n", "")
    assert "Traceback" not in after
    assert "nobody's business" not in after
    assert len(after) < 600
    assert "ZeroDivisionError: of our own making" in written.read_text(encoding="utf-8")


END_OF_INPUT = """
import os, sys
from bench.__main__ import main
from bench.tui.screens.pour import PourScreen

def end_of_input(self, event):
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)

PourScreen.on_key = end_of_input
sys.exit(main())
"""


def test_the_end_of_all_input_ends_it(start: Start, tmp_path: Path) -> None:
    term = start("pour", "peat-plain", "--mould", "long-reed-6", "--count", "6", code=END_OF_INPUT)
    term.see("Space start")
    term.press("space")
    assert term.wait() == 129
    assert RESTORED in term.sent
    assert not list((tmp_path / "home").glob("pourbench-defect-*"))


def test_bytes_that_are_no_key_leave_a_session_alone(start: Start, tmp_path: Path) -> None:
    term = start("pour", "peat-plain", "--mould", "long-reed-6", "--count", "6")
    term.see("Space start")
    term.press_for("space", "READ THIS CARD")
    hands = Hands(term, tmp_path / "home" / "sessions")
    hands.until_step("cautions")
    for bytes_in in (b"\xff\xfe", b"\xc3\x28", b"\x1b[97:65;2u", b"\x1b]0;title\x07\x9b2J"):
        before = len(hands.session().unacknowledged)
        os.write(term.fd, bytes_in)
        term.rest(0.3)
        assert len(hands.session().unacknowledged) == before, bytes_in
        hands.read_cards(1)
        assert len(hands.session().unacknowledged) < before, bytes_in
    term.see("READ THIS CARD")
