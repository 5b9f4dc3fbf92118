"""Sessions on a real terminal: two presses to the first step, kill and resume at any point, a whole rehearsal."""

from __future__ import annotations

import json
import math
import re
import signal
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.session import drive
from bench.session.step import Ending
from bench.tui import present
from tests.terminal.conftest import Start
from tests.terminal.hands import Hands
from tests.terminal.hop import HOPPING, Hops

FAN = re.compile(r"fan check\s+in (\d+):(\d\d)")
DEMO = ("ember-under-peat", "--mould", "ribbon-leech-4")


@pytest.fixture
def sessions(tmp_path: Path) -> Path:
    """Where the program keeps real sessions."""
    return tmp_path / "home" / "sessions"


def test_two_presses_from_start_to_the_first_step_of_the_demo(start: Start, sessions: Path) -> None:
    term = start()
    term.see("Ember under Peat", "Enter pour", "baits in")
    term.press("enter")
    term.see("Space start")
    assert not sessions.exists(), "looking at a session leaves nothing behind"
    term.press_for("space", "READ THIS CARD")
    Hands(term, sessions).until_step("cautions")
    term.press("ctrl+q")
    term.see("Leave the bench?")
    term.press("y")
    assert term.wait() == 0


POINTS = {
    "cautions": "cards to read before any heat",
    "r1.shell.set": "Leave the mould closed and upright",
    "r1.trim": "Snip where the tail begins",
    "r1.core.set": "Leave the mould closed and upright",
}
"""Steps to be killed at, and words that stand on the screen there."""

MEANWHILE_S = 4.0
"""How long it has stood there when it is killed."""


def test_killed_at_any_point_it_resumes_at_the_same_step_with_its_clocks_gone_on(
    start: Start, sessions: Path, hops: Hops
) -> None:
    asked = ("pour", *DEMO, "--count", "4", "--spares", "0", "--warm-up", "0")
    term = start(*asked, columns=110, rows=40, code=HOPPING)
    term.see("Space start")
    hands = Hands(term, sessions, hops)
    term.press_for("space", "READ THIS CARD")
    hands.until_step("cautions")
    for step, words in POINTS.items():
        if step == "cautions":
            hands.read_cards(2)
            cards_left = len(hands.session().unacknowledged)
        else:
            hands.walk_to(step)
        term.see(words)
        hops.hop(MEANWHILE_S)
        before = hands.session()
        assert term.kill(signal.SIGKILL) == -signal.SIGKILL

        term = start(columns=110, rows=40, code=HOPPING)
        hands = Hands(term, sessions, hops)
        term.see("Resume", "Ember under Peat", "Enter resume")
        term.press("enter")
        term.see(words)
        after = hands.session()
        assert (after.step.id, after.visits) == (before.step.id, before.visits)
        if step == "cautions":
            assert len(after.unacknowledged) == cards_left
        else:
            hands.until(lambda: fan_check_s(term.text) < 600 - elapsed_since_heat_s(hands) + 2)  # noqa: B023
        if after.step.ending is Ending.CLOCK:
            hands.until(lambda: shows_what_is_left(hands))  # noqa: B023


def shows_what_is_left(hands: Hands) -> bool:
    """Whether the large countdown is what the clock leaves of the step, give or take two seconds: a busy machine
    draws late, but what it draws is true of that moment."""
    session = hands.session()
    remaining = drive.remaining_s(session, hands.now())
    assert remaining < session.step.length_s - MEANWHILE_S, "the clock of the step went on"
    return any(hands.term.draws(present.countdown(remaining + off)) for off in range(-2, 3))


def fan_check_s(text: str) -> float:
    """When the fan is to be checked again, as the screen says; endless while it does not."""
    found = FAN.search(text)
    return int(found[1]) * 60 + int(found[2]) if found else math.inf


def elapsed_since_heat_s(hands: Hands) -> float:
    """How long it is since the first heat, by the program's clock."""
    session = hands.session()
    first = next(visit for visit in session.visits if session.job.script[visit.index].heats)
    return hands.now().elapsed_s - first.entered.elapsed_s


