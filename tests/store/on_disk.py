"""A session that was played, in a file."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from bench.session.session import Session
from bench.store.paths import Home
from bench.store.sessions import create
from tests.faults.played import PATIENCE_S
from tests.session.bench_sessions import Maker


def on_disk(home: Path, played: Maker, *, created: datetime | None = None, rehearsal: float | None = None) -> Path:
    """Its file in that home folder, closed as it was left; made at its first event unless another moment is
    given."""
    idle = Session(job=played.session.job)
    file = create(Home(home), idle, created=created or played.events[0].at.wall, rehearsal=rehearsal)
    for event in played.events:
        file.record(event)
    assert file.close(played.session, PATIENCE_S)
    return file.path
