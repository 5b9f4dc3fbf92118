"""A maker's hands: keys that walk a session, and the file that tells where it stands."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from bench.clock import SystemClock
from bench.errors import BenchError
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.beginning import begins
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.view import view
from bench.store.sessions import read
from bench.tui.pour.beat import MEANWHILE
from bench.tui.pour.moment import ASKED_S, JUST_ASKED, JUST_BEGUN, SETTLE_HOT_S
from bench.tui.screens.pour import HELD_KEY, NEWS_S
from tests.terminal.hop import Hops
from tests.terminal.term import WITHIN_S, Term

MOST_BURSTS = 60
"""And stirs, of one heating: more than any takes."""

PAST_S = 0.1
"""Past the end of a burst, whatever the program's own clock has passed meanwhile."""

BETWEEN_S = 0.35
"""Between two presses of one key that are meant: more than a bounce."""

SEEN_S = SETTLE_HOT_S + 0.5
"""Any step may be ended once it has stood so long."""

SOON_S = 2 * SEEN_S
"""A step that a clock ends so soon is left to it: it would end while a hand is on its way to the key."""

ASKS = "Space again goes on"
INSISTS = "I take it as it is"
EARLY = "has just ended by itself"
SOLID = "What is in the cup is not liquid"
ANSWERS = (ASKS, SOLID, INSISTS, EARLY, JUST_BEGUN, JUST_ASKED, HELD_KEY, MEANWHILE)
"""What the screen says to a press that does not end the step at once."""


