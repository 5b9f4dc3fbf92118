"""What the screens that show a session share: one board, looks at it as time passes, and the watch over it."""

from __future__ import annotations

from typing import NamedTuple

from textual.app import ComposeResult
from textual.message import Message
from textual.screen import ScreenResultType

from bench.clock import Clock
from bench.session.asking import Asked
from bench.session.session import Session
from bench.session.stamp import Stamp, span
from bench.signals.alarms import Alarms
from bench.signals.bell import Bell
from bench.tui.pour.beat import TICK_S, Beats, next_look_s
from bench.tui.pour.frame import Frame, frame
from bench.tui.pour.picture import Around, Picture, picture
from bench.tui.screens.help import KeysHelp
from bench.tui.screens.once import LeftOnce
from bench.tui.widgets.board import Board


class Sight(NamedTuple):
    """A session, and the moment at which it was looked at."""

    session: Session
    at: Stamp


class SessionBoard(LeftOnce[ScreenResultType]):
    """A session in rows that fill the window, looked at again and again until the screen is left.

    ``_clock`` is the session's. ``_alarms`` end with the screen. ``live`` False leaves ticking to the caller.
    """

    AUTO_FOCUS = ""
    BLANK = True
    """The board covers the screen, which has nothing of its own to paint."""

    _alarms: Alarms
    _pace: float
    """How many seconds of the session pass in one of the maker's."""

    def __init__(self, *, clock: Clock, live: bool) -> None:
        super().__init__()
        self._clock = clock
        self._live = live
        self._board = Board()
        self._beats = Beats()
        self._sight: Sight | None = None
        self._pictured: Picture | None = None
        self._framed = Frame(rows=())

    def compose(self) -> ComposeResult:
        """The board."""
        yield self._board

    def on_mount(self) -> None:
        """Begin to look."""
        if self._live:
            self._beat()
        else:
            self.tick()

    def on_unmount(self) -> None:
        """Nothing is called for any more."""
        self._alarms.close()

    def on_resize(self) -> None:
        """Fit the rows into the new window, once the board has its new size."""
        self.call_after_refresh(self._repaint)

    def tick(self) -> None:
        """Look, call the maker, and show what time has brought about."""
        raise NotImplementedError

    def _beat(self) -> None:
        if self.is_left:
            return
        self._note_beat()
        self.tick()
        now = self._clock.now()
        self.set_timer(next_look_s(self._session_at(now), now, pace=self._pace), self._beat)

    def _note_beat(self) -> None:
        # A message is dated by the clock that dates keys.
        self._beats = self._beats.after(Message().time)

    def _session_at(self, now: Stamp, /) -> Session:
        """The session to show at that moment."""
        raise NotImplementedError

    def _around(self, now: Stamp, /) -> Around:
        """What the screen itself knows at that moment."""
        raise NotImplementedError

    def _look(self, now: Stamp) -> None:
        """See the session as it stands at that moment."""
        self._sight = Sight(self._session_at(now), now)

    def _call(self, session: Session, now: Stamp, asked: Asked | None = None) -> None:
        """Call the maker for what is due. Help covers the screen, and what called is under it: it closes."""
        if self._alarms.see(session, now, asked=asked) and isinstance(self.app.screen, KeysHelp):
            self.app.screen.close()

    def _bell(self) -> Bell:
        return Bell(ring=lambda: self.app.bell(), later=self.set_timer)

    def _repaint(self) -> None:
        if self.is_left or not self.is_mounted:
            return
        session, at = self._in_sight()
        if session.state.over:
            return
        self._pictured = picture(session, at, self._around(at))
        self._framed = frame(self._pictured, *self._board.size)
        self._board.show(self._framed.rows)

    @property
    def _may_acknowledge(self) -> bool:
        """Whether every caution of a card stands on the screen in full."""
        sheet = self._pictured.sheet if self._pictured else None
        return self._framed.is_whole or sheet is None or sheet.is_alarm

    def _in_sight(self) -> Sight:
        """What was seen last, for a tick at most and unless the session has changed: a key paints it again."""
        now = self._clock.now()
        session, seen = self._session_at(now), self._sight
        if seen is None or seen.session is not session or span(seen.at, now).seconds >= TICK_S * self._pace:
            self._sight = seen = Sight(session, now)
        return seen
