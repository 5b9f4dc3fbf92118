"""The app: which screen is open, and what stands behind it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events, work
from textual.screen import Screen

from bench.clock import Clock, rehearsal_clock
from bench.model.settings import Settings
from bench.store.paths import Home
from bench.store.settings_file import theme_in
from bench.tui.doors import DoorsApp
from bench.tui.going import Going, Running, run, with_leaving
from bench.tui.guarded import steady_driver
from bench.tui.messages import (
    OpenSession,
    ReadShelf,
    ResumeSession,
    SessionOpened,
    SessionSaved,
    ShelfRead,
)
from bench.tui.saved import lost_line
from bench.tui.screens.bench import BenchScreen
from bench.tui.theme import register

if TYPE_CHECKING:
    from textual.types import CSSPathType

    from bench.session.session import Session
    from bench.tui.saving import Saving
    from bench.tui.waiting import Unfinished

REHEARSAL_SPEED = 20.0
"""Seconds that pass in each real one of a rehearsal begun on the bench screen."""

CLOSE_WITHIN_S = 5.0
"""How long a slow disk is waited for when a session is left."""

LEAVE_WITHIN_S = 1.0
"""The same when the whole program ends."""

LEAVING_KEYS = frozenset({"ctrl+q", "ctrl+c", "q", "Q"})
"""These leave the bench, whatever stands on it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """A session asked for on the command line. ``speed`` None is a real pour; ``waits`` is one that was left
    before its end, and is asked about first."""

    session: Session
    settings: Settings
    speed: float | None = None
    waits: Unfinished | None = None