class Hands:
    """Walks the one session of a folder. Nothing is asked of the program but what a person could press and see.

    A press is made once and its answer waited for, however late that comes: made twice it would end two steps.
    ``hops`` are those of a program that goes by them.
    """

    def __init__(self, term: Term, folder: Path, hops: Hops | None = None) -> None:
        self.term = term
        self.folder = folder
        self.hops = hops
        self._read: tuple[tuple[int, int, int], Session] | None = None

    @property
    def file(self) -> Path:
        """The session's file."""
        (path,) = self.folder.glob("[!.]*.toml")
        return path

    def now(self) -> Stamp:
        """The moment that the program reads, unless it rehearses fast."""
        return self.hops.now() if self.hops else SystemClock().now()

    def let_pass(self, seconds: float) -> None:
        """Wait as a maker does."""
        if self.hops:
            self.hops.hop(seconds)
        else:
            self.term.rest(seconds)

    def session(self) -> Session:
        """The session as it is on disk."""
        status = self.file.stat()
        state = (status.st_ino, status.st_size, status.st_mtime_ns)
        if self._read is None or self._read[0] != state:
            self._read = state, read(self.file).session
        return self._read[1]

    def step(self) -> str:
        """The id of its present step; empty before there is a file, "over" at its end."""
        try:
            session = self.session()
        except (ValueError, BenchError):
            return ""
        if session.state.over:
            return "over"
        return session.step.id if session.visits else ""

    def until_step(self, step: str) -> None:
        """Wait until the file says so."""
        self.until(lambda: self.step() == step)

    def until(self, happened: Callable[[], bool]) -> None:
        """Wait for it."""
        end = time.monotonic() + WITHIN_S
        while not happened():
            assert time.monotonic() < end, f"waits in vain at {self.step()}\n{self.term.text}"
            self.term.pump(0.005)

    def press(self, *keys: str) -> None:
        """Press keys as separate presses: an escape before each, so that none is taken for a held key."""
        for key in keys:
            self.term.press("escape as a code", key)
            self.term.pump()

    def forward(self) -> str:
        """Finish the present step by hand, however often the screen says to read it first; the step after it."""
        before = self.step()
        session = self.session()
        if session.step.ending is Ending.CLOCK and drive.remaining_s(session, self.now()) < SOON_S:
            return self.until_next(before)
        self.put_on()
        if self.hops:
            self.hops.hop(SEEN_S)
        end = time.monotonic() + WITHIN_S
        while self.step() == before:
            assert time.monotonic() < end, f"still at {before}\n{self.term.text}"
            self._press_and_answer(before)
        return self.step()

    def put_on(self) -> None:
        """Say that the cup of a heating is on the heat, where it waits for that."""
        end = time.monotonic() + WITHIN_S
        while begins(self.session(), self.now()) and view(self.session(), self.now()).burst is None:
            assert time.monotonic() < end, f"its heat never began\n{self.term.text}"
            self.let_pass(SEEN_S)
            self.put_away_answers()
            begun = self._begun()
            self.term.press("space")
            self._until_begun_or_answered(begun)

    def _until_begun_or_answered(self, begun: Stamp | None) -> None:
        self.until(lambda: self._begun() != begun or any(said in self.term.text for said in ANSWERS))

    def burst_through(self) -> None:
        """Let the cup of a heating have its bursts and stirs, each put on when it waits for that, unless the time
        that passes is nobody's to hop over."""
        if not self.hops:
            self.put_on()
            return
        for _ in range(MOST_BURSTS):
            self.put_on()
            burst = view(self.session(), self.now()).burst
            if burst is None or burst.left_s <= 0:
                return
            self.hops.hop(burst.left_s + PAST_S)

    def _begun(self) -> Stamp | None:
        session = self.session()
        return session.visit.begun if session.visits else None

    def _press_and_answer(self, before: str) -> None:
        self.put_away_answers()
        said = self._said_to("space", before)
        if said == ASKS:
            self.let_pass(ASKED_S)
            said = self._said_to("space", before, but=ASKS)
        if said == SOLID:
            self._said_to("b", before, but=SOLID)
        elif said == INSISTS:
            self._take_it_as_it_is(before)
        elif said in (EARLY, JUST_BEGUN, JUST_ASKED, HELD_KEY):
            self.let_pass(SEEN_S)

    def put_away_answers(self) -> None:
        """Have none on the screen, so that one which stands there afterwards is to the next press."""
        self.term.press("escape as a code")
        end = time.monotonic() + WITHIN_S
        while any(said in self.term.text for said in ANSWERS):
            assert time.monotonic() < end, f"it stays:\n{self.term.text}"
            if MEANWHILE in self.term.text and self.hops:
                self.hops.hop(NEWS_S)
            self.term.rest(BETWEEN_S)
            self.term.press("escape as a code")

    def _said_to(self, key: str, before: str, but: str = "") -> str:
        """Press the key; what the screen says to it, or empty once the step is another."""
        answers = [said for said in ANSWERS if said != but]
        if but:
            self.term.rest(BETWEEN_S)
        self.term.press(key)
        begun = self._begun()
        self.until(
            lambda: (
                self.step() != before or self._begun() != begun or any(said in self.term.text for said in answers)
            )
        )
        return next((said for said in answers if said in self.term.text and self.step() == before), "")

    def _take_it_as_it_is(self, step: str) -> None:
        """Say so to the question; the key reads a reminder first where one stands."""
        while self.step() == step and INSISTS in self.term.text and MEANWHILE not in self.term.text:
            self.term.rest(BETWEEN_S)
            self._press_once("a")

    def _press_once(self, *keys: str) -> None:
        before = self.session()
        self.term.press(*keys)
        self.until(lambda: self.session() is not before or MEANWHILE in self.term.text)

    def _happens(self, *keys: str) -> None:
        """Press the keys, which make the session another one."""
        before = self.session()
        while self.session() is before:
            self.put_away_answers()
            self._press_once(*keys)

    def walk_to(self, step: str) -> None:
        """Read the cards and finish every step by hand until that one."""
        while (now := self.step()) != step:
            assert now != "over", f"{step} never came"
            if now == "cautions":
                self.read_cards()
            self.forward()

    def read_cards(self, most: int = 12) -> None:
        """Acknowledge the opening cards."""
        for _ in range(most):
            if not self.session().unacknowledged:
                return
            self._happens("a")

    def act(self) -> None:
        """Do what the present step asks for, as a maker would, in the time that it takes one."""
        session = self.session()
        step = session.step
        if step.ending is Ending.CLOCK:
            self.until_next(step.id)
            return
        self.burst_through()
        if self.hops:
            self.hops.hop(SEEN_S if step.kind is StepKind.HEAT else max(SEEN_S, step.length_s))
        if step.kind is StepKind.CAUTIONS:
            self.read_cards()
        elif step.kind is StepKind.HEAT:
            self.take_reading("170")
        elif step.kind in (StepKind.LOOK_AT_SHELLS, StepKind.LOOK_AT_BAITS):
            self._happens("1")
        elif step.kind is StepKind.TRIM:
            self._happens(str(session.job.plan.cavities))
        if self.step() == step.id:
            self.forward()

    def take_reading(self, figure: str) -> None:
        """Type a figure, and once more where the screen doubts it."""
        before = self.step()
        for _ in range(2):
            if self.step() == before:
                self._happens("t", *figure, "enter")

    def until_next(self, step: str) -> str:
        """Let a step end by itself; the one after it."""
        if self.hops:
            self.hops.hop(max(0.0, drive.remaining_s(self.session(), self.now())))
        self.until(lambda: self.step() != step)
        return self.step()
