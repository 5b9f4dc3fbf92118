"""A maker's hands: keys that walk a session, and the file that tells where it stands."""

from __future__ import annotations

import time
from pathlib import Path

from bench.errors import BenchError
from bench.model.step_kind import StepKind
from bench.session.session import Session
from bench.session.step import Ending
from bench.store.sessions import read
from tests.terminal.term import Term

ESCAPE_S = 0.13
"""Longer than the 0.1 s after which a lone escape is taken for a key of its own."""


BETWEEN_S = 0.3
"""Between two presses of one key that are meant: more than a bounce, and time for the second to count."""


class Hands:
    """Walks the one session of a folder. Nothing is asked of the program but what a person could press and see."""

    def __init__(self, term: Term, folder: Path) -> None:
        self.term = term
        self.folder = folder

    @property
    def file(self) -> Path:
        """The session's file."""
        (path,) = self.folder.glob("[!.]*.toml")
        return path

    def session(self) -> Session:
        """The session as it is on disk."""
        return read(self.file).session

    def step(self) -> str:
        """The id of its present step; empty before there is a file, "over" at its end."""
        try:
            session = self.session()
        except (ValueError, BenchError):
            return ""
        if session.state.over:
            return "over"
        return session.step.id if session.visits else ""

    def until_step(self, step: str, within_s: float = 20.0) -> None:
        """Wait until the file says so."""
        end = time.monotonic() + within_s
        while self.step() != step:
            assert time.monotonic() < end, f"at {self.step()}, not {step}\n{self.term.text}"
            self.term.pump(0.05)

    def press(self, *keys: str) -> None:
        """Press keys as separate presses: an escape before each, so that none is taken for a held key."""
        for key in keys:
            self.term.press("escape")
            self.term.rest(ESCAPE_S)
            self.term.press(key)
            self.term.rest(0.03)

    def forward(self) -> str:
        """Finish the present step by hand, however often the screen says to read it first; the step after it."""
        before = self.step()
        end = time.monotonic() + 10
        while (now := self.step()) == before:
            assert time.monotonic() < end, f"still at {before}\n{self.term.text}"
            self.press("space")
            self.term.rest(0.05)
            if "Space again goes on" in self.term.text:
                self.term.rest(BETWEEN_S)
                self.term.press("space")
                self.term.rest(BETWEEN_S)
        return now

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
            self.press("a")
            self.term.rest(0.05)

    def act(self) -> None:
        """Do what the present step asks for, as a maker would."""
        session = self.session()
        step = session.step
        if step.kind is StepKind.CAUTIONS:
            self.read_cards()
        elif step.kind is StepKind.HEAT and step.round == 1:
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
            self.term.rest(0.3)

    def until_next(self, step: str, within_s: float = 20.0) -> None:
        """Wait for a step to end by itself."""
        end = time.monotonic() + within_s
        while self.step() == step:
            assert time.monotonic() < end, f"{step} does not end\n{self.term.text}"
            self.term.pump(0.05)
