"""The pour screen in a running app, by its keys, against a clock that only the test moves."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest
from textual import events
from textual.app import App
from textual.geometry import Region
from textual.pilot import Pilot
from textual.screen import Screen

import bench.tui
from bench.model.caution import Caution
from bench.model.settings import Settings
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.events import Event, FileHealed, Noted, StopRequested
from bench.session.retime import Retimed, retime
from bench.session.session import Session, State
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.signals.alarms import Alarms
from bench.signals.bell import PATTERNS, Bell, Signal
from bench.store.journal import Healed
from bench.tui import present
from bench.tui.pour.entry import Figure
from bench.tui.pour.keys import REPEAT_S
from bench.tui.pour.moment import ASKED_S, JUST_ASKED, JUST_BEGUN, SETTLE_HOT_S, SETTLE_S
from bench.tui.saved import SavedState, healed_line, leaving_line, lost_line, unsaved_line
from bench.tui.screens.help import HelpScreen
from bench.tui.screens.pour import NEWS_S, PourScreen
from bench.tui.theme import BENCH_THEME
from bench.tui.widgets.board import Board
from bench.tui.widgets.note_input import LONGEST_NOTE, NoteInput
from tests.tui.at_the_bench import HandClock, at_kind, at_step, session_of
from tests.tui.running import running, screen_text, until


class Harness(App[None]):
    """An app with nothing in it but the pour screen."""

    CSS_PATH = Path(bench.tui.__file__).with_name("pour.tcss")
    ENABLE_COMMAND_PALETTE = False

    def __init__(self, screen: PourScreen) -> None:
        super().__init__()
        self.register_theme(BENCH_THEME)
        self.theme = BENCH_THEME.name
        self.pour = screen
        self.result: Session | None = None

    def on_mount(self) -> None:
        self.push_screen(self.pour, self.left)

    def left(self, session: Session | None) -> None:
        self.result = session


@dataclass
class Bench:
    """One screen under test, and what it did."""

    app: Harness
    clock: HandClock
    kept: list[Event]
    rung: list[float]
    saved: SavedState = field(default_factory=SavedState)
    keyboard_s: float = 0.0

    @property
    def screen(self) -> PourScreen:
        return self.app.pour

    @property
    def session(self) -> Session:
        return self.screen.session

    @property
    def text(self) -> str:
        return self.screen.query_one(Board).text

    async def press(self, *keys: str, apart_s: float = 1.0) -> None:
        """Keys, so many seconds of the keyboard's clock apart."""
        for key in keys:
            self.keyboard_s += apart_s
            event = events.Key(key, key if len(key) == 1 else None)
            event.time = self.keyboard_s
            self.app.post_message(event)
            await self.idle()

    async def idle(self) -> None:
        """Until every message sent so far has been handled."""
        done = []
        self.app.call_later(lambda: self.screen.call_later(lambda: done.append(True)))
        await until(lambda: done)

    def tick(self, seconds: float = 0.0) -> None:
        self.clock.advance(seconds)
        self.screen.tick()


@asynccontextmanager
async def at_work(
    session: Session,
    now: float = 0.0,
    *,
    size: tuple[int, int] = (80, 24),
    settings: Settings | None = None,
    speed: float | None = None,
    harness: type[Harness] = Harness,
) -> AsyncIterator[Bench]:
    clock = HandClock(seconds=now)
    kept: list[Event] = []
    rung: list[float] = []
    work: Bench

    def later(seconds: float, ring: object) -> None:
        rung.append(seconds)

    screen = PourScreen(
        session=session,
        clock=clock,
        keep=kept.append,
        saved=lambda: work.saved,
        settings=settings or Settings(),
        rehearsal_speed=speed,
        alarms=Alarms(clock=clock, bell=Bell(ring=lambda: rung.append(0.0), later=later), pace=speed or 1.0),
        live=False,
    )
    work = Bench(app=harness(screen), clock=clock, kept=kept, rung=rung)
    async with running(work.app, size=size):
        await until(lambda: screen.is_mounted and screen.query_one(Board).size.width)
        screen.tick()
        yield work


