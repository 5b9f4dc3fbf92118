"""A session on the real program that is killed again and again, and what must hold each time."""

from __future__ import annotations

import random
import signal
import time
from pathlib import Path

from bench.errors import BenchError
from bench.session.events import Event, StepDone
from bench.session.step import Ending
from bench.store.sessions import Stored, read
from tests.faults.tally import DONE, worst
from tests.terminal.conftest import QUIET
from tests.terminal.hands import Hands
from tests.terminal.hop import HOPPING, Hops
from tests.terminal.term import WITHIN_S, Term

ARGV = ("pour", "ember-under-peat", "--mould", "ribbon-leech-4", "--count", "4", "--spares", "0", "--warm-up", "0")


class Victim:
    """One session, walked and killed by chance. ``resume`` and ``kill`` take turns."""

    def __init__(self, home: Path, chance: random.Random) -> None:
        """Start a pour and go to its first card."""
        home.mkdir(parents=True)
        (home / "settings.toml").write_text(QUIET, encoding="utf-8")
        self.home = home
        self.chance = chance
        self.term, self.hands = self._begin(*ARGV)
        self.term.see("Space start")
        self.term.press_for("space", "READ THIS CARD")
        self.hands.until_step("cautions")

    def _begin(self, *argv: str) -> tuple[Term, Hands]:
        term = Term(self.home, argv, columns=110, rows=40, code=HOPPING)
        return term, Hands(term, self.home / "sessions", Hops(self.home))

    @property
    def is_over(self) -> bool:
        """Whether nothing is left to be killed."""
        return self.hands.step() == "over"

    def stored(self) -> Stored:
        """What the file says."""
        return read(self.hands.file)

    def walk(self, most: int) -> None:
        """Go on by none to so many steps."""
        for _ in range(self.chance.randint(0, most)):
            if self.hands.step() == "cautions":
                self.hands.read_cards()
            if self.hands.step() in ("cure", "over"):
                return
            self.hands.forward()

    def kill(self) -> None:
        """Do one of the things that a maker does and pull the plug in the middle of it.

        What is on disk by then was acknowledged: it is there afterwards, and what else is there followed it.
        """
        acknowledged = self.stored().events
        act = self.chance.choice([self._step, self._step, self._step, self._note, self._leave, self._wait])
        act()
        self.term.pump(self.chance.choice((0.0, 0.001, 0.005, 0.02, 0.05, 0.2)))
        seen = self._events_now()
        self._pull_the_plug()
        try:
            stored = self.stored()
        except BenchError as error:
            raise AssertionError(f"a file that cannot be read: {error}") from error
        for events in (acknowledged, seen):
            assert stored.events[: len(events)] == events, "an acknowledged event was lost"
        DONE["kills of the real program"] += 1
        DONE["events acknowledged when it was killed"] += len(seen)
        DONE["torn ends it left"] += stored.torn is not None

    def _pull_the_plug(self) -> None:
        code = self.term.kill(signal.SIGKILL)
        assert code in (-signal.SIGKILL, 0), "killed, or it had left in order just before"
        self.term.end()

    def _events_now(self) -> tuple[Event, ...]:
        return self.stored().events

    def _step(self) -> None:
        self.hands.press("a" if self.hands.step() == "cautions" else "space")

    def _note(self) -> None:
        self.term.press("n")
        self.term.pump()
        self.term.press(*"so far so good", "enter")

    def _leave(self) -> None:
        self.term.press("ctrl+q")
        self.term.pump()
        self.term.press("y")

    def _wait(self) -> None:
        """Nothing is pressed: a clock may end a step meanwhile."""

    def resume(self) -> None:
        """Start the program anew; it stands where the file stood, gone on by clocks alone."""
        before = self.stored()
        began = time.monotonic()
        self.term, self.hands = self._begin()
        self.term.see("Enter resume")
        if self.chance.random() < 0.15:
            self.term.press("enter")
            self.term.pump(self.chance.random() / 5)
            self._pull_the_plug()
            DONE["kills while a session was being resumed"] += 1
            self._check_came_of(before)
            self.resume()
            return
        self.term.press("enter")
        if before.torn is not None:
            self.term.see("The end of this session was lost")
            self.term.press("enter")
        self._until_shown()
        worst("s from the start of the program to the step it resumes at", time.monotonic() - began)
        self._check_came_of(before)
        DONE["resumed at the step where it was"] += 1

    def _check_came_of(self, before: Stored) -> None:
        """Whether the file holds what it held, and nothing since but steps that clocks have ended."""
        events = self.stored().events
        assert events[: len(before.events)] == before.events, "an event was lost on the way"
        since = events[len(before.events) :]
        pressed = [event for event in since if not (isinstance(event, StepDone) and event.by is Ending.CLOCK)]
        assert not pressed, f"a step nobody took: {pressed}"

    def _until_shown(self) -> None:
        """Wait until the step of the file stands on the screen."""
        end = time.monotonic() + WITHIN_S
        while not self._shows_the_step():
            assert time.monotonic() < end, f"not at {self.hands.step()}\n{self.term.text}"
            self.term.pump()

    def _shows_the_step(self) -> bool:
        if self.is_over:
            return "Enter resume" not in self.term.text
        step = self.hands.session().step
        if step.id == "cautions":
            return "READ THIS CARD" in self.term.text or "GO AHEAD" in self.term.text
        words = " ".join(self.term.text.split())
        return self.term.draws(step.title.upper()) or " ".join(step.do.split())[:24] in words


def killed(home: Path, *, times: int, seed: int, steps: int) -> None:
    """Kill sessions so many times, at most so many steps apart; the next session when one is over."""
    chance = random.Random(seed)
    victim: Victim | None = None
    try:
        for number in range(times):
            victim = victim or Victim(home / f"{seed}-{number}", chance)
            victim.walk(steps)
            victim.kill()
            if victim.is_over:
                victim = None
            else:
                victim.resume()
    finally:
        if victim is not None and victim.term.code is None:
            victim.term.end()
