"""A maker's hands: keys that walk a session, and the file that tells where it stands."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from bench.errors import BenchError
from bench.model.step_kind import StepKind
from bench.session.session import Session
from bench.session.step import Ending
from bench.store.sessions import read
from bench.tui.pour.moment import ASKED_S, JUST_ASKED, JUST_BEGUN, SETTLE_LEAST_S, SETTLE_S
from tests.terminal.term import WITHIN_S, Term

BETWEEN_S = 0.35
"""Between two presses of one key that are meant: more than a bounce."""

TAKEN_S = 3.0
"""A press that has done nothing for so long was lost."""

EAGER = """
import sys
from bench.__main__ import main
from bench.tui.pour import moment

moment.SETTLE_S = moment.SETTLE_HOT_S = moment.ASKED_S = moment.SETTLE_LEAST_S
sys.exit(main())
"""
"""The program, waiting as little for a step to be seen as the fastest rehearsal does: for long walks by hand."""

ASKS = "Space again goes on"
INSISTS = "I take it as it is"
EARLY = "has just ended by itself"
"""What the screen says to a press that it does not take at once."""
SOLID = "What is in the cup is not liquid"
"""What it says of a shot whose cup has stood too long: a slow machine is a slow maker."""


class Hands:
    """Walks the one session of a folder. Nothing is asked of the program but what a person could press and see."""

    def __init__(self, term: Term, folder: Path) -> None:
        self.term = term
        self.folder = folder
        self._read: tuple[tuple[int, int, int], Session] | None = None

    @property
    def file(self) -> Path:
        """The session's file."""
        (path,) = self.folder.glob("[!.]*.toml")
        return path

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

    def until_step(self, step: str, within_s: float = WITHIN_S) -> None:
        """Wait until the file says so."""
        end = time.monotonic() + within_s
        while self.step() != step:
            assert time.monotonic() < end, f"at {self.step()}, not {step}\n{self.term.text}"
            self.term.pump(0.005)

    def press(self, *keys: str) -> None:
        """Press keys as separate presses: an escape before each, so that none is taken for a held key."""
        for key in keys:
            self.term.press("escape as a code", key)
            self.term.pump()

    def forward(self) -> str:
        """Finish the present step by hand, however often the screen says to read it first; the step after it."""
        before = self.step()
        end = time.monotonic() + WITHIN_S
        while self.step() == before:
            assert time.monotonic() < end, f"still at {before}\n{self.term.text}"
            self.press("space")
            self._until(
                lambda: (
                    self.step() != before
                    or any(said in self.term.text for said in (ASKS, SOLID, INSISTS, EARLY, JUST_BEGUN))
                )
            )
            if self.step() == before and ASKS in self.term.text:
                self.term.rest(BETWEEN_S)
                self.term.press("space")
                self._until(lambda: self.step() != before or JUST_ASKED in self.term.text)
                if self.step() == before and JUST_ASKED in self.term.text:
                    self.term.rest(ASKED_S)
                    self.term.press("space")
                    self._until(lambda: self.step() != before)
            elif self.step() == before and SOLID in self.term.text:
                self.press("b")
                self._until(lambda: self.step() != before)
            elif self.step() == before and INSISTS in self.term.text:
                self._take_it_as_it_is(before)
            elif self.step() == before and EARLY in self.term.text:
                self._until(lambda: self.step() != before, SETTLE_S)
            elif self.step() == before and JUST_BEGUN in self.term.text:
                self._until(lambda: self.step() != before, SETTLE_LEAST_S)
        return self.step()

    def _take_it_as_it_is(self, step: str) -> None:
        """Say so to the question; the key reads a reminder first where one stands."""
        for _ in range(3):
            if self.step() == step and INSISTS in self.term.text:
                self.term.rest(BETWEEN_S)
                self.term.press("a")
                self._until(lambda: self.step() != step, BETWEEN_S)

    def _until(self, happened: Callable[[], bool], most_s: float = TAKEN_S) -> None:
        """Wait for what a press does, a moment at most."""
        end = time.monotonic() + most_s
        while not happened() and time.monotonic() < end:
            self.term.pump(0.005)

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
            before = len(self.session().unacknowledged)
            self.press("a")
            self._until(lambda before=before: len(self.session().unacknowledged) < before)  # type: ignore[misc]

    def act(self) -> None:
        """Do what the present step asks for, as a maker would."""
        session = self.session()
        step = session.step
        if step.kind is StepKind.CAUTIONS:
            self.read_cards()
        elif step.kind is StepKind.HEAT:
            self.take_reading("170")
        elif step.kind in (StepKind.LOOK_AT_SHELLS, StepKind.LOOK_AT_BAITS):
            self.press("1")
        elif step.kind is StepKind.TRIM:
            self.press(str(session.job.plan.cavities))
        if step.ending is Ending.CLOCK:
            self.until_next(step.id)
        elif self.step() == step.id:
            self.forward()

    def take_reading(self, figure: str) -> None:
        """Type a figure, and once more where the screen doubts it."""
        before = self.step()
        for _ in range(2):
            if self.step() != before:
                return
            self.press("t")
            self.term.press(*figure, "enter")
            self._until(lambda: self.step() != before)

    def until_next(self, step: str, within_s: float = WITHIN_S) -> None:
        """Wait for a step to end by itself."""
        end = time.monotonic() + within_s
        while self.step() == step:
            assert time.monotonic() < end, f"{step} does not end\n{self.term.text}"
            self.term.pump(0.005)