async def walk_by_keys(work: Bench, stop: StepKind | None = None) -> None:
    """A maker at the keys: reads cards, types readings, judges, waits for the clocks."""
    await work.press("space")
    for _ in range(2000):
        session = work.session
        if session.state.over or session.step.kind is stop:
            return
        work.tick(2.0)
        if drive.acknowledge(work.session, work.clock.now()):
            await work.press("a")
            continue
        step = work.session.step
        if step is not session.step:
            continue
        if step.ending is Ending.CLOCK:
            work.tick(max(1.0, drive.remaining_s(session, work.clock.now())))
        elif step.ending is Ending.READING and step.band_c is not None:
            work.clock.advance(step.length_s)
            low_c, high_c = step.band_c
            await work.press(*f"{(low_c + high_c) / 2:.0f}", "enter")
        else:
            work.clock.advance(step.length_s)
            await work.press(*(["1"] if drive.verdicts_offered(session) else []), "pagedown")
    raise AssertionError("the session did not come to its end")


@pytest.mark.parametrize("recipe", ["ember-under-peat", "peat-plain"])
async def test_a_whole_session_by_keys(recipe: str) -> None:
    async with at_work(session_of(recipe)) as work:
        await walk_by_keys(work)
        await until(lambda: work.app.result)
        assert work.session.state is State.COMPLETE
        assert work.app.result is work.session
        assert session_of(recipe).after_all(work.kept) == work.session
        assert all(given.verdict == "right" for given in work.session.verdicts)


async def test_what_was_kept_makes_the_same_session_whatever_was_refused() -> None:
    async with at_work(session_of()) as work:
        await work.press("s", "t", "b", "space", "space", "b", "s", "1", "a", "x", "escape", "q", "space", "3")
        assert session_of().after_all(work.kept) == work.session


async def test_a_card_is_not_passed_with_the_advancing_key() -> None:
    async with at_work(session_of()) as work:
        await work.press("space", "space")
        assert work.session.step.kind is StepKind.CAUTIONS
        assert "Acknowledge the card first: press A." in work.text
        assert "READ THIS CARD" in work.text


async def test_a_card_that_is_not_all_on_screen_is_not_acknowledged() -> None:
    async with at_work(session_of(), size=(30, 6)) as work:
        await work.press("space", "a")
        assert work.session.unacknowledged == work.session.job.opening_cautions


async def test_a_held_pedal_advances_one_step() -> None:
    session, now = at_kind(StepKind.READY)
    async with at_work(session, now + 5) as work:
        await work.press("pagedown")
        await work.press(*["pagedown"] * 20, apart_s=0.03)
        assert work.session.step.kind is StepKind.WARM_MOULD
        assert "A held key counts once" in work.text


async def test_a_double_press_asks_and_the_next_answers_and_leaves_the_next_step_to_be_seen() -> None:
    session, now = at_kind(StepKind.WARM_MOULD)
    async with at_work(session, now + 60) as work:
        await work.press("space", "space")
        assert "go on all the same" in work.text
        assert JUST_ASKED in work.text
        work.clock.advance(ASKED_S + 0.01)
        await work.press("space")
        entered = work.session
        assert entered.step.kind is StepKind.WEIGH
        work.clock.advance(0.4)
        await work.press("space", apart_s=1.0)
        assert work.session is entered
        assert JUST_BEGUN in work.text
        work.clock.advance(SETTLE_HOT_S)
        await work.press("space")
        assert len(work.session.visits) == len(entered.visits) + 1


async def test_a_press_made_too_soon_after_a_question_does_not_answer_it_once_it_is_known_not_to_be_held() -> None:
    session, now = at_kind(StepKind.WARM_MOULD)
    async with at_work(session, now + 60) as work:
        await work.press("space")
        work.clock.advance(0.7)
        await work.press("space", apart_s=0.7)
        work.clock.advance(REPEAT_S)
        await until(lambda: JUST_ASKED in work.text)
        assert work.session is session
        work.clock.advance(ASKED_S + 0.01)
        await work.press("space")
        assert work.session.step.kind is StepKind.WEIGH


async def test_shells_are_not_passed_without_a_verdict_before_it_is_asked_for() -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    async with at_work(session, now + 5) as work:
        await work.press("space")
        assert work.session is session
        assert "No verdict yet" in work.text
        assert "2   too dense" in work.text
        await work.press("2")
        assert "in the next melt try Peat brown" in work.text
        await work.press("space")
        assert work.session.step is session.next_step
    async with at_work(session, now + 5) as work:
        await work.press("space")
        work.clock.advance(ASKED_S + 0.01)
        await work.press("space")
        assert work.session.step is session.next_step
        assert "Passed without a verdict. B goes back to give one." in work.text


