"""Asking the desktop to leave the screen lit while a session runs.

wakepy asks each system in its own way (a call of Windows, ``caffeinate``, the desktop's D-Bus services). It takes
some 50 ms to load, so that it is loaded by the thread that needs it. What it cannot do it says, and nobody fails.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager

END_WITHIN_S = 0.3
"""A desktop that does not answer may keep its thread; the program does not wait for it."""

Lit = Callable[[], AbstractContextManager[bool]]
"""A request that stands while its context is open; whether the desktop granted it."""


class Awake:
    """Holds the screen lit from ``start`` to ``close``, in a thread of its own. ``lit`` is for tests."""

    def __init__(self, lit: Lit | None = None) -> None:
        self._lit = lit or _desktop
        self._asked = threading.Event()
        self._closing = threading.Event()
        self._granted = False
        self._thread: threading.Thread | None = None

    def start(self) -> None:
        """Ask; returns at once."""
        if self._thread is None:
            self._thread = threading.Thread(target=self._run, name="awake", daemon=True)
            self._thread.start()

    def granted(self, within_s: float) -> bool:
        """Whether the desktop has agreed; waits for its answer at most that long."""
        self._asked.wait(within_s)
        return self._granted

    def release(self) -> None:
        """Let the desktop do as it likes again; returns at once."""
        self._closing.set()

    def close(self) -> None:
        """The same, and end the thread."""
        self.release()
        if self._thread is not None:
            self._thread.join(END_WITHIN_S)

    def _run(self) -> None:
        try:
            with self._lit() as self._granted:
                self._asked.set()
                self._closing.wait()
        except (ImportError, OSError, RuntimeError, ValueError):
            # A screen that may go dark is no reason to disturb a session; the sound check says so.
            self._granted = False
        finally:
            self._asked.set()


@contextmanager
def _desktop() -> Iterator[bool]:
    from wakepy import keep

    with keep.presenting(on_fail="pass") as mode:
        yield bool(mode.active)
