"""Looking on at a session that another copy of the program writes: its picture without its keys."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from textual import events, work
from textual.app import ComposeResult

from bench.clock import Clock, rehearsal_clock
from bench.errors import BenchError
from bench.model.settings import Settings
from bench.session.session import Session
from bench.session.stamp import span
from bench.signals.alarms import Alarms, caught_up
from bench.signals.bell import Bell, Signal
from bench.store.onlooker import Seen
from bench.store.sessions import Stored
from bench.tui.messages import SessionSeen, SessionUnseen
from bench.tui.pour.beat import next_look_s
from bench.tui.pour.frame import frame
from bench.tui.pour.keys import Keyboard, Press
from bench.tui.pour.picture import Around, Onlooking, picture
from bench.tui.screens.help import KeysHelp
from bench.tui.screens.once import LeftOnce
from bench.tui.widgets.board import Board

LOOK_EVERY_S = 1.0
"""Between two looks at the file."""

LINE_S = 8.0
"""How long the line that answers a key stays."""

WORK_THERE = "Another copy writes this session: look on here, work there."
NOBODY_WORKS = "Nobody works at this session now. Enter resumes it here."


@dataclass(frozen=True, kw_only=True, slots=True)
class OnlookEnd:
    """Why nobody looks on any more: the session is to be resumed here, or it is over."""

    resume: bool = False
    over: Stored | None = None


class StopNowOnly:
    """Rings for danger and for nothing else.

    The copy that writes the session calls and speaks; the same from two places, never quite together, could not be
    understood. Danger goes to whoever looks at any screen, for the other may stand where nobody hears it.
    """

    def __init__(self, bell: Bell) -> None:
        self._bell = bell

    def sound(self, signal: Signal) -> None:
        """Ring if it is danger."""
        if signal is Signal.STOP_NOW:
            self._bell.sound(signal)


class OnlookHelp(KeysHelp):
    """The few keys that do something while looking on."""

    heading = "Keys while you look on"

    def __init__(self, keyboard: Keyboard) -> None:
        super().__init__()
        self._keyboard = keyboard

    def rows(self) -> Iterable[tuple[str, str]]:
        """All of them."""
        yield self._keyboard.all_shown(Press.LEAVE), "leave. Nothing is asked, for nothing changes."
        yield "Enter", "resume the session here, once nobody writes it any more."
        yield "every other key", "nothing: the session is worked at where it is written."


class OnlookScreen(LeftOnce[OnlookEnd]):
    """The pour screen's picture of a session, read from its file again and again. Nothing is ever written.

    ``look`` reads the file and may take long; it raises BenchError. ``seen`` is what it said first. ``live`` False
    leaves looking and painting to the caller.
    """

    AUTO_FOCUS = ""

    def __init__(
        self, *, look: Callable[[], Seen], seen: Seen, clock: Clock, settings: Settings, live: bool = True
    ) -> None:
        super().__init__()
        self.seen = seen
        self._look = look
        self._real = clock
        self._units = settings.units
        self._keyboard = Keyboard(settings.keys)
        self._live = live
        self._clock = self._clock_of(seen)
        self._alarms = Alarms(clock=clock, bell=StopNowOnly(self._bell()), units=settings.units)
        self._is_looking = False
        self._unseen = ""
        self._line = ""
        self._said_at = clock.now()

    def compose(self) -> ComposeResult:
        """The board."""
        yield Board()

    def on_mount(self) -> None:
        """Begin to look."""
        if self._live:
            self.set_interval(LOOK_EVERY_S, self.look_again)
            self._beat()
        else:
            self.tick()

    def on_unmount(self) -> None:
        """Nothing is rung for any more."""
        self._alarms.close()

    def on_resize(self) -> None:
        """Fit the rows into the new window, once the board has its new size."""
        self.call_after_refresh(self._repaint)

    def look_again(self) -> None:
        """Read the file, unless a slow disk still keeps the last look waiting."""
        if not (self._is_looking or self.is_left):
            self._is_looking = True
            self._read()

    @work(thread=True, group="onlook")
    def _read(self) -> None:
        try:
            seen = self._look()
        except BenchError as error:
            self.post_message(SessionUnseen(str(error)))
        else:
            self.post_message(SessionSeen(seen))

    def on_session_seen(self, message: SessionSeen) -> None:
        """Show how it stands now; once it is over there is nothing to look on at."""
        self._is_looking, self._unseen = False, ""
        before, self.seen = self.seen, message.seen
        if self.seen.stored.session.last != before.stored.session.last:
            self._clock = self._clock_of(self.seen)
        if self.seen.stored.session.state.over:
            self.dismiss(OnlookEnd(over=self.seen.stored))
        else:
            self.tick()

    def on_session_unseen(self, message: SessionUnseen) -> None:
        """Show what was seen last, and say that it is that."""
        self._is_looking, self._unseen = False, message.why
        self.tick()

    def tick(self) -> None:
        """Ring for danger, and show what time has brought about."""
        if self.is_left:
            return
        if (
            self.seen.stored.rehearsal is None
            and self._alarms.see(self.seen.stored.session)
            and isinstance(self.app.screen, OnlookHelp)
        ):
            # Help covers the screen, and what rang is under it.
            self.app.screen.close()
        self._repaint()

    def _beat(self) -> None:
        if not self.is_left:
            self.tick()
            self.set_timer(next_look_s(self._session(), self._clock.now(), pace=self._pace), self._beat)

    def on_key(self, event: events.Key) -> None:
        """Help, leaving, and resuming once that can be done; every other key is answered."""
        event.stop()
        event.prevent_default()
        stroke = self._keyboard.stroke_of(event.key)
        press = stroke.press if stroke else None
        if press is Press.HELP:
            self.app.push_screen(OnlookHelp(self._keyboard))
        elif press is Press.LEAVE:
            self.dismiss(OnlookEnd())
        elif event.key == "enter" and self._may_resume:
            self.dismiss(OnlookEnd(resume=True))
        else:
            self._line = NOBODY_WORKS if self._may_resume else WORK_THERE
            self._said_at = self._real.now()
            self._repaint()

    @property
    def _may_resume(self) -> bool:
        return not self.seen.writer and not self._unseen

    @property
    def _pace(self) -> float:
        return self.seen.stored.rehearsal or 1.0

    def _session(self) -> Session:
        """The session once everything has happened that time alone brings about: the file tells it a bit later."""
        return caught_up(self.seen.stored.session, self._clock.now())

    def _clock_of(self, seen: Seen) -> Clock:
        """A rehearsal's own clock, which began anew with what was written last; the maker's for a real pour."""
        stored = seen.stored
        if stored.rehearsal is None:
            return self._real
        return rehearsal_clock(self._real, speed=stored.rehearsal, start=stored.session.last, since=seen.written)

    def _bell(self) -> Bell:
        return Bell(ring=lambda: self.app.bell(), later=self.set_timer)

    def _repaint(self) -> None:
        if self.is_left or not self.is_mounted:
            return
        board = self.query_one(Board)
        shown = picture(self._session(), self._clock.now(), self._around())
        board.show(frame(shown, *board.size).rows)

    def _around(self) -> Around:
        is_fresh = span(self._said_at, self._real.now()).seconds < LINE_S
        sentence = f"What was seen last: {self._unseen}" if self._unseen else self.seen.sentence()
        return Around(
            units=self._units,
            line=self._line if is_fresh else "",
            speed=self.seen.stored.rehearsal,
            has_keys=self.app.app_focus,
            keyboard=self._keyboard,
            onlooking=Onlooking(sentence=sentence, may_resume=self._may_resume),
        )
