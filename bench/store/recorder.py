"""Saving events off the screen's thread, and saying honestly what is saved."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Mapping
from contextlib import suppress
from typing import Any

from bench.store.journal import Healed, Journal, block

RETRY_S = 3.0
"""Between two tries on a disk that refuses: soon enough for a stick that was pulled and is back."""


class Recorder:
    """Writes events in their order from a thread of its own.

    An event is saved when it is on disk, not before: ``saved_count`` says how many are. While the disk refuses,
    events wait in memory and ``problem`` holds a sentence for the user.
    """

    def __init__(self, journal: Journal, *, retry_s: float = RETRY_S) -> None:
        self._journal = journal
        self._retry_s = retry_s
        self._waiting: deque[bytes] = deque()
        self._changed = threading.Condition()
        self._saved_count = 0
        self._refusal = ""
        self._closing = False
        self._thread = threading.Thread(target=self._work, name="recorder", daemon=True)
        self._thread.start()

    @property
    def saved_count(self) -> int:
        """How many of the recorded events are on disk."""
        return self._saved_count

    @property
    def unsaved_count(self) -> int:
        """How many wait in memory."""
        return len(self._waiting)

    @property
    def has_ended(self) -> bool:
        """Whether nothing more will be written. A disk that hangs can keep a closed recorder from ending."""
        return not self._thread.is_alive()

    @property
    def refusal(self) -> str | None:
        """What the disk says, in words that fit into a sentence; None while all is well."""
        return self._refusal or None

    @property
    def problem(self) -> str | None:
        """Why events wait, with the name of their file; None while all is well."""
        refusal = self._refusal
        return f"{self._journal.path.name} cannot be written: {refusal}" if refusal else None

    @property
    def healed(self) -> Healed | None:
        """What came of another program's change to the file; None where none made one."""
        return self._journal.healed

    def record(self, event: Mapping[str, Any]) -> None:
        """Have this flat event table saved; returns at once. Raises ValueError if it is not flat."""
        written = block(event)
        with self._changed:
            if self._closing:
                raise RuntimeError("the recorder is closed")
            self._waiting.append(written)
            self._changed.notify_all()

    def flush(self, timeout_s: float) -> bool:
        """Wait until everything recorded so far is saved; whether it is."""
        with self._changed:
            return self._changed.wait_for(lambda: not self._waiting, timeout_s)

    def close(self, timeout_s: float) -> bool:
        """Save what waits, once more even on a disk that refused, and end the thread; whether all is saved."""
        with self._changed:
            self._closing = True
            self._changed.notify_all()
        self._thread.join(timeout_s)
        return not self._waiting

    def _work(self) -> None:
        while self._next_is_due():
            is_last_try = self._closing
            try:
                if is_last_try:
                    self._journal.put_back_folder()
                self._journal.append(self._waiting[0])
            except OSError as error:
                self._wait_after(error)
                if is_last_try:
                    return
            else:
                self._note_saved()
        with suppress(OSError):  # a disk that went away: every event is on it
            self._journal.put_back_folder()
            self._journal.settle()

    def _next_is_due(self) -> bool:
        with self._changed:
            self._changed.wait_for(lambda: self._waiting or self._closing)
            return bool(self._waiting)

    def _note_saved(self) -> None:
        with self._changed:
            self._waiting.popleft()
            self._saved_count += 1
            self._refusal = ""
            self._changed.notify_all()

    def _wait_after(self, error: OSError) -> None:
        """Say what the disk says, and wait for the next try; not when closing: then there is one more, at once."""
        with self._changed:
            self._refusal = (error.strerror or str(error)).lower()
            self._changed.notify_all()
            self._changed.wait_for(lambda: self._closing, self._retry_s)