async def test_a_double_press_ends_a_hold_and_not_the_step() -> None:
    session, now = at_kind(StepKind.READY)
    async with at_work(session, now + 60) as work:
        await work.press("p", "space", "space")
        assert (work.session.state, work.session.step) == (State.RUNNING, session.step)
        assert JUST_BEGUN in work.text
        work.clock.advance(SETTLE_S)
        await work.press("space")
        assert work.session.step.kind is StepKind.WARM_MOULD


async def test_a_press_counts_soon_after_a_pedal_has_bounced() -> None:
    session, now = at_kind(StepKind.READY)
    async with at_work(session, now + 5) as work:
        await work.press("pagedown")
        await work.press("pagedown", apart_s=0.02)
        assert work.session.step.kind is StepKind.WARM_MOULD
        assert "go on all the same" not in work.text
        work.clock.advance(SETTLE_HOT_S)
        await work.press("pagedown", apart_s=0.65)
        await until(lambda: "go on all the same" in work.text)


async def test_a_step_that_ends_by_itself_rings_once_and_shows_the_next() -> None:
    session, now = at_step("m1.warm-up1.set")
    async with at_work(session, now) as work:
        work.tick(1.0)
        assert work.rung == []
        work.tick(session.step.length_s)
        assert work.session.step.kind is StepKind.OPEN
        assert len(work.rung) == PATTERNS[Signal.STEP_OVER].rings
        work.tick(0.25)
        assert len(work.rung) == 1
        await work.press("space")
        assert work.session.step.kind is StepKind.OPEN, "a press meant for the step before ends nothing"


@pytest.mark.parametrize("asked", ["space", "s"])
async def test_a_question_goes_with_the_step_that_it_was_asked_at(asked: str) -> None:
    session, now = at_step("m1.warm-up1.set")
    async with at_work(session, now) as work:
        left_s = drive.remaining_s(session, work.clock.now())
        work.tick(left_s - 1)
        await work.press(asked)
        assert "1–" in work.text if asked == "s" else "go on all the same" in work.text
        work.tick(1.5)
        opened = work.session
        assert opened.step.kind is StepKind.OPEN
        assert "go on all the same" not in work.text
        assert "not over yet" not in work.text
        assert "1–" not in work.text
        await work.press("1")
        assert work.session.step is opened.step, "no reason is left to skip the step that came"


async def test_the_countdown_follows_the_clock_however_late_the_ticks() -> None:
    session, now = at_step("r1.shell.set")
    left_s = drive.remaining_s(session, HandClock(seconds=now).now())
    async with at_work(session, now, size=(10, 12)) as work:
        for seconds in (0.0, 0.3, 40.0, 0.1):
            work.tick(seconds)
            gone = sum(work.clock.moves)
            assert present.countdown(left_s - gone) in work.text


async def test_a_machine_that_slept_catches_up_at_once() -> None:
    session, now = at_step("r1.shell.hold")
    async with at_work(session, now) as work:
        work.tick(3600.0)
        assert work.session.step.kind is StepKind.OPEN
        assert [event.at for event in work.kept] == [work.clock.now()], "the set is passed over with the hold"


async def test_a_reading_in_band_ends_a_heating_step() -> None:
    session, now = at_step("r1.heat.shell")
    async with at_work(session, now) as work:
        await work.press("1", "7")
        assert "Shell cup, in °C" in work.text
        await work.press("0", "enter")
        assert work.session.step.kind is not StepKind.HEAT
        assert "Shell cup: 170 °C." in work.text


async def test_a_reading_that_is_doubted_is_not_told_as_taken() -> None:
    session, now = at_step("r1.heat.shell")
    async with at_work(session, now) as work:
        await work.press("3", "4", "0", "enter")
        assert "Shell cup: 340 °C is not taken yet." in work.text
        await work.press("m", "3", "4", "0", "enter")
        assert "Mould: 340 °C is not taken yet." in work.text


