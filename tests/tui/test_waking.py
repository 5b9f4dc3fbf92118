"""A screen that could not look for a while: what ended meanwhile is ended once, called once and told as late."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import pytest

from bench.model.settings import Settings
from bench.model.step_kind import StepKind
from bench.session.events import StepDone
from bench.session.session import Session, State
from bench.session.step import Ending
from bench.signals.alarms import Alarms
from bench.signals.bell import Bell
from bench.tui.pour import beat
from bench.tui.pour.beat import MEANWHILE, Beats
from bench.tui.saved import SavedState
from bench.tui.screens.pour import PourScreen
from bench.tui.widgets.board import Board
from tests.tui.at_the_bench import HandClock, at_kind, at_step
from tests.tui.running import press, running, until
from tests.tui.test_pour import Bench, Harness


@asynccontextmanager
async def ticking(session: Session, now: float) -> AsyncIterator[Bench]:
    """A screen that ticks by itself, against a clock that only the test moves."""
    clock = HandClock(seconds=now)
    work: Bench
    screen = PourScreen(
        session=session,
        clock=clock,
        keep=lambda event: work.kept.append(event),
        saved=SavedState,
        settings=Settings(),
        alarms=Alarms(
            clock=clock,
            bell=Bell(ring=lambda: work.rung.append(0.0), later=lambda wait, _ring: work.rung.append(wait)),
        ),
    )
    work = Bench(app=Harness(screen), clock=clock, kept=[], rung=[])
    async with running(work.app, size=(100, 30)):
        await until(lambda: screen.is_mounted and screen.query_one(Board).size.width and work.text)
        yield work


async def looks(work: Bench, count: int = 3) -> None:
    """Let the screen look some more times."""
    seen = 0
    tick = work.screen.tick

    def counted() -> None:
        nonlocal seen
        seen += 1
        tick()

    work.screen.tick = counted  # type: ignore[method-assign]
    await until(lambda: seen >= count)


async def test_ten_minutes_of_standing_still_in_a_set_of_three() -> None:
    session, now = at_step("r1.shell.set")
    async with ticking(session, now) as work:
        assert "stood still" not in work.text
        work.clock.advance(600)
        await until(lambda: work.session.step.id != "r1.shell.set")
        await looks(work)
        (event,) = work.kept
        assert isinstance(event, StepDone)
        assert (event.step, event.by, event.at) == ("r1.shell.set", Ending.CLOCK, work.clock.now())
        assert work.session == session.after(event)
        assert "stood still for 10 min" in work.text
        assert "was over" in work.text
        assert work.rung == [0.0, 0.5], "one call: the fan is to be checked too, and the most urgent stands alone"


async def test_a_pause_within_a_step_ends_nothing() -> None:
    session, now = at_step("r1.shell.set")
    async with ticking(session, now) as work:
        work.clock.advance(60)
        await until(lambda: "stood still" in work.text)
        assert "was over" not in work.text
        assert (work.kept, work.rung) == ([], [])
        assert work.session == session


async def test_what_ended_while_it_was_closed_is_told_as_late() -> None:
    session, now = at_step("r1.shell.set")
    async with ticking(session, now + 600) as work:
        assert "was over" in work.text
        assert "stood still" not in work.text, "nobody knows how long nobody looked"
        assert len(work.kept) == 1


async def test_the_line_leaves_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(beat, "TICK_S", 0.02)
    session, now = at_step("r1.shell.set")
    async with ticking(session, now) as work:
        work.clock.advance(20)
        await until(lambda: "stood still" in work.text)
        for _ in range(13):
            work.clock.advance(4.9)
            await looks(work, 2)
        assert "stood still" not in work.text


def stand_still(work: Bench, seconds: float) -> None:
    """As if the program had been stopped so long: its clock went on, and it has not beaten."""
    work.clock.advance(seconds)
    latest_s = work.screen._beats.latest_s
    assert latest_s is not None
    work.screen._beats = Beats(latest_s=latest_s - seconds)


async def test_presses_made_while_it_stood_still_do_not_count() -> None:
    session, now = at_kind(StepKind.WARM_UP_SHOT)
    async with ticking(session, now + 5) as work:
        stand_still(work, 45)
        press(work.app, "space")
        press(work.app, "space")
        press(work.app, "s")
        await until(lambda: MEANWHILE in work.text and "stood still for 45 s" in work.text)
        assert work.session.step.id == session.step.id
        assert work.kept == []
        await looks(work, 4)
        assert MEANWHILE in work.text, "it stays for who looks up late"
        press(work.app, "p")
        await until(lambda: work.session.state is State.HELD)


async def test_leaving_counts_all_the_same() -> None:
    session, now = at_step("r1.shell.set")
    async with ticking(session, now) as work:
        stand_still(work, 45)
        press(work.app, "q")
        await until(lambda: "Q again leaves" in work.text)
