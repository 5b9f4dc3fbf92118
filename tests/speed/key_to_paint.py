"""How soon a key shows, against an empty Textual app in the same run: python -m tests.speed.key_to_paint.

Both programs run on pseudo-terminals of one size, and their keys take turns, so that a busy machine is busy for
both. The pour screen is at its busiest: a countdown runs, and the figure of a reading is typed and taken back.
Goal: the 95th percentile within 1.5 times that of the empty app. It is also told what a second of the countdown
sends to the terminal.
"""

from __future__ import annotations

import argparse
import os
import select
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from tests.speed.soak import say
from tests.terminal.conftest import QUIET
from tests.terminal.hands import Hands
from tests.terminal.term import Term

COLUMNS, ROWS = 110, 40
ASKED = (
    "pour",
    "ember-under-peat",
    "--mould",
    "ribbon-leech-4",
    "--count",
    "4",
    "--spares",
    "0",
    "--warm-up",
    "0",
)
AT = "r1.shell.set"
EMPTY = """
from textual.app import App
from textual.widgets import Static

class Empty(App):
    def compose(self):
        yield Static("ready", markup=False)

    def on_key(self, event):
        self.query_one(Static).update(f"got {event.key}")

Empty().run()
"""
MOST_TIMES = 1.5
APART_S = 0.12
QUIET_S = 0.01
"""No bytes for so long: the burst is over."""

WITHIN_S = 3.0
WATCHED_S = 10


def seen_after_s(term: Term, key: str, is_shown: Callable[[], bool]) -> float:
    """How long from the key to the last bytes of what shows it."""
    term.rest(APART_S)
    began = time.perf_counter()
    term.press(key)
    while time.perf_counter() < began + WITHIN_S:
        arrived, data = burst(term)
        term.take(data)
        if data and is_shown():
            return arrived - began
    raise AssertionError(f"{key} never showed\n{term.text}")


def shows_figure(term: Term, *, there: bool) -> bool:
    """Whether the typed figure stands there, or not, as it should."""
    return term.draws("1_") == there


def shows_word(term: Term, word: str) -> bool:
    """Whether the word does."""
    return word in term.text


def burst(term: Term) -> tuple[float, bytes]:
    """What comes until the terminal is quiet, and when the last of it came.

    A picture is made of it afterwards: that takes this terminal longer than the program takes to send it.
    """
    data, arrived, wait_s = b"", 0.0, WITHIN_S
    while select.select([term.fd], [], [], wait_s)[0]:
        data += os.read(term.fd, 65536)
        arrived, wait_s = time.perf_counter(), QUIET_S
    return arrived, data


def percentile(values: list[float], share: float) -> float:
    """The value that this share of all stays below."""
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def keys_in_turn(ours: Term, empty: Term, count: int) -> tuple[list[float], list[float]]:
    """How long each key took, of ours and of the empty app."""
    of_ours, of_empty = [], []
    ours.press("t")
    ours.rest(0.3)
    for number in range(count):
        key = "backspace" if number % 2 else "1"
        of_ours.append(seen_after_s(ours, key, partial(shows_figure, ours, there=key == "1")))
        of_empty.append(seen_after_s(empty, key, partial(shows_word, empty, f"got {key}")))
    ours.press("escape")
    return of_ours, of_empty


def painted_by_ticks(term: Term) -> tuple[int, int]:
    """What a second of the countdown sends, in the median: rows that it touches, and bytes."""
    term.rest(1.0)
    seconds = []
    for _ in range(WATCHED_S):
        term.screen.dirty.clear()
        before = len(term.sent)
        term.rest(1.0)
        seconds.append((len(term.sent) - before, len(term.screen.dirty)))
    sent, rows = sorted(seconds)[len(seconds) // 2]
    return rows, sent


def main() -> int:
    """Prints the times; exit code 1 when a goal was missed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--keys", type=int, default=120)
    count: int = parser.parse_args().keys
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        (home / "settings.toml").write_text(QUIET, encoding="utf-8")
        empty = Term(home, columns=COLUMNS, rows=ROWS, code=EMPTY)
        ours = Term(home, ASKED, columns=COLUMNS, rows=ROWS)
        try:
            ours.see("Space start")
            ours.press("space")
            hands = Hands(ours, home / "sessions")
            hands.until_step("cautions")
            hands.walk_to(AT)
            of_ours, of_empty = keys_in_turn(ours, empty, count)
            rows, sent = painted_by_ticks(ours)
            assert hands.step() == AT, "the countdown ended; ask for fewer keys"
        finally:
            ours.end()
            empty.end()
    times = percentile(of_ours, 0.95) / percentile(of_empty, 0.95)
    for name, values in (("pour screen", of_ours), ("empty app", of_empty)):
        figures = " / ".join(f"{1000 * percentile(values, share):.1f}" for share in (0.5, 0.95, 1.0))
        say(f"{name}: {figures} ms from key to paint (median / 95 % / worst of {count})")
    say(f"95 % is {times:.2f} times the empty app's")
    say(f"a second of the countdown sends {sent} bytes, into {rows} of {ROWS} rows")
    met = times <= MOST_TIMES
    say("every goal met" if met else "NOT every goal met")
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
