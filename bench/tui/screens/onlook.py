"""Looking on at a session that another copy of the program writes: its picture without its keys."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from textual import events, work

from bench.clock import Clock, rehearsal_clock
from bench.errors import BenchError
from bench.model.settings import Settings
from bench.session.session import Session
from bench.session.stamp import Stamp, span
from bench.signals.alarms import Alarms, caught_up
from bench.signals.bell import Bell, Signal
from bench.store.onlooker import Seen
from bench.store.sessions import Stored
from bench.tui import present
from bench.tui.messages import SessionSeen, SessionUnseen
from bench.tui.pour.keys import Keyboard, Press
from bench.tui.pour.picture import Around, Onlooking
from bench.tui.screens.help import KeysHelp
from bench.tui.screens.session_board import SessionBoard

LOOK_EVERY_S = 1.0
"""Between two looks at the file."""

SILENT_S = 120.0
"""Starting value: a window at work writes at every step, and few are longer."""

LINE_S = 8.0
"""How long the line that answers a key stays."""

WORK_THERE = "Work in the other window: its keys count, and none here."
NOBODY_WORKS = "Enter resumes the session here."


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
        yield "Enter", "resume the session here, once no other window has it open."
        yield "every other key", "nothing: the session is worked at in the other window."


class OnlookScreen(SessionBoard[OnlookEnd]):
    """The pour screen's picture of a session, read from its file again and again. Nothing is ever written.

    ``look`` reads the file and may take long; it raises BenchError. ``seen`` is what it said first. ``live`` False
    leaves looking and painting to the caller.
    """

    def __init__(
        self, *, look: Callable[[], Seen], seen: Seen, clock: Clock, settings: Settings, live: bool = True
    ) -> None:
        super().__init__(clock=_clock_of(seen, clock), live=live)
        self.seen = seen
        self._pace = seen.stored.rehearsal or 1.0
        self._read = look
        self._real = clock
        self._units = settings.units
        self._keyboard = Keyboard(settings.keys)
        self._alarms = Alarms(clock=clock, bell=StopNowOnly(self._bell()), units=settings.units)
        self._is_looking = False
        self._unseen = ""
        self._line = ""
        self._said_at = clock.now()

    def on_mount(self) -> None:
        """Begin to read."""
        if self._live:
            self.set_interval(LOOK_EVERY_S, self.look_again)

    def look_again(self) -> None:
        """Read the file, unless a slow disk still keeps the last look waiting."""
        if not (self._is_looking or self.is_left):
            self._is_looking = True
            self._read_aside()

    @work(thread=True, group="onlook")
    def _read_aside(self) -> None:
        try:
            seen = self._read()
        except BenchError as error:
            self.post_message(SessionUnseen(str(error)))
        else:
            self.post_message(SessionSeen(seen))

    def on_session_seen(self, message: SessionSeen) -> None:
        """Show how it stands now; once it is over there is nothing to look on at."""
        self._is_looking, self._unseen = False, ""
        before, self.seen = self.seen, message.seen
        if bool(before.writer) != bool(self.seen.writer):
            # What was answered before is not true any more.
            self._line = ""
        if self.seen.stored.session.last != before.stored.session.last:
            self._clock = _clock_of(self.seen, self._real)
        if self.seen.stored.over:
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
        now = self._clock.now()
        self._look(now)
        if self.seen.stored.rehearsal is None:
            self._call(self.seen.stored.session, now)
        self._repaint()

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

    def _session_at(self, now: Stamp, /) -> Session:
        """The session once everything has happened that time alone brings about: the file tells it a bit later."""
        return caught_up(self.seen.stored.session, now)

    def _around(self, _now: Stamp, /) -> Around:
        is_fresh = span(self._said_at, self._real.now()).seconds < LINE_S
        sentence = f"What was seen last: {self._unseen}" if self._unseen else self._seen_words()
        return Around(
            units=self._units,
            line=self._line if is_fresh else "",
            speed=self.seen.stored.rehearsal,
            has_keys=self.app.app_focus,
            keyboard=self._keyboard,
            onlooking=Onlooking(sentence=sentence, may_resume=self._may_resume),
        )

    def _seen_words(self) -> str:
        silent_s = self.seen.silent_s(self._real.now().wall)
        return self.seen.sentence(present.long_time(silent_s) if silent_s >= SILENT_S else "")


def _clock_of(seen: Seen, real: Clock) -> Clock:
    """A rehearsal's own clock, which began anew with what was written last; the maker's for a real pour."""
    stored = seen.stored
    if stored.rehearsal is None:
        return real
    return rehearsal_clock(real, speed=stored.rehearsal, start=stored.session.last, since=seen.written)
