"""The watch over a running session, from a thread of its own: what is due is rung and said though the screen is
stuck behind a slow terminal or a busy handler.

A session is a value, so the thread can work out by itself what time has brought about since the screen last said
how things stand. Screen and thread ask the same question, and what one of them has called for the other does not.
"""

from __future__ import annotations

import threading
from collections.abc import Callable

from bench.clock import Clock
from bench.errors import IllegalMove
from bench.model.settings import UnitSystem
from bench.session import drive
from bench.session.asking import Asked
from bench.session.cautions import reminders_due
from bench.session.session import Session, State
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.view import view
from bench.signals.attention import Calls, Heard, listen
from bench.signals.bell import Caller, Signal
from bench.signals.cup_phrases import bursts_over
from bench.signals.phrases import Phrase, Told, place_of, tell
from bench.signals.spoken_keys import USUAL, Keys

POLL_S = 0.1
"""How late a call may come; looking takes well under a millisecond."""

SPARED = 2
"""Looks that the thread leaves out after each of the screen's: those come sooner, unless it is stuck."""

END_WITHIN_S = 1.0


def caught_up(session: Session, now: Stamp) -> Session:
    """The session once everything has happened that time or a reading has brought about by itself."""
    while (event := drive.due(session, now)) is not None:
        try:
            session = session.after(event)
        except IllegalMove:
            break
    return session


class Alarms:
    """Calls the maker for one session. ``bell`` and ``speak`` must return at once, from whatever thread.

    ``pace`` is how many seconds of the session pass in one of the maker's, ``keys`` what is pressed for what.
    """

    def __init__(
        self,
        *,
        clock: Clock,
        bell: Caller,
        speak: Callable[[Phrase], None] = lambda _phrase: None,
        units: UnitSystem = UnitSystem.METRIC,
        keys: Keys = USUAL,
        pace: float = 1.0,
        poll_s: float = POLL_S,
    ) -> None:
        self._clock = clock
        self._bell = bell
        self._speak = speak
        self._units = units
        self._keys = keys
        self._pace = pace
        self._poll_s = poll_s
        self._session: Session | None = None
        self._asked: Asked | None = None
        self._heard = Heard()
        self._told = Told()
        self._called = False
        self._unseen = 0
        self._lock = threading.Lock()
        self._closing = threading.Event()
        self._thread: threading.Thread | None = None

    def see(self, session: Session, now: Stamp | None = None, *, asked: Asked | None = None) -> bool:
        """The session as it stands. Whether the maker was called, by ring, since this was last asked.

        ``now`` is the moment that the screen shows, where it has read the clock already, ``asked`` the question
        that stands on it.
        """
        with self._lock:
            self._session, self._asked = session, asked
        self._unseen = 0
        self.check(now)
        with self._lock:
            called, self._called = self._called, False
        return called

    def check(self, now: Stamp | None = None) -> None:
        """Call for what is due at this moment."""
        with self._lock:
            signal, phrases = self._due(now or self._clock.now())
            self._called = self._called or signal is not None
        # The signal first: words wait until it has sounded.
        if signal is not None:
            self._bell.sound(signal)
        for phrase in phrases:
            self._speak(phrase)

    def start(self) -> None:
        """Begin to watch."""
        self._thread = threading.Thread(target=self._run, name="alarms", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """End the watch."""
        self._closing.set()
        if self._thread is not None:
            self._thread.join(END_WITHIN_S)

    def _run(self) -> None:
        while not self._closing.wait(self._poll_s):
            self._unseen += 1
            if self._unseen > SPARED:
                self.check()

    def _due(self, now: Stamp) -> tuple[Signal | None, tuple[Phrase, ...]]:
        session = self._session
        if session is None or session.state is State.IDLE:
            return None, ()
        ahead = caught_up(session, now)
        calls = Calls(
            now=now,
            step_over=self._has_ended_by_itself(session, ahead),
            alarm=ahead.alarm is not None,
            reminders=frozenset(caution.name for caution in reminders_due(ahead, now)),
            bursts=bursts_over(view(ahead, now, self._units)) if not ahead.state.over else frozenset(),
            pace=self._pace,
        )
        self._heard, signal = listen(self._heard, calls)
        asked = self._asked if ahead is session else None
        self._told, phrases = tell(
            self._told, ahead, now, units=self._units, pace=self._pace, asked=asked, keys=self._keys
        )
        return signal, phrases

    def _has_ended_by_itself(self, session: Session, ahead: Session) -> bool:
        """Whether a clock or a reading has ended a step since the last look."""
        before, here = self._told.place, place_of(ahead)
        stood = [visit for visit in ahead.visits[:-1] if not visit.passed]
        if here == before or ahead.visit.revisited or not stood:
            return False
        is_news = before is not None or ahead is not session
        return is_news and stood[-1].by in (Ending.CLOCK, Ending.READING)
