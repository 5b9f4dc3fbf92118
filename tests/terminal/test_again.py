"""A defect while a session runs: the screen opens again where it stood, or gives up in good order."""

from __future__ import annotations

import signal
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.terminal.conftest import Start
from tests.terminal.hands import Hands
from tests.terminal.term import RESTORED, WITHIN_S, Term

CODE = """
import sys
from pathlib import Path
from bench.__main__ import main
from bench.signals.alarms import Alarms
from bench.store.recorder import Recorder
from bench.tui.screens.pour import PourScreen
from bench.tui.widgets.board import Board

armed = Path({armed!r})

def breaking(method):
    def broken(self, *given, **named):
        if armed.exists():
            if {once}:
                armed.unlink(missing_ok=True)
            secret = "a local variable that is nobody's business"
            raise ZeroDivisionError("of our own making")
        return method(self, *given, **named)
    return broken

{owner}.{name} = breaking({owner}.{name})
sys.exit(main())
"""
"""The program with a fault in one place, which breaks once the file is there."""

ASKED = ("pour", "peat-plain", "--mould", "long-reed-6", "--count", "6")
AGAIN = "opened its screen again"


@dataclass(frozen=True)
class Faulty:
    """The program at its first card, with a fault in it."""

    term: Term
    hands: Hands
    armed: Path

    def break_now(self, *keys: str) -> None:
        """Have it break, at these keys or by itself."""
        self.armed.touch()
        for key in keys:
            self.term.press_for(key, AGAIN)


def begin(start: Start, tmp_path: Path, place: str, *, once: bool = True, asked: Sequence[str] = ASKED) -> Faulty:
    """The program with that fault, a session begun."""
    owner, _, name = place.partition(".")
    armed = tmp_path / "armed"
    term = start(*asked, code=CODE.format(owner=owner, name=name, once=once, armed=str(armed)))
    term.see("Space start")
    term.press_for("space", "READ THIS CARD")
    folder = "rehearsals" if asked[0] == "rehearse" else "sessions"
    return Faulty(term=term, hands=Hands(term, tmp_path / "home" / folder), armed=armed)


def reports(home: Path) -> list[str]:
    """What was written down."""
    return [path.read_text(encoding="utf-8") for path in sorted(home.glob("pourbench-defect-*.txt"))]


def acknowledge(hands: Hands) -> None:
    """Read one card; it is on disk."""
    before = len(hands.session().unacknowledged)
    hands.press("a")
    end = time.monotonic() + WITHIN_S
    while len(hands.session().unacknowledged) == before:
        assert time.monotonic() < end, hands.term.text
        hands.term.pump()


@pytest.mark.parametrize(
    "place",
    ["PourScreen.tick", "PourScreen._take", "Board.render_lines", "Board.show", "Alarms.check", "Alarms.see"],
)
def test_a_session_goes_on_after_a_defect(place: str, start: Start, tmp_path: Path) -> None:
    faulty = begin(start, tmp_path, place)
    term, hands = faulty.term, faulty.hands
    hands.until_step("cautions")
    acknowledge(hands)
    faulty.break_now(*(["a"] if place.endswith("_take") else []))
    term.see(AGAIN, "READ THIS CARD: body")
    acknowledge(hands)
    assert term.kill(signal.SIGTERM) == 143
    (report,) = reports(tmp_path / "home")
    assert "ZeroDivisionError: of our own making" in report
    said = term.sent.rpartition(RESTORED)[2].decode()
    assert "pourbench-defect-" in said
    assert "Traceback" not in said
    assert "nobody's business" not in said
    assert not list(hands.folder.glob(".*.lock"))


def test_a_thread_that_dies_is_told_and_so_is_what_it_leaves_undone(start: Start, tmp_path: Path) -> None:
    faulty = begin(start, tmp_path, "Recorder._note_saved")
    faulty.hands.until_step("cautions")
    faulty.break_now("a")
    faulty.term.see(AGAIN, "a defect has ended the saving", "READ THIS CARD")
    assert faulty.term.kill(signal.SIGTERM) == 1
    assert "Not everything was saved" in faulty.term.sent.rpartition(RESTORED)[2].decode()
    assert len(reports(tmp_path / "home")) == 1


def test_a_screen_that_keeps_ending_stays_closed_and_the_session_can_be_resumed(
    start: Start, tmp_path: Path
) -> None:
    faulty = begin(start, tmp_path, "PourScreen.tick", once=False)
    faulty.hands.until_step("cautions")
    acknowledge(faulty.hands)
    faulty.armed.touch()
    assert faulty.term.wait() == 3
    assert len(reports(tmp_path / "home")) == 3, "the first, and two that were opened again"
    said = faulty.term.sent.rpartition(RESTORED)[2].decode().replace("\r\n", "")
    assert "start it again to go on" in said
    assert "Traceback" not in said
    assert not list(faulty.hands.folder.glob(".*.lock"))

    term = start()
    term.see("Enter resume")
    term.press("enter")
    term.see("READ THIS CARD: body")


def test_a_rehearsal_goes_on_with_its_clock(start: Start, tmp_path: Path) -> None:
    asked = ("rehearse", "peat-plain", "--mould", "long-reed-6", "--count", "6", "--speed", "60")
    faulty = begin(start, tmp_path, "PourScreen._take", asked=asked)
    faulty.hands.until_step("cautions")
    began = time.monotonic()
    faulty.break_now("a")
    faulty.term.see(AGAIN, "REHEARSAL")
    gone_s = time.monotonic() - began
    acknowledge(faulty.hands)
    session = faulty.hands.session()
    assert session.started is not None
    assert session.last is not None
    assert session.last.elapsed_s - session.started.elapsed_s > 60 * gone_s


def test_what_the_disk_refuses_is_kept_when_the_screen_opens_again(start: Start, tmp_path: Path) -> None:
    folder = tmp_path / "home" / "sessions"
    folder.parent.mkdir()
    folder.write_text("a file stands where the folder should be", encoding="utf-8")
    faulty = begin(start, tmp_path, "PourScreen._take")
    faulty.term.see("ot saved")
    faulty.break_now("a")
    faulty.term.see(AGAIN, "ot saved")
    folder.unlink()
    faulty.hands.until_step("cautions")
