"""Twelve hours at the bench in some seconds, against a clock that only the test moves."""

from __future__ import annotations

import functools
import gc
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from bench.clock import Clock
from bench.session import drive
from bench.session.beginning import begins
from bench.session.events import Event
from bench.session.session import Session
from bench.session.step import Ending
from bench.session.view import view
from bench.store.paths import Home
from bench.store.sessions import OpenSession, create, read
from tests.session.bench_sessions import FakeClock
from tests.tui.at_the_bench import at_step, session_of
from tests.tui.test_pour import at_work

HOUR_S = 3600
HOURS = 12
BAITS = 400
LOOK_S = 10
"""Between two looks of the long day: a machine that is slower than any."""

LOOKS_AN_HOUR = 20
"""At the bench that is left alone."""

EVENT_OBJECTS = 30
"""What one event may leave behind: itself, its stamp, a visit of the session."""


def objects_held() -> int:
    """How many objects the interpreter keeps, without those in caches that are bounded: how full these are depends
    on what ran before."""
    for each in gc.get_objects():
        if isinstance(each, functools._lru_cache_wrapper) and each.cache_parameters()["maxsize"] is not None:
            each.cache_clear()
    gc.collect()
    return len(gc.get_objects())


@dataclass
class Day:
    """A maker who works through rounds without a break, and saves as the program does."""

    session: Session
    file: OpenSession
    clock: FakeClock = field(default_factory=FakeClock)
    late_s: list[float] = field(default_factory=list)
    events: list[Event] = field(default_factory=list)

    def happen(self, event: Event) -> None:
        self.session = self.session.after(event)
        self.file.record(event)
        self.events.append(event)

    def look(self) -> None:
        """Time does what it does, hands do the rest in the time that the plan gives them."""
        self.clock.advance(LOOK_S)
        now = self.clock.now()
        left_s = drive.remaining_s(self.session, now)
        if (event := drive.due(self.session, now)) is not None:
            self.late_s.append(-left_s)
            self.happen(event)
            return
        read = drive.acknowledge(self.session, now)
        if read is not None:
            self.happen(read)
        elif self.session.step.ending is not Ending.CLOCK and left_s <= 0:
            self.finish(self.clock)
        elif begins(self.session, now):
            self.happen(drive.forward(self.session, now))

    def finish(self, clock: Clock) -> None:
        step = self.session.step
        if step.band_c is not None:
            self.happen(drive.reading(self.session, sum(step.band_c) / 2, clock.now()))
        if step is self.session.step:
            self.happen(drive.due(self.session, clock.now()) or drive.forward(self.session, clock.now()))


def test_a_long_day_drifts_nowhere_and_leaves_only_its_events(tmp_path: Path) -> None:
    idle = session_of(count=BAITS)
    began = FakeClock().now()
    day = Day(session=idle, file=create(Home(tmp_path), idle, created=began.wall))
    day.happen(drive.forward(idle, began))
    held, events = {}, {}
    for hour in range(1, HOURS + 1):
        for _ in range(HOUR_S // LOOK_S):
            day.look()
        assert day.session.next_step is not None, "the day was shorter than its work"
        held[hour], events[hour] = objects_held(), len(day.events)

    assert view(day.session, day.clock.now()).elapsed_s == HOURS * HOUR_S
    assert len(day.late_s) > 100
    assert max(day.late_s) < LOOK_S
    assert held[HOURS] - held[2] < EVENT_OBJECTS * (events[HOURS] - events[2])
    rounds = day.session.step.round
    assert rounds > HOURS
    assert len(day.events) < 40 * rounds + 40, (
        "a round has some twenty steps, each with an end and a reading or two"
    )

    assert day.file.close(day.session, 20)
    stored = read(day.file.path)
    assert stored.events == tuple(day.events)
    assert stored.session == day.session


async def test_a_bench_left_alone_for_a_day_calls_little_and_grows_not_at_all() -> None:
    session, now = at_step("r1.trim")
    async with at_work(session, now) as work:
        rung, held = 0, 0
        for look in range(HOURS * LOOKS_AN_HOUR):
            if look == HOURS * LOOKS_AN_HOUR // 2:
                # By now what the screen keeps of places and sizes is full.
                rung, held = len(work.rung), objects_held()
            work.tick(HOUR_S // LOOKS_AN_HOUR)
            await work.idle()
        assert objects_held() - held < 200
        assert work.kept == []
        assert work.session is session
        assert len(work.rung) == rung > 0, "what stands unread was called once"
        assert view(session, work.clock.now()).remaining_s == pytest.approx(session.step.length_s - HOURS * HOUR_S)
