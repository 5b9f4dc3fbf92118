"""A bench for tests: the shipped demo, a clock that tests move, and ways to get to any step."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from functools import cache
from pathlib import Path

from bench.model.library import Library
from bench.model.step_kind import StepKind
from bench.plan.records import Ask
from bench.session import drive
from bench.session.beginning import begins
from bench.session.cautions import reminders_due
from bench.session.prepare import prepare
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.view import view
from bench.store.paths import Home
from bench.store.shelf import load_library

MOST_BURSTS = 60
"""And stirs, of one heating: more than any takes."""

ROUNDING_S = 1e-6
"""What adding up a session's seconds may leave a clock short of its end."""

BEGAN = datetime(2026, 3, 12, 18, 42, tzinfo=timezone(timedelta(hours=1)))


def at(seconds: float) -> Stamp:
    """That many seconds after the session's hour."""
    return Stamp(elapsed_s=1000.0 + seconds, wall=BEGAN + timedelta(seconds=seconds), boot="boot")


@dataclass
class HandClock:
    """A clock that moves when told to."""

    seconds: float = 0.0
    moves: list[float] = field(default_factory=list)

    def now(self) -> Stamp:
        return at(self.seconds)

    def advance(self, seconds: float) -> None:
        self.seconds += seconds
        self.moves.append(seconds)


@cache
def shelf() -> Library:
    """The shipped profiles."""
    library, faults = load_library(Home(Path("/nowhere-at-all")))
    assert not faults
    return library


@cache
def session_of(recipe: str = "ember-under-peat", mould: str = "ribbon-leech-4", count: int = 8) -> Session:
    """A session of the demo, idle."""
    return prepare(shelf(), recipe=recipe, mould=mould, ask=Ask(count=count, spares_pct=max(5.0, 100 / count)))


def walk(session: Session) -> Iterator[tuple[Session, float]]:
    """The session at the beginning of each of its steps, with the seconds gone; good readings throughout."""
    now = 0.0
    session = session.after(drive.forward(session, at(now)))
    while not session.state.over:
        while (read := drive.acknowledge(session, at(now))) is not None:
            yield session, now
            now += 2
            session = session.after(read)
        yield session, now
        if session.waits_to_begin and begins(session, at(now)):
            session = session.after(drive.forward(session, at(now)))
            yield session, now
        ends = now + session.step.length_s
        session, now = burst_through(session, now)
        now = max(now, ends)
        if session.step.ending is Ending.READING and session.step.band_c is not None:
            low_c, high_c = session.step.band_c
            session = session.after(drive.reading(session, (low_c + high_c) / 2, at(now)))
        elif session.step.ending is Ending.CLOCK:
            now += max(0.0, drive.remaining_s(session, at(now))) + ROUNDING_S
        session = session.after(drive.due(session, at(now)) or drive.forward(session, at(now)))
    yield session, now


def burst_through(session: Session, now: float) -> tuple[Session, float]:
    """The session, and the seconds gone, once the cup of a heating has had its bursts and stirs, each burst put on
    as soon as it waits for that."""
    for _ in range(MOST_BURSTS):
        burst = view(session, at(now)).burst
        if burst is None and begins(session, at(now)):
            session = session.after(drive.forward(session, at(now)))
            burst = view(session, at(now)).burst
        left_s = drive.remaining_s(session, at(now))
        if burst is None or burst.left_s <= 0 or left_s <= 0:
            break
        now += min(burst.left_s, left_s) + 1e-3
    return session, now


def reach(where: Callable[[Session], bool], session: Session | None = None) -> tuple[Session, float]:
    """The walked session at the first moment at which ``where`` holds."""
    return next((there, now) for there, now in walk(session or session_of()) if where(there))


def at_step(step_id: str, session: Session | None = None, *, waits: bool = False) -> tuple[Session, float]:
    """The session at the beginning of that step, with no reminder due; of a heating, once its cup is on the heat
    unless it is to wait for that."""
    steps = walk(session or session_of())
    return next(
        (there, now)
        for there, now in steps
        if there.step.id == step_id and _waits(there, now) is waits and not reminders_due(there, at(now))
    )


def at_kind(kind: StepKind, session: Session | None = None) -> tuple[Session, float]:
    """The session at the beginning of the first step of that kind."""
    steps = walk(session or session_of())
    return next((there, now) for there, now in steps if there.step.kind is kind and not _waits(there, now))


def _waits(session: Session, now: float) -> bool:
    """Whether a press would begin its heat."""
    return session.waits_to_begin and begins(session, at(now))
