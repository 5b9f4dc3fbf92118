"""An app that a signal, a lost terminal or a bad byte cannot leave hanging or hiding what happened.

What Textual does by itself: SIGTERM and SIGHUP end the program without restoring the terminal, a hung-up terminal
is read for ever, undecodable input ends the app as if all were well, an exception prints pages of local variables.
"""

from __future__ import annotations

import asyncio
import os
import signal
import sys
import threading
from functools import partial
from io import TextIOWrapper
from typing import TYPE_CHECKING, ClassVar

from textual.app import App
from textual.binding import Binding, BindingType
from textual.filter import Monochrome
from textual.worker import WorkerFailed

from bench.tui import theme
from bench.tui.unbrightened import Unbrightened
from bench.tui.uncoloured import Uncoloured

if TYPE_CHECKING:
    from collections.abc import Sequence
    from types import FrameType

    from textual.driver import Driver
    from textual.filter import LineFilter

HARD_EXIT_AFTER_S = 4.0
"""Writes to a dead terminal can block for ever; after this the program ends anyway. A slow disk is waited for less
long than that."""

LOOK_FOR_TERMINAL_S = 2.0
"""How often it is asked whether the terminal is still there."""

PAINT_ANEW_S = 10.0
"""How often everything is painted: another program may have written over the window."""

HUNG_UP = 129


class GuardedApp(App[int]):
    """``crash`` is the exception that ended it, ``stop_code`` the exit code that a signal asked for."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+c", "quit", "Leave", show=False, system=True)]

    crash: Exception | None = None
    stop_code: int | None = None
    _fallback: threading.Timer | None = None
    _uncoloured = Uncoloured()
    _unbrightened = Unbrightened()

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Textual's, with no colour at all in the place of its greys where NO_COLOR asks for none; where there are
        sixteen colours, bold changes none of them."""
        filters = super().get_line_filters()
        if self.no_color:
            return [self._uncoloured if isinstance(each, Monochrome) else each for each in filters]
        return [*filters, self._unbrightened] if theme.is_of_few(self) else filters

    def on_mount(self) -> None:
        if self.is_headless:
            return
        loop = asyncio.get_running_loop()
        threading.excepthook = self._thread_failed
        for name in ("SIGTERM", "SIGHUP", "SIGINT"):
            # Windows has no SIGHUP: closing the window gives no notice, so nothing may depend on it.
            number = getattr(signal, name, None)
            if number is not None:
                signal.signal(number, partial(self._asked_to_leave, loop))
        self.set_interval(PAINT_ANEW_S, self.paint_anew)
        if os.name == "posix":
            self.set_interval(LOOK_FOR_TERMINAL_S, self.look_for_terminal)

    def on_resize(self) -> None:
        """A window that was small and large again before anybody looked has its old size, and has lost what stood
        on it."""
        self.paint_anew()

    def paint_anew(self) -> None:
        """Paint everything, changed or not."""
        self.screen.refresh()

    def _asked_to_leave(self, loop: asyncio.AbstractEventLoop, number: int, _frame: FrameType | None) -> None:
        # The loop's own handlers would wait for a loop that waits for a terminal which does not read.
        self.stop_code = 128 + number
        self._end_anyway(self.stop_code)
        if not loop.is_closed():
            loop.call_soon_threadsafe(self.leave, self.stop_code)

    def look_for_terminal(self) -> None:
        """End when the terminal was hung up and nobody said so."""
        try:
            os.tcgetpgrp(sys.__stdin__.fileno() if sys.__stdin__ else 0)
        except OSError:
            self.leave(HUNG_UP)

    def leave(self, code: int) -> None:
        """End at once, with the terminal restored if it still answers."""
        self.stop_code = code
        self._end_anyway(code)
        self.exit(code)

    def _end_anyway(self, code: int) -> None:
        if self._fallback is None:
            self._fallback = threading.Timer(HARD_EXIT_AFTER_S, os._exit, (code,))
            self._fallback.daemon = True
            self._fallback.start()

    def _thread_failed(self, failed: threading.ExceptHookArgs) -> None:
        """A thread that dies unheard may be the one that calls the maker: the screen ends, to be opened again."""
        if isinstance(failed.exc_value, Exception):
            self.call_later(self._fail, failed.exc_value)

    def _fail(self, error: Exception) -> None:
        raise error

    def _handle_exception(self, error: Exception) -> None:
        cause = error.error if isinstance(error, WorkerFailed) else error
        self.crash = self.crash or (cause if isinstance(cause, Exception) else error)
        super()._handle_exception(error)

    def _print_error_renderables(self) -> None:
        """``bench.__main__`` says it in one sentence instead."""


def ready_the_terminal() -> None:
    """For before an app runs: a locale without its characters does not end it, and its window is as large as the
    terminal itself says.

    COLUMNS and LINES in the environment would be believed instead: they are those of another window, and stay.
    """
    for stream in (sys.__stdout__, sys.__stderr__):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
    for name in ("COLUMNS", "LINES"):
        os.environ.pop(name, None)


def steady_driver() -> type[Driver] | None:
    """A driver whose input survives bytes that are not UTF-8 and key codes that no terminal has.

    None leaves the choice to Textual, on Windows.
    """
    if sys.platform == "win32":
        return None
    from textual.drivers.linux_driver import LinuxDriver

    class SteadyDriver(LinuxDriver):
        """Starts reading anew after an undecodable read; what was in it is lost, the session is not."""

        def run_input_thread(self) -> None:
            while not self.exit_event.is_set():
                try:
                    super().run_input_thread()
                except (ValueError, OverflowError):
                    self.exit_event.wait(0.01)
                else:
                    return

    return SteadyDriver