def test_a_torn_end_is_set_aside_and_said(start: Start, sessions: Path) -> None:
    term = start("pour", *DEMO, "--count", "4")
    term.see("Space start")
    hands = Hands(term, sessions)
    term.press_for("space", "READ THIS CARD")
    hands.until_step("cautions")
    term.kill(signal.SIGKILL)
    torn = b'[[event]]\nkind = "step do'
    with hands.file.open("ab") as file:
        file.write(torn)
    term = start()
    term.see("Enter resume")
    term.press("enter")
    term.see("The end of this session was lost", "Enter go on")
    assert f"torn end of {len(torn)} bytes" in " ".join(term.text.split())
    assert hands.file.with_name(hands.file.name + ".torn").read_bytes() == torn
    term.press("enter")
    term.see("READ THIS CARD")
    hands = Hands(term, sessions)
    hands.read_cards(1)
    hands.until_step("cautions")


def test_a_session_in_use_elsewhere_is_looked_on_at_here_and_resumed_once_nobody_writes_it(
    start: Start, sessions: Path, hops: Hops
) -> None:
    first = start("pour", *DEMO, "--count", "4", columns=100, rows=30, code=HOPPING)
    first.see("Space start")
    hands = Hands(first, sessions, hops)
    first.press_for("space", "READ THIS CARD")
    hands.until_step("cautions")

    second = start(columns=100, rows=30, code=HOPPING)
    second.see("Enter look on")
    second.press("enter")
    second.see("LOOKING ON", "Another window has this session open", "READ THIS CARD", "Q leave")
    written = hands.file.read_bytes()
    second.press("a", "space")
    second.see("Work in the other window")
    assert hands.file.read_bytes() == written
    assert list(sessions.glob("*.torn")) == []

    hands.read_cards()
    hands.forward()
    second.see(hands.session().step.do[:30])
    assert "READ THIS CARD" not in second.text

    assert first.kill(signal.SIGKILL) == -signal.SIGKILL
    second.see("No window has this session open any more", "Enter resume here")
    assert "the other window" not in second.text
    before = hands.session()
    second.press("enter")
    second.see("Space done")
    assert "LOOKING ON" not in second.text
    assert (hands.session().step.id, hands.session().visits) == (before.step.id, before.visits)
    here = Hands(second, sessions, hops)
    assert here.forward() != before.step.id

    third = start(columns=100, rows=30)
    third.see("Enter look on")
    third.press("enter")
    third.see("LOOKING ON", "Another window has this session open")
    third.press("q")
    third.see("Enter look on")
    third.press("ctrl+q")
    assert third.wait() == 0


def test_a_disk_that_refuses_is_said_and_tried_again(start: Start, sessions: Path) -> None:
    sessions.parent.mkdir()
    sessions.write_text("a file stands where the folder should be", encoding="utf-8")
    term = start("pour", *DEMO, "--count", "4")
    term.see("Space start")
    term.press_for("space", "READ THIS CARD", "ot saved")
    sessions.unlink()
    hands = Hands(term, sessions)
    hands.until_step("cautions")
    hands.until(lambda: "ot saved" not in term.text)


def test_a_whole_rehearsal_by_keys_alone_reads_back_as_complete(
    start: Start, tmp_path: Path, hops: Hops, capsys: pytest.CaptureFixture[str]
) -> None:
    """At the pace of a pour, which leaves a slow machine time enough; the waits are hopped over."""
    term = start("rehearse", *DEMO, "--count", "4", "--spares", "0", "--speed", "1", code=HOPPING)
    term.see("Space start")
    hands = Hands(term, tmp_path / "home" / "rehearsals", hops)
    term.press_for("space", "READ THIS CARD")
    hands.until_step("cautions")
    while hands.step() != "cure":
        hands.act()
    hands.forward()
    hands.until_step("over")
    term.see("Complete.")
    term.press("escape")
    term.see("Enter pour")
    term.press("ctrl+q")
    assert term.wait() == 0

    assert main(["--home", str(tmp_path / "home"), "log", "show", hands.file.stem[:10], "--json"]) == 0
    log = json.loads(capsys.readouterr().out)
    assert (log["state"], log["rehearsal"]) == ("complete", 1)
    assert (log["made"], log["rounds_done"]) == (4, 1)
    assert log["tails_cut"] == {"1": 4}
    assert {verdict["verdict"] for verdict in log["verdicts"]} == {"right"}
    assert list(dict.fromkeys(step["id"] for step in log["steps"])) == [
        step.id for step in hands.session().job.script
    ]
    assert any(reading["temp_c"] == 170 for reading in log["cup_readings"])
    assert not list((tmp_path / "home").glob("sessions/*.toml")), "rehearsals are kept apart"
    assert not list((tmp_path / "home").glob("pourbench-defect*"))
