"""Between the screens and the store: events go in at once, and what is on disk is said truthfully."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable

from bench.errors import BenchError
from bench.session.events import Event
from bench.session.session import Session
from bench.store.recorder import RETRY_S, Recorder
from bench.store.sessions import OpenSession
from bench.tui.saved import SavedState

ENDED = "a defect has ended the saving. Leave and resume the session to have it saved again."


class Saving:
    """Keeps one session.

    The file of a new session is made at its first event, off the screen's thread, so that a session which was only
    looked at leaves nothing behind. While the disk refuses, events wait in memory and it is tried again.
    """

    def __init__(
        self, make: Callable[[], OpenSession], *, file: OpenSession | None = None, retry_s: float = RETRY_S
    ) -> None:
        """``make`` makes the file and raises BenchError where it cannot; ``file`` is one that is already open."""
        self._make = make
        self._file = file
        self._retry_s = retry_s
        self._early: deque[Event] = deque()
        self._refusal: str | None = None
        self._changed = threading.Condition()
        self._closing = False
        self._left: SavedState | None = None
        self._maker: threading.Thread | None = None

    def keep(self, event: Event) -> None:
        """Have the event saved; returns at once."""
        with self._changed:
            if self._file is not None:
                self._file.record(event)
                return
            self._early.append(event)
            if self._maker is None or not self._maker.is_alive():
                self._maker = threading.Thread(target=self._make_file, name="session file", daemon=True)
                self._maker.start()

    def saved(self) -> SavedState:
        """How the saving goes, or how it ended."""
        with self._changed:
            if self._file is not None:
                recorder = self._file.recorder
                return _state_of(recorder, ENDED if recorder.has_ended else recorder.problem)
            return self._left or SavedState(events_waiting=len(self._early), problem=self._refusal)

    def close(self, session: Session, timeout_s: float) -> bool:
        """Save what waits, write the summary of the session as it stands, let go of the file. Waits for the disk.

        Whether everything is on disk.
        """
        with self._changed:
            self._closing = True
            self._changed.notify_all()
        if self._maker is not None:
            self._maker.join(timeout_s)
        with self._changed:
            if self._file is None:
                return not self._early
            file, self._file = self._file, None
        saved = file.close(session, timeout_s)
        self._left = _state_of(file.recorder, file.recorder.problem)
        return saved

    def _make_file(self) -> None:
        while True:
            last_try = self._closing
            try:
                made = self._make()
            except BenchError as error:
                with self._changed:
                    self._refusal = str(error)
                    if last_try:
                        return
                    self._changed.wait_for(lambda: self._closing, self._retry_s)
                continue
            with self._changed:
                self._file = made
                self._refusal = None
                while self._early:
                    made.record(self._early.popleft())
            return


def _state_of(recorder: Recorder, problem: str | None) -> SavedState:
    return SavedState(events_waiting=recorder.unsaved_count, problem=problem, healed=recorder.healed)
