"""A session that was played and can be kept, killed and compared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import cache

from bench.model.recipe import Build
from bench.session.events import Event, Noted
from bench.session.session import Session
from bench.store.paths import Home
from bench.store.sessions import OpenSession, create
from tests.session.bench_sessions import maker

CREATED = datetime(2026, 1, 31, 9, 0, tzinfo=UTC)
PATIENCE_S = 60.0
"""How long another thread is waited for before it is called stuck."""

NOTES = ('Gut so.\n[[event]]\ncrc = "00000000"', "1.2.3.4.5.6.7.8.9.10.11.12.13.14.15", "\x01é\u2028" * 400)
"""Words that a file could take for an event or for a key of too many parts, or that grow when escaped."""


@dataclass(frozen=True)
class Played:
    """A whole session: before its first event, its events, and what it had come to after each number of them."""

    idle: Session
    events: tuple[Event, ...]
    after: tuple[Session, ...] = field(repr=False)

    def come_to(self, session: Session) -> int:
        """How many events that session has behind it; -1 when it is none of this one's."""
        return self.after.index(session) if session in self.after else -1


def of(idle: Session, events: Sequence[Event]) -> Played:
    """The session that these events make of an idle one."""
    after = [idle]
    for event in events:
        after.append(after[-1].after(event))
    return Played(idle=idle, events=tuple(events), after=tuple(after))


@cache
def played(build: Build = Build.CORE, count: int = 4) -> Played:
    """A maker's whole session by the shortest way, with a few notes in it."""
    walked = maker(build, count=count, warm_up_shots=0)
    walked.press()
    while not walked.session.state.over:
        walked.finish_step()
        if len(walked.session.notes) < len(NOTES):
            walked.happen(Noted(at=walked.now(), text=NOTES[len(walked.session.notes)]))
    return of(Session(job=walked.session.job), walked.events)


def kept(home: Home, session: Played, *, most: int | None = None) -> OpenSession:
    """The session in a file of its own, its first events on disk, still open."""
    opened = create(home, session.idle, created=CREATED, retry_s=0.0)
    for event in session.events[:most]:
        opened.record(event)
    assert opened.recorder.flush(PATIENCE_S)
    return opened