class BenchApp(DoorsApp):
    """Opens on the bench, or straight on a session: one that was asked for, or one that goes on."""

    CSS_PATH: ClassVar[CSSPathType | None] = [
        Path(__file__).with_name("bench.tcss"),
        Path(__file__).with_name("pour.tcss"),
    ]
    TITLE = "pourbench"
    ENABLE_COMMAND_PALETTE = False

    def __init__(
        self, *, home: Home, clock: Clock, asked: Asked | None = None, going: Going | None = None
    ) -> None:
        super().__init__(driver_class=steady_driver())
        self.home = home
        self.clock = clock
        self.asked = asked
        self._going = going
        theme = theme_in(home)
        self.bench = BenchScreen(clock, theme)
        register(self, theme)

    def get_default_screen(self) -> Screen[Any]:
        return self.bench

    @property
    def going(self) -> Going | None:
        """The session to be gone on with should this screen end; None while there is none."""
        return self.running.going if self.running is not None else self._going

    async def on_event(self, event: events.Event) -> None:
        """A key pressed before the bench shows what is on its shelf does nothing: it was pressed blind."""
        if (
            isinstance(event, events.Key)
            and not event.is_forwarded
            and self.screen is self.bench
            and event.key not in LEAVING_KEYS
            and self.bench.blind.hides(event.time)
        ):
            return
        await super().on_event(event)

    def on_ready(self) -> None:
        """Open what was asked for, once the first frame stands."""
        if self._going is not None:
            self._run(self._going)
        elif self.asked is not None:
            self._pour_asked(self.asked)

    def on_read_shelf(self, _message: ReadShelf) -> None:
        """Read once the screen stands."""
        self.call_after_refresh(self.read_shelf)

    @work(thread=True, exclusive=True, group="shelf")
    def read_shelf(self) -> None:
        """Read profiles and past sessions, off the screen's thread."""
        from bench.store.last_choice import last_choice
        from bench.store.shelf import load_library
        from bench.tui.past import what_waits

        library, faults = load_library(self.home)
        waiting = what_waits(self.home, self.clock.now().wall)
        faults = (*faults, *waiting.unread)
        self.bench.post_message(ShelfRead(library, faults, waiting, theme_in(self.home), last_choice(self.home)))

    def on_open_session(self, message: OpenSession) -> None:
        """Pour or rehearse what was planned."""
        self._pour_new(message.session, self.bench.settings, REHEARSAL_SPEED if message.rehearsal else None)

    def on_resume_session(self, message: ResumeSession) -> None:
        """Go on with a session, once its file is read and locked."""
        if self.running is None:
            self.open_file(message.path)

    def on_session_opened(self, message: SessionOpened) -> None:
        """Stand where the session stood; say first what was lost or changed by hand meanwhile."""
        from bench.session.events import Left
        from bench.tui.pour.beat import away_line
        from bench.tui.saving import Saving

        stored = message.file.stored
        saving = Saving(lambda: message.file, file=message.file)
        was_left = bool(stored.events) and isinstance(stored.events[-1], Left)
        news = "" if stored.rehearsal else away_line(stored.session, self.clock.now(), was_left=was_left)
        self._begin(stored.session, saving, self.bench.settings, stored.rehearsal, news=news)
        if stored.edited:
            self.tell("This session was changed by hand", *(fault.sentence() for fault in stored.edited))
        if stored.torn is not None:
            self.tell("The end of this session was lost", stored.torn.sentence())

    def on_session_saved(self, message: SessionSaved) -> None:
        """Say what is not on disk, and look again at what waits."""
        if message.problem is not None:
            self.tell("Not everything was saved", message.problem)
        self.read_shelf()

    async def action_quit(self) -> None:
        """Leave, but ask first while a session runs or the screen would lose something."""
        from bench.tui.screens.leave import LeaveScreen

        running = self.running if self.running is not None and self.running.is_under_way else None
        if running is not None and not isinstance(self.screen, LeaveScreen):
            self.push_screen(LeaveScreen(running.opened.saving.saved()))
        elif self.may_leave():
            self.exit(0)

    def _pour_asked(self, asked: Asked) -> None:
        """Pour what was asked for, once it is said what becomes of a session that waits."""
        from bench.tui.screens.another import Another, AnotherScreen

        waits, new = asked.waits, partial(self._pour_new, asked.session, asked.settings, asked.speed)
        if waits is None:
            new()
            return

        def answered(answer: Another | None) -> None:
            if answer is Another.NEW:
                new()
            elif answer is Another.WAITING:
                self.post_message(ResumeSession(waits.path, rehearsal=waits.rehearsal))

        self.push_screen(AnotherScreen(waits, self.clock.now().wall), answered)

    def _pour_new(self, session: Session, settings: Settings, speed: float | None) -> None:
        from bench.store.sessions import create
        from bench.tui.saving import Saving

        if self.running is None:
            created = self.clock.now().wall
            saving = Saving(lambda: create(self.home, session, created=created, rehearsal=speed))
            self._begin(session, saving, settings, speed)

    def _begin(
        self, session: Session, saving: Saving, settings: Settings, speed: float | None, *, news: str = ""
    ) -> None:
        clock = rehearsal_clock(self.clock, speed=speed, start=session.last) if speed else self.clock
        self._run(Going(session=session, saving=saving, settings=settings, speed=speed, clock=clock, news=news))

    def _run(self, going: Going) -> None:
        self.running = run(
            going, real=self.clock, sounds=self.home.sounds, ring=self.bell, silent=self.is_headless
        )
        self._going = None
        if going.session.state.over:
            self._left(going.session)
        else:
            self.push_screen(self.running.shown, self._left)

    def _left(self, session: Session | None) -> None:
        """The pour screen closed: on a session that is over comes its summary, otherwise the bench."""
        from bench.tui.screens.finish import FinishScreen

        running = self.running
        if running is None or session is None:
            return
        if session.state.over:
            running.hearing.rest()
            opened = running.opened
            screen = FinishScreen(
                session=session,
                settings=opened.settings,
                clock=opened.clock,
                keep=opened.saving.keep,
                rehearsed=opened.speed is not None,
            )
            running.shown = screen
            self.push_screen(screen, self._finished)
        else:
            self._finished(session)

    def _finished(self, session: Session | None) -> None:
        if self.running is not None and session is not None:
            self.let_go(self.running, with_leaving(self.running.going, session))
        self.running = None

    @work(thread=True, group="close")
    def let_go(self, running: Running, session: Session) -> None:
        """End the calls and close the session's file, off the screen's thread."""
        running.hearing.close()
        saving = running.opened.saving
        saved = saving.close(session, CLOSE_WITHIN_S)
        self.post_message(SessionSaved(None if saved else lost_line(saving.saved())))

    def close_session(self) -> str | None:
        """Save what still waits when the program ends; what is not saved as a sentence, None when all is."""
        going = self.going
        self.hush()
        if going is None:
            return None
        saved = going.saving.close(with_leaving(going, going.session), LEAVE_WITHIN_S)
        return None if saved else lost_line(going.saving.saved())

    def hush(self) -> None:
        """End the calls of a screen that has ended."""
        if self.running is not None:
            self.running.hearing.close()