async def test_a_mould_that_is_cold_is_told_while_its_cup_is_heated_until_it_reads_warm() -> None:
    session, now = at_step("r1.heat.core")
    async with at_work(session, now) as work:
        assert "The mould is cold" not in work.text
        await work.press("m", "3", "6", "enter")
        assert "The mould is cold, 36 °C. Warm it on its plate, closed, to 40 °C." in work.text
        work.tick(30.0)
        await work.press("m", "4", "4", "enter")
        assert "The mould is cold" not in work.text


async def test_an_alarm_fills_the_screen_and_rings_until_it_is_acknowledged() -> None:
    session, now = at_step("m1.warm-up1.heat.shell")
    async with at_work(session, now) as work:
        await work.press("2", "1", "2", "enter")
        assert "The shell cup reads 212 °C." in work.text
        rings = PATTERNS[Signal.STOP_NOW].rings
        assert len(work.rung) == rings
        work.tick(1.0)
        assert len(work.rung) == rings
        work.tick(4.0)
        assert len(work.rung) == 2 * rings
        await work.press("space")
        assert "Acknowledge the alarm first: press A." in work.text
        await work.press("a")
        assert work.session.alarm is None
        work.tick(60.0)
        assert len(work.rung) == 2 * rings


async def test_a_reminder_calls_once_and_a_reads_it() -> None:
    session, now = at_kind(StepKind.RODS_IN)
    async with at_work(session, now) as work:
        work.tick(700.0)
        assert "Look at the fan" in work.text
        assert len(work.rung) == PATTERNS[Signal.ATTENTION].rings
        work.tick(10.0)
        assert len(work.rung) == PATTERNS[Signal.ATTENTION].rings
        await work.press("a")
        assert "Look at the fan" not in work.text


async def test_a_note_takes_its_letters_and_keeps_what_was_typed() -> None:
    session, now = at_kind(StepKind.READY)
    async with at_work(session, now + 5) as work:
        await work.press("n")
        await until(lambda: work.screen.query_one(NoteInput).has_focus)
        await work.press(*"qaxb1", "space", "s")
        assert work.screen.query_one(NoteInput).value == "qaxb1s"
        assert work.session == session
        await work.press("escape", "n")
        assert work.screen.query_one(NoteInput).value == "qaxb1s"
        await work.press("enter")
        await until(lambda: work.session.notes)
        assert work.session.notes == ("qaxb1s",)
        assert isinstance(work.kept[-1], Noted)
        await work.press("space")
        assert work.session.step.kind is StepKind.WARM_MOULD


async def test_a_pasted_note_passes_the_gate() -> None:
    session, now = at_kind(StepKind.READY)
    async with at_work(session, now) as work:
        await work.press("n")
        note = work.screen.query_one(NoteInput)
        await until(lambda: note.has_focus)
        note.post_message(events.Paste("\x1b[2Jhot\u202e\nall"))
        await until(lambda: note.value)
        assert note.value == "␛[2Jhot� all"


async def test_a_note_that_is_full_says_so_and_is_kept_whole() -> None:
    session, now = at_kind(StepKind.READY)
    async with at_work(session, now) as work:
        await work.press("n")
        note = work.screen.query_one(NoteInput)
        await until(lambda: note.has_focus)
        note.value = "x" * LONGEST_NOTE
        await work.press("y")
        assert [told.message for told in work.screen.app._notifications] == [
            f"The note is full at {LONGEST_NOTE} characters. What does not fit is not kept: write a second note."
        ]
        await work.press("enter")
        await until(lambda: work.session.notes)
        assert work.session.notes == ("x" * LONGEST_NOTE,)


async def test_the_end_of_a_long_note_stays_in_sight_when_the_window_narrows() -> None:
    session, now = at_kind(StepKind.READY)
    async with at_work(session, now + 5) as work:
        await work.press("n")
        note = work.screen.query_one(NoteInput)
        await until(lambda: note.has_focus)
        note.insert_text_at_cursor("word " * 20 + "and its end")
        app = work.screen.app
        await until(lambda: "and its end" in screen_text(app))
        for window in ((40, 12), (60, 20), (24, 12), (300, 12), (40, 12)):
            await Pilot(app).resize_terminal(*window)
            await until(lambda width=window[0]: app.size.width == width and "and its end" in screen_text(app))  # type: ignore[misc]


