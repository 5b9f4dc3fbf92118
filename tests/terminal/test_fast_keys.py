"""The real program under a burst of keys at the end of a session: one read of the terminal holds them all."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.terminal.conftest import Start, quieten
from tests.terminal.hands import ANSWERS, Hands
from tests.tui.test_app import left_at

BURSTS = (b"  ", b" 6", b" \r\r", b" \r6\r6", b" qq\r", b" \r\r\r\r ")
"""The key that completes it, then others: digits that judge, keys that leave the summary, more of the same."""

OFTEN = (b" 6", b" \r6\r6", b" qq\r")
"""One of each sort, in every run."""

EACH = [
    pytest.param(burst, id=repr(burst), marks=[pytest.mark.nightly] * (burst not in OFTEN)) for burst in BURSTS
]


@pytest.mark.parametrize("burst", EACH)
def test_a_burst_of_keys_at_the_end_of_a_session_does_no_harm(burst: bytes, start: Start, tmp_path: Path) -> None:
    home = tmp_path / "home"
    quieten(home)
    left_at(home, "cure")
    term = start()
    term.see("Enter resume")
    term.press("enter")
    term.see("Space finish")
    hands = Hands(term, home / "sessions")
    while hands.step() != "over":
        # Only a burst that the screen refuses is made again: one that it has yet to take would be made twice.
        hands.put_away_answers()
        term.press(burst.decode())
        hands.until(lambda: hands.step() == "over" or any(said in term.text for said in ANSWERS))
    term.rest(0.3)
    term.press("ctrl+q")
    assert term.wait() == 0
    assert not list(home.glob("pourbench-defect-*"))
    assert not list((home / "sessions").glob(".*.lock"))
