"""The app: which screen is open, and what stands behind it."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual import work
from textual.screen import Screen

from bench.clock import Clock, SystemClock, rehearsal_clock
from bench.errors import BenchError
from bench.model.settings import Settings
from bench.store.paths import Home
from bench.tui.guarded import GuardedApp, steady_driver
from bench.tui.messages import (
    OpenSession,
    ReadShelf,
    ResumeSession,
    SessionOpened,
    SessionRefused,
    SessionSaved,
    ShelfRead,
    ShowColour,
    ShowPast,
)
from bench.tui.screens.bench import BenchScreen
from bench.tui.theme import BENCH_THEME

if TYPE_CHECKING:
    from textual.types import CSSPathType

    from bench.session.session import Session
    from bench.signals.hearing import Hearing
    from bench.tui.saving import Saving
    from bench.tui.screens.colour import ColourScreen
    from bench.tui.screens.finish import FinishScreen
    from bench.tui.screens.pour import PourScreen

REHEARSAL_SPEED = 60.0
"""Seconds that pass in each real one of a rehearsal begun on the bench screen."""

CLOSE_WITHIN_S = 5.0
"""How long a slow disk is waited for when a session is left."""

LEAVE_WITHIN_S = 1.0
"""The same when the whole program ends."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """A session asked for on the command line. ``speed`` None is a real pour."""

    session: Session
    settings: Settings
    speed: float | None = None


@dataclass(kw_only=True, slots=True)
class Running:
    """The session on screen: the screen that has it, what saves it and what calls the maker, its clock."""

    shown: PourScreen | FinishScreen
    saving: Saving
    hearing: Hearing
    clock: Clock
    settings: Settings

    @property
    def is_under_way(self) -> bool:
        """Whether it was started and is not over."""
        session = self.shown.session
        return session.started is not None and not session.state.over


class BenchApp(GuardedApp):
    """Opens on the bench, or straight on a session that was asked for."""

    CSS_PATH: ClassVar[CSSPathType | None] = [
        Path(__file__).with_name("bench.tcss"),
        Path(__file__).with_name("pour.tcss"),
    ]
    TITLE = "pourbench"
    ENABLE_COMMAND_PALETTE = False

    def __init__(self, *, home: Home, clock: Clock, asked: Asked | None = None) -> None:
        super().__init__(driver_class=steady_driver())
        self.home = home
        self.clock = clock
        self.asked = asked
        self.bench = BenchScreen(clock)
        self.running: Running | None = None
        self.colour: ColourScreen | None = None
        self.register_theme(BENCH_THEME)
        self.theme = BENCH_THEME.name

    def get_default_screen(self) -> Screen[Any]:
        return self.bench

    def on_ready(self) -> None:
        """Open what was asked for, once the first frame stands."""
        if self.asked is not None:
            self._pour_new(self.asked.session, self.asked.settings, self.asked.speed)

    def on_read_shelf(self, _message: ReadShelf) -> None:
        """Read once the screen stands."""
        self.call_after_refresh(self.read_shelf)

    @work(thread=True, exclusive=True, group="shelf")
    def read_shelf(self) -> None:
        """Read profiles and past sessions, off the screen's thread."""
        from bench.store.shelf import load_library
        from bench.tui.past import what_waits

        library, faults = load_library(self.home)
        self.bench.post_message(ShelfRead(library, faults, what_waits(self.home, self.clock.now().wall)))

    def on_open_session(self, message: OpenSession) -> None:
        """Pour or rehearse what was planned."""
        self._pour_new(message.session, self.bench.settings, REHEARSAL_SPEED if message.rehearsal else None)

    def on_resume_session(self, message: ResumeSession) -> None:
        """Go on with a session, once its file is read and locked."""
        if self.running is None:
            self.open_file(message.path)

    @work(thread=True, exclusive=True, group="resume")
    def open_file(self, path: Path) -> None:
        """Read and lock the file, off the screen's thread."""
        from bench.store.sessions import open_for_resume

        try:
            file = open_for_resume(path)
        except BenchError as error:
            self.post_message(SessionRefused(str(error)))
        else:
            self.post_message(SessionOpened(file))

    def on_session_opened(self, message: SessionOpened) -> None:
        """Stand where the session stood; say so first if its end was lost."""
        from bench.tui.saving import Saving

        stored = message.file.stored
        saving = Saving(lambda: message.file, file=message.file)
        self._run(stored.session, saving, self.bench.settings, stored.rehearsal)
        if stored.torn is not None:
            self._tell("The end of this session was lost", stored.torn.sentence())

    def on_session_refused(self, message: SessionRefused) -> None:
        """Say why nothing opens."""
        self._tell("This session stays closed", message.why)

    def on_session_saved(self, message: SessionSaved) -> None:
        """Say what is not on disk, and look again at what waits."""
        if message.problem is not None:
            self._tell("Not everything was saved", message.problem)
        self.read_shelf()

    def on_show_past(self, _message: ShowPast) -> None:
        """Look at past sessions."""
        from bench.tui.screens.past import PastScreen

        self.push_screen(PastScreen(self.home, self.bench.settings))

    def on_show_colour(self, message: ShowColour) -> None:
        """Build a colour."""
        from bench.tui.screens.colour import ColourScreen

        if self.bench.library is not None:
            self.colour = ColourScreen(
                home=self.home, library=self.bench.library, recipe=message.recipe, mould=message.mould
            )
            self.push_screen(self.colour)

    async def action_quit(self) -> None:
        """Leave, but ask first while a session runs or a colour is not saved."""
        from bench.tui.screens.leave import LeaveScreen

        under_way = self.running is not None and self.running.is_under_way
        if under_way and not isinstance(self.screen, LeaveScreen):
            self.push_screen(LeaveScreen())
        elif self.colour is None or self.screen is not self.colour or self.colour.may_leave():
            self.exit(0)

    def _pour_new(self, session: Session, settings: Settings, speed: float | None) -> None:
        from bench.store.sessions import create
        from bench.tui.saving import Saving

        if self.running is None:
            created = self.clock.now().wall
            saving = Saving(lambda: create(self.home, session, created=created, rehearsal=speed))
            self._run(session, saving, settings, speed)

    def _run(self, session: Session, saving: Saving, settings: Settings, speed: float | None) -> None:
        from bench.signals.hearing import open_hearing
        from bench.tui.screens.pour import PourScreen

        clock = rehearsal_clock(self.clock, speed=speed, start=session.last) if speed else self.clock
        hearing = open_hearing(
            settings, clock=clock, real=self.clock, pace=speed or 1.0, ring=self.bell, silent=self.is_headless
        )
        screen = PourScreen(
            session=session,
            clock=clock,
            keep=saving.keep,
            saved=saving.saved,
            settings=settings,
            rehearsal_speed=speed,
            alarms=hearing.alarms,
        )
        self.running = Running(shown=screen, saving=saving, hearing=hearing, clock=clock, settings=settings)
        if session.state.over:
            self._left(session)
        else:
            self.push_screen(screen, self._left)

    def _left(self, session: Session | None) -> None:
        """The pour screen closed: on a session that is over comes its summary, otherwise the bench."""
        from bench.tui.screens.finish import FinishScreen

        running = self.running
        if running is None or session is None:
            return
        if session.state.over:
            screen = FinishScreen(
                session=session, settings=running.settings, clock=running.clock, keep=running.saving.keep
            )
            running.shown = screen
            self.push_screen(screen, self._finished)
        else:
            self._finished(session)

    def _finished(self, session: Session | None) -> None:
        if self.running is not None and session is not None:
            self.let_go(self.running, session)
        self.running = None

    @work(thread=True, group="close")
    def let_go(self, running: Running, session: Session) -> None:
        """End the calls and close the session's file, off the screen's thread."""
        running.hearing.close()
        saving = running.saving
        saved = saving.close(session, CLOSE_WITHIN_S)
        self.post_message(SessionSaved(None if saved else saving.saved().problem or "the disk did not answer"))

    def close_session(self) -> str | None:
        """Save what still waits when the program ends; what is not saved as a sentence, None when all is."""
        if self.running is None:
            return None
        self.running.hearing.close()
        saved = self.running.saving.close(self.running.shown.session, LEAVE_WITHIN_S)
        return None if saved else self.running.saving.saved().problem or "the disk did not answer"

    def _tell(self, heading: str, sentence: str) -> None:
        from bench.tui.screens.reading import ReadingScreen

        self.push_screen(ReadingScreen(heading, [sentence]))


def open_bench(home: Home, asked: Asked | None = None) -> int:
    """Run the app on this terminal and return the exit code. What crashed it is raised again."""
    for stream in (sys.__stdout__, sys.__stderr__):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
    app = BenchApp(home=home, clock=SystemClock(), asked=asked)
    result = app.run()
    unsaved = app.close_session()
    if app.crash is not None:
        raise app.crash
    if unsaved is not None:
        raise BenchError(f"Not everything was saved: {unsaved}")
    if app.stop_code is not None:
        return app.stop_code
    if result is None:
        raise RuntimeError("the screen ended by itself")
    return result