async def test_leaving_takes_two_presses_and_keeps_the_session_unfinished() -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now) as work:
        await work.press("q")
        assert "LEAVE?" not in work.text, "it is drawn large"
        assert "Q again leaves" in work.text
        await work.press("q")
        await until(lambda: work.app.result)
        assert work.app.result is session
        assert work.kept == []


async def test_stopping_early_leads_through_the_closing_steps() -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now) as work:
        await work.press("x", "1")
        assert isinstance(work.kept[-1], StopRequested)
        assert work.session.step.id == "heat-off"
        await work.press("b")
        assert work.session.step.id == "r1.shell.set", "stopping can be taken back"


async def test_danger_leaves_at_once() -> None:
    session, now = at_step("r1.heat.shell")
    async with at_work(session, now) as work:
        await work.press("x", "5")
        await until(lambda: work.app.result)
        assert work.session.state is State.ABORTED


async def test_help_closes_by_any_key_and_when_something_calls() -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now) as work:
        await work.press("question_mark")
        await until(lambda: isinstance(work.app.screen, HelpScreen))
        await work.press("space")
        await until(lambda: work.app.screen is work.screen)
        assert work.session.step == session.step
        await work.press("question_mark")
        await until(lambda: isinstance(work.app.screen, HelpScreen))
        work.tick(session.step.length_s)
        await until(lambda: work.app.screen is work.screen)


async def test_a_saving_problem_shows_and_goes() -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now) as work:
        work.saved = SavedState(events_waiting=2, problem="the disk is full")
        work.tick(0.25)
        assert unsaved_line(work.saved) in work.text.replace("\n  ", " ")
        work.saved = SavedState()
        work.tick(0.25)
        assert "Not saved" not in work.text


@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_a_file_that_another_program_changed_is_told_once_and_kept_in_the_session(
    size: tuple[int, int],
) -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now, size=size) as work:
        work.saved = SavedState(healed=Healed(kept_in="a.toml.torn"))
        work.tick(0.25)
        assert "Another program changed this session's file." in " ".join(work.text.split())
        assert size[0] < 80 or "is kept in a.toml.torn." in " ".join(work.text.split())
        assert [event.kept_in for event in work.kept if isinstance(event, FileHealed)] == ["a.toml.torn"]
        work.tick(NEWS_S + 1)
        assert "Another program" not in work.text
        assert sum(isinstance(event, FileHealed) for event in work.kept) == 1


async def test_leaving_while_the_disk_refuses_is_not_called_safe() -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now) as work:
        await work.press("q")
        assert leaving_line(SavedState()) in work.text
        work.saved = SavedState(events_waiting=2, problem="the disk is full")
        work.tick(0.25)
        assert leaving_line(work.saved) in " ".join(work.text.split())
        assert leaving_line(SavedState()) not in work.text


def test_what_waits_is_counted_and_what_is_lost_told_with_its_reason() -> None:
    one, two = (SavedState(events_waiting=number, problem="the disk is full.") for number in (1, 2))
    assert unsaved_line(one) == (
        "Not saved: the disk is full. 1 entry waits in memory. The session goes on; saving is tried again."
    )
    assert leaving_line(two) == "2 entries wait in memory and would be lost; what was saved before is kept."
    assert lost_line(two) == (
        "2 entries not saved: the disk is full. What was saved before is kept and can be resumed from there."
    )
    assert lost_line(SavedState(events_waiting=1)).startswith("1 entry not saved: the disk did not answer.")


def test_nothing_is_said_to_be_kept_where_nothing_was() -> None:
    assert healed_line(Healed()) == (
        "Another program changed this session's file. It is whole again, and the session goes on."
    )


async def test_only_rows_that_changed_are_repainted(monkeypatch: pytest.MonkeyPatch) -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now) as work:
        board = work.screen.query_one(Board)
        painted: list[Region] = []
        monkeypatch.setattr(board, "refresh", lambda *regions, **_: painted.extend(regions))
        work.tick(0.0)
        assert painted == []
        work.tick(1.0)
        rows = sum(region.height for region in painted)
        assert 0 < rows < 24


