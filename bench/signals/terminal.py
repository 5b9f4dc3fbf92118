"""The terminal's bell, rung past the queue of what waits to be drawn."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from typing import TextIO

BELL = b"\a"


class TerminalBell:
    """Rings the terminal that a stream writes to, from any thread, and never waits for it.

    The device is opened a second time: this opening may refuse rather than wait, the screen's may not. A terminal
    that does not read cannot ring either. Raises OSError where the stream has no terminal.
    """

    def __init__(self, stream: TextIO) -> None:
        if os.name != "posix":
            raise OSError("no terminal device to open")
        self._device = os.open(os.ttyname(stream.fileno()), os.O_WRONLY | os.O_NONBLOCK | os.O_NOCTTY)
        self._open = True
        self._lock = threading.Lock()

    def ring(self) -> None:
        """Ring once, if the terminal listens."""
        with self._lock:
            if self._open:
                try:
                    os.write(self._device, BELL)
                except OSError:
                    return

    def close(self) -> None:
        """Let go of the terminal; later rings are silent."""
        with self._lock:
            if self._open:
                self._open = False
                os.close(self._device)


def ring_later(seconds: float, ring: Callable[[], None]) -> None:
    """Call ``ring`` after so many seconds, whatever the screen is doing."""
    timer = threading.Timer(seconds, ring)
    timer.daemon = True
    timer.start()
