from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from textual import events
from textual.app import App
from textual.containers import VerticalScroll
from textual.widgets import Static

import bench.tui
from bench.model.recipe import Build
from bench.model.settings import Settings, UnitSystem
from bench.model.step_kind import StepKind
from bench.session.drive import late_verdict
from bench.session.events import Aborted, Event, Noted, StepDone, StopReason, StopRequested, VerdictGiven
from bench.session.session import Session
from bench.session.step import Ending
from bench.session.verdicts import Subject, Verdict
from bench.tui import present
from bench.tui.pour.closing import closing
from bench.tui.screens.finish import FinishScreen
from bench.tui.theme import BENCH_THEME
from tests.session.bench_sessions import maker
from tests.tui.at_the_bench import HandClock, at, at_kind, reach
from tests.tui.running import press, running, screen_text, until


def finished() -> tuple[Session, float]:
    return reach(lambda there: there.state.over)


def test_the_summary_says_what_was_made_and_how_it_went() -> None:
    session, now = finished()
    noted = session.after(Noted(at=at(now), text="the second round was best"))
    said = closing(noted, UnitSystem.METRIC)
    assert said.large == "12 BAITS"
    lines = "\n".join(said.lines)
    assert said.lines[0] == "Complete."
    assert "made 12 of 8 wanted, in 3 of 3 rounds" in lines
    assert "hottest cup reading 170 °C" in lines
    assert "out of the sun" in lines
    assert "do not pack before Sat " in lines
    assert "note: the second round was best" in lines


def test_taken_time_stands_against_planned_time() -> None:
    session, _ = finished()
    line = next(line for line in closing(session, UnitSystem.METRIC).lines if line.startswith("took"))
    planned = present.long_time(session.job.plan.total_s)
    assert line.endswith(f", planned {planned}")
    assert line.startswith("took 1 h ")


def test_who_left_at_once_is_told_about_the_heat() -> None:
    session, now = at_kind(StepKind.HEAT)
    said = closing(session.after(Aborted(at=at(now), reason=StopReason.DANGER)), UnitSystem.METRIC)
    assert said.large == "STOPPED"
    assert "switch it off as soon as that is safe" in said.lines[0]
    assert said.choices == ()


def test_the_last_round_can_still_be_judged() -> None:
    session, now = finished()
    verdict = late_verdict(session, 6, at(now))
    assert verdict == VerdictGiven(at=at(now), round=3, subject=Subject.BAITS, verdict=Verdict.DENTS)
    said = closing(session.after(verdict), UnitSystem.METRIC)
    assert "round 3, baits: dents" in said.lines
    assert "6 • dents" in said.choices
    assert late_verdict(session, 0, at(now)) is None


def test_a_round_that_a_stop_left_to_be_opened_is_counted_and_can_be_judged() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("r2.shot.set")
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.ENOUGH_MADE))
    while not hands.session.state.over:
        hands.finish_step()
    said = closing(hands.session, UnitSystem.METRIC)
    assert "made 8 of 8 wanted, in 2 of 3 rounds" in said.lines
    assert said.asks == "Round 2 now: a digit for all 4, the look of most or the worst fault."
    verdict = late_verdict(hands.session, 6, hands.now())
    assert verdict is not None
    assert verdict.round == 2
    assert "6 • dents" in closing(hands.session.after(verdict), UnitSystem.METRIC).choices


def test_what_to_change_another_time_is_told_with_a_load_to_try() -> None:
    session, now = finished()
    verdict = late_verdict(session, 2, at(now))
    assert verdict is not None
    assert verdict.verdict is Verdict.CORE_HIDDEN
    said = "\n".join(closing(session.after(verdict), UnitSystem.METRIC).lines)
    assert "baits core hidden, round 3: less colour in the next melt of the shell" in said
    assert "try about" in said
    assert "try about" not in "\n".join(closing(session, UnitSystem.METRIC).lines)


def test_air_that_was_cleared_shorter_is_said() -> None:
    session, now = at_kind(StepKind.PURGE_AIR)
    early = session.after(StepDone(at=at(now + 38), step=session.step.id, by=Ending.HAND))
    (line,) = (line for line in closing(early, UnitSystem.METRIC).lines if line.startswith("air cleared"))
    assert "leave the fan on" in line


def test_nothing_made_is_not_judged() -> None:
    session, now = at_kind(StepKind.HEAT)
    assert late_verdict(session, 1, at(now)) is None