async def test_a_tick_reckons_its_view_once_and_a_key_that_changes_nothing_none(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now) as work:
        reckoned: list[Session] = []

        def counted(session: Session, now: Stamp) -> Retimed:
            reckoned.append(session)
            return retime(session, now)

        monkeypatch.setattr("bench.session.view.retime", counted)
        work.tick(0.137)
        assert len(reckoned) == 1, "the screen and the watch share it"
        reckoned.clear()
        await work.press("t", "1", "7", "backspace")
        assert reckoned == [], "only what is typed has changed"
        await work.press("escape", "p")
        assert [each.state for each in reckoned] == [State.HELD], "a new state is looked at once"


async def test_a_key_shows_the_present_moment_where_no_tick_has_come() -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now) as work:
        before = present.time_of_day(work.clock.now().wall)
        assert before in work.text
        work.clock.advance(60.0)
        await work.press("escape")
        assert before not in work.text
        assert present.time_of_day(work.clock.now().wall) in work.text


async def test_a_sign_that_is_no_part_of_a_figure_is_answered() -> None:
    session, now = at_step("r1.heat.shell")
    async with at_work(session, now) as work:
        work.screen.app.post_message(events.Key("minus", "-"))
        await work.idle()
        assert "no part of a figure" not in work.text
        await work.press("1", "7")
        work.screen.app.post_message(events.Key("minus", "-"))
        await work.idle()
        assert "That is no part of a figure" in work.text
        await work.press("full_stop", "5")
        entry = work.screen.begun.entry
        assert isinstance(entry, Figure)
        assert entry.typed == "17.5"


async def test_no_key_of_a_figure_lays_the_screen_out_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now) as work:
        await work.press("t")
        await until(lambda: not any(screen._layout_required for screen in work.app.screen_stack))
        laid_out: list[Screen[object]] = []
        monkeypatch.setattr(Screen, "_refresh_layout", lambda screen, *_, **__: laid_out.append(screen))
        before = work.screen._compositor.render_strips()
        await work.press("1", "7", "backspace", "escape", "p", "z")
        await until(lambda: not work.screen._dirty_widgets)
        assert work.screen._compositor.render_strips() != before
        assert laid_out == []
        await work.press("n")
        await until(lambda: laid_out)


@pytest.mark.parametrize("size", [(1, 1), (20, 5), (40, 12), (300, 100)])
async def test_any_size_will_do(size: tuple[int, int]) -> None:
    session, now = at_step("r1.heat.shell")
    async with at_work(session, now, size=size) as work:
        work.tick(1.0)
        await work.press("1", "7", "0", "enter", "space", "n")
        assert work.session.cup_readings


HOSTILE = "[@click=app.quit]x[/] [/] [$error] \x1b[2J\x9b31m\u202e\x07 " + "漢" * 300


def with_hostile_names(session: Session) -> Session:
    """The session with every string that a file could bring replaced."""
    job = session.job
    cautions = tuple(
        Caution(
            name=caution.name,
            group=HOSTILE + caution.group,
            words=HOSTILE,
            more=HOSTILE,
            source=HOSTILE,
            at_start=caution.at_start,
            steps=caution.steps,
            above_scorch=caution.above_scorch,
            every_s=caution.every_s,
        )
        for caution in job.cautions
    )
    colourants = {name: replace(colourant, title=HOSTILE) for name, colourant in job.colourants.items()}
    script = tuple(replace(step, title=HOSTILE, do=HOSTILE, meanwhile=HOSTILE) for step in job.script)
    plan = replace(job.plan, recipe_title=HOSTILE, mould_title=HOSTILE)
    hostile = replace(job, cautions=cautions, colourants=colourants, script=script, plan=plan)
    return replace(session, job=hostile)


async def test_hostile_names_do_nothing() -> None:
    async with at_work(with_hostile_names(session_of()), size=(200, 300)) as work:
        work.saved = SavedState(problem=HOSTILE)
        await walk_by_keys(work, stop=StepKind.CLEAN)
        await work.press("t", "2", "escape", "s", "escape", "question_mark", "space")
        strips = work.screen._compositor.render_strips()
        shown = "".join(segment.text for strip in strips for segment in strip)
        assert "[@click=app.quit]x[/]" in shown
        assert not any(ord(character) < 32 or 127 <= ord(character) < 160 for character in shown)
        assert "\u202e" not in shown
