"""The real program through a real session for some minutes: python -m tests.speed.soak [--minutes 10].

A pair of hands walks a session on a pseudo-terminal at true speed. While a clock counts down nobody presses a key,
and it is measured what the program costs then. Goals: memory grows by less than 5 % after the first minute, a
countdown takes at most 3 % of one core, no clock is more than 100 ms late. Needs Linux for its figures.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from bench.clock import SystemClock
from bench.session import drive
from bench.session.events import StepDone
from bench.session.session import Session
from bench.session.step import Ending
from bench.store.sessions import read
from bench.tui import present
from tests.terminal.conftest import QUIET
from tests.terminal.hands import Hands
from tests.terminal.term import Term

ASKED = ("pour", "ember-under-peat", "--mould", "ribbon-leech-4", "--count", "60")
FIRST_MINUTE_S = 60.0
SETTLE_S = 1.0
"""After the last key, before a countdown is measured."""

MOST_GROWTH, MOST_CPU, MOST_LATE_S = 0.05, 0.03, 0.1
_CLOCK = SystemClock()


@dataclass
class Measured:
    """What was seen. ``flips_s`` is how late each second of the countdown came on the screen."""

    rss_kib: list[tuple[float, int]] = field(default_factory=list)
    counting_s: float = 0.0
    cpu_s: float = 0.0
    sent_bytes: int = 0
    flips_s: list[float] = field(default_factory=list)

    @property
    def growth(self) -> float:
        """How much the memory grew after the first minute, as a share."""
        settled = [rss for at, rss in self.rss_kib if at >= FIRST_MINUTE_S]
        return settled[-1] / settled[0] - 1 if settled else 0.0


def now_s() -> float:
    """The steady clock."""
    return _CLOCK.now().elapsed_s


def rss_kib(pid: int) -> int:
    """Resident memory of a process, from proc(5)."""
    pages = int(Path(f"/proc/{pid}/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") // 1024


def cpu_s(pid: int) -> float:
    """Processor time of a process so far, all its threads, from proc(5)."""
    after_name = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(after_name[11]) + int(after_name[12])) / os.sysconf("SC_CLK_TCK")


def count_down(hands: Hands, measured: Measured, began_s: float, end_s: float) -> None:
    """Watch until the present step ends by its clock, or time is up."""
    hands.term.rest(SETTLE_S)
    session = hands.session()
    if session.step.ending is not Ending.CLOCK:
        return
    term = hands.term
    since_s, cpu_before_s, sent_before = now_s(), cpu_s(term.pid), len(term.sent)
    shown = -1
    while now_s() < end_s and (left_s := drive.remaining_s(session, _CLOCK.now())) > 0:
        size = len(term.sent)
        term.pump(min(0.05, left_s))
        if len(term.sent) > size:
            shown = note_flip(term, session, shown, measured.flips_s)
        measured.rss_kib.append((now_s() - began_s, rss_kib(term.pid)))
    measured.counting_s += now_s() - since_s
    measured.cpu_s += cpu_s(term.pid) - cpu_before_s
    measured.sent_bytes += len(term.sent) - sent_before
    if now_s() < end_s:
        hands.until_next(session.step.id)


def note_flip(term: Term, session: Session, shown: int, flips_s: list[float]) -> int:
    """Which second stands on the screen; if it has just come, how late it did."""
    left_s = drive.remaining_s(session, _CLOCK.now())
    near = round(left_s)
    for second in (near + 1, near, near - 1):
        if term.draws(present.countdown(second)):
            if shown == second + 1:
                flips_s.append(second - left_s)
            return second
    return -1


def endings_late_s(path: Path) -> list[float]:
    """How late each step was ended that its clock ended, by the stamps in the session's file."""
    stored = read(path)
    session, late_s = Session(job=stored.session.job), []
    for event in stored.events:
        if isinstance(event, StepDone) and event.by is Ending.CLOCK:
            late_s.append(-drive.remaining_s(session, event.at))
        session = session.after(event)
    return late_s


@contextmanager
def program(home: Path) -> Iterator[Hands]:
    """The program at the first card of a session, in a home of its own."""
    (home / "settings.toml").write_text(QUIET, encoding="utf-8")
    term = Term(home, ASKED)
    try:
        term.see("Space start")
        term.press("space")
        hands = Hands(term, home / "sessions")
        hands.until_step("cautions")
        yield hands
    finally:
        term.end()


def say(line: str) -> None:
    """One line of the report."""
    print(line, flush=True)  # noqa: T201


def report(measured: Measured, late_s: list[float]) -> bool:
    """Say what was measured; whether every goal was met."""
    cpu = measured.cpu_s / max(measured.counting_s, 1e-9)
    first, last = measured.rss_kib[0][1], measured.rss_kib[-1][1]
    say(f"memory {first / 1024:.1f} -> {last / 1024:.1f} MiB, {measured.growth:+.1%} after the first minute")
    say(
        f"counting down for {measured.counting_s:.0f} s: {cpu:.2%} of one core, "
        f"{measured.sent_bytes / max(measured.counting_s, 1e-9):.0f} bytes a second to the terminal"
    )
    flips = sorted(abs(flip) for flip in measured.flips_s) or [0.0]
    worst = max((abs(late) for late in late_s), default=0.0)
    say(
        f"{len(measured.flips_s)} seconds shown, late by {1000 * flips[len(flips) // 2]:.0f} ms (median), "
        f"{1000 * flips[int(0.95 * (len(flips) - 1))]:.0f} ms (95 %), {1000 * flips[-1]:.0f} ms (worst)"
    )
    say(f"{len(late_s)} steps ended by their clock, {1000 * worst:.0f} ms late at worst")
    met = measured.growth < MOST_GROWTH and cpu <= MOST_CPU and max(worst, flips[-1]) < MOST_LATE_S
    say("every goal met" if met else "NOT every goal met")
    return met


def main() -> int:
    """Runs for the minutes asked for; exit code 1 when a goal was missed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=10.0)
    minutes: float = parser.parse_args().minutes
    measured = Measured()
    with tempfile.TemporaryDirectory() as folder, program(Path(folder)) as hands:
        began_s = now_s()
        end_s = began_s + 60 * minutes
        while now_s() < end_s and hands.session().next_step is not None:
            measured.rss_kib.append((now_s() - began_s, rss_kib(hands.term.pid)))
            if hands.session().step.ending is Ending.CLOCK:
                count_down(hands, measured, began_s, end_s)
            else:
                hands.act()
        late_s = endings_late_s(hands.file)
    return 0 if report(measured, late_s) else 1


if __name__ == "__main__":
    sys.exit(main())