class Harness(App[None]):
    CSS_PATH = Path(bench.tui.__file__).with_name("pour.tcss")

    def __init__(self, session: Session, now: float, *, pressed: tuple[str, ...] = ()) -> None:
        super().__init__()
        self.pressed = pressed
        self.register_theme(BENCH_THEME)
        self.theme = BENCH_THEME.name
        self.kept: list[Event] = []
        self.result: Session | None = None
        self.finish = FinishScreen(
            session=session, settings=Settings(), clock=HandClock(seconds=now), keep=self.kept.append
        )

    def on_mount(self) -> None:
        self.push_screen(self.finish, self.left)
        for key in self.pressed:
            self.finish.post_message(events.Key(key, None))

    def left(self, session: Session | None) -> None:
        self.result = session


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (200, 60)])
async def test_a_digit_judges_and_a_key_goes_back(size: tuple[int, int]) -> None:
    session, now = finished()
    app = Harness(session, now)
    async with running(app, size=size):
        await until(lambda: app.screen is app.finish and app.finish.query_one("#summary", Static).size.height > 5)
        assert "Ember under Peat" in screen_text(app)
        await until(lambda: "back to the bench" in screen_text(app).splitlines()[-1])
        press(app, "6")
        press(app, "6")
        await until(lambda: app.kept)
        press(app, "escape")
        await until(lambda: app.result)
        assert app.result is not None
        assert app.result.verdicts[-1].verdict is Verdict.DENTS
        assert session.after_all(app.kept) == app.result
        assert len(app.kept) == 1, "pressed again it says nothing new"


@pytest.mark.parametrize("key", ["pagedown", "enter", "space"])
async def test_the_one_key_reads_on_and_closes_only_at_the_end(key: str) -> None:
    """Page Down is what a pedal sends."""
    session, now = finished()
    app = Harness(session, now)
    async with running(app, size=(60, 12)):
        await until(lambda: app.screen is app.finish and "Enter read on" in screen_text(app))
        scrolled = app.finish.query_one(VerticalScroll)
        seen = [0.0]
        while scrolled.scroll_offset.y < scrolled.max_scroll_y:
            press(app, key, " " if key == "space" else None)
            await until(lambda: scrolled.scroll_offset.y > seen[-1])
            seen.append(scrolled.scroll_offset.y)
            assert app.result is None
        await until(lambda: "Enter back to the bench" in screen_text(app))
        press(app, "pageup")
        await until(lambda: scrolled.scroll_offset.y < seen[-1] and "Enter read on" in screen_text(app))
        press(app, key, " " if key == "space" else None)
        await until(lambda: scrolled.scroll_offset.y == seen[-1])
        press(app, key, " " if key == "space" else None)
        await until(lambda: app.result is session)


async def test_where_all_is_in_sight_one_press_goes_back() -> None:
    session, now = finished()
    app = Harness(session, now)
    async with running(app, size=(200, 60)):
        await until(lambda: app.screen is app.finish and "Enter back to the bench" in screen_text(app))
        press(app, "pagedown")
        await until(lambda: app.result is session)


@pytest.mark.parametrize("size", [(40, 12), (200, 60)])
async def test_a_key_that_comes_before_the_summary_is_drawn_does_not_close_it_unread(
    size: tuple[int, int],
) -> None:
    session, now = finished()
    app = Harness(session, now, pressed=("pagedown", "pageup", "enter", "space"))
    async with running(app, size=size):
        await until(lambda: app.result or "Enter " in screen_text(app))
        assert app.result is None
        assert app.finish.query_one(VerticalScroll).scroll_offset.y == 0


@pytest.mark.parametrize("key", ["escape", "q"])
@pytest.mark.parametrize("is_drawn", [True, False], ids=["drawn", "not drawn"])
async def test_a_digit_just_before_the_summary_is_left_is_kept(key: str, is_drawn: bool) -> None:
    """What follows a refresh is done by the screen that is shown then: by a busy one when the rows are gone."""
    session, now = finished()
    pressed = ("6", key)
    app = Harness(session, now, pressed=() if is_drawn else pressed)
    async with running(app, size=(60, 12)):
        if is_drawn:
            await until(lambda: app.screen is app.finish and "Enter read on" in screen_text(app))
            app.screen_stack[0].call_later(until, lambda: not app.finish.is_attached)
            for each in pressed:
                app.finish.post_message(events.Key(each, None))
        await until(lambda: app.result is not None and not app.finish.is_attached)
        refreshed = asyncio.Event()
        app.call_after_refresh(refreshed.set)
        await until(lambda: refreshed.is_set() or app._exception)
        assert app._exception is None
        assert len(app.kept) == 1
        assert app.result == session.after_all(app.kept)
