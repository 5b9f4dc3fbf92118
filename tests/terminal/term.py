"""The real program on a real pseudo-terminal, and what a person would see on it."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Sequence
from pathlib import Path

import pyte

from bench.tui.pour.beat import MEANWHILE
from bench.tui.screens.pour import HELD_KEY
from bench.tui.widgets.blocks import drawings

ROOT = Path(__file__).resolve().parents[2]
KEYS = {
    "enter": b"\r",
    "space": b" ",
    "escape": b"\x1b",
    "escape as a code": b"\x1b[27u",
    "ctrl+q": b"\x11",
    "backspace": b"\x7f",
    "down": b"\x1b[B",
}

"""An escape as kitty's keyboard protocol sends it needs no wait to know that no more of it comes."""

_PRIVATE = re.compile(rb"\x1b\[[<>=][0-9;]*[a-zA-Z]|\x1b\[\?[0-9;]*\$p|\x1b\[\?[0-9;]*u")
"""Sequences that pyte 0.8 does not know and would print: kitty's keyboard protocol, questions about modes."""

WITHIN_S = 120.0
"""How long anything is waited for: no machine is so slow that this is reached when all is well."""

REFUSALS = (MEANWHILE, HELD_KEY)
REFUSED_S = 1.0
"""After a press that did not count, until the next is made."""

RESTORED = b"\x1b[?1049l"
"""What a program sends when it leaves the alternate screen (xterm control sequences, private mode 1049)."""


class Term:
    """One run of ``pourbench``. It is a session leader of its own; ``end`` kills whatever is left of its group."""

    def __init__(
        self, home: Path, argv: Sequence[str] = (), *, columns: int = 80, rows: int = 24, code: str = ""
    ) -> None:
        """``code`` is run by the interpreter in the place of the module."""
        self.screen = pyte.Screen(columns, rows)
        self.stream = pyte.ByteStream(self.screen)
        self.sent = b""
        self._text: str | None = None
        self.code: int | None = None
        environment = {
            **os.environ,
            "TERM": "xterm-256color",
            "COLORTERM": "truecolor",
            "LANG": "C.UTF-8",
            "POURBENCH_HOME": str(home),
            "HOME": str(home),
        }
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
            os.chdir(ROOT)
            program = ["-c", code] if code else ["-m", "bench"]
            os.execve(sys.executable, [sys.executable, *program, *argv], environment)

    @property
    def text(self) -> str:
        """The screen as text."""
        if self._text is None:
            self._text = "\n".join(line.rstrip() for line in self.screen.display)
        return self._text

    def draws(self, text: str) -> bool:
        """Whether this text stands on the screen in large figures of any size."""
        rows = self.text.splitlines()
        for drawing in drawings(text, self.screen.columns):
            lines = [line.rstrip() for line in drawing.lines]
            for top in range(len(rows) - len(lines) + 1):
                at = rows[top].find(lines[0])
                if at >= 0 and all(rows[top + down][at:].startswith(line) for down, line in enumerate(lines)):
                    return True
        return False

    def pump(self, seconds: float = 0.02) -> None:
        """Take in what the program has sent."""
        ready, _, _ = select.select([self.fd], [], [], seconds)
        if not ready:
            return
        try:
            data = os.read(self.fd, 65536)
        except OSError:
            return
        self.take(data)

    def take(self, data: bytes) -> None:
        """Show what was read."""
        self.sent += data
        self._text = None
        self.stream.feed(_PRIVATE.sub(b"", data))

    def rest(self, seconds: float) -> None:
        """Let time pass, taking in what is sent."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            self.pump()

    def shows(self, *words: str) -> bool:
        """Whether all of these stand on the screen."""
        return all(word in self.text for word in words)

    def see(self, *words: str, within_s: float = WITHIN_S) -> None:
        """Wait until all of these stand on the screen."""
        end = time.monotonic() + within_s
        while not self.shows(*words):
            assert time.monotonic() < end, f"not seen: {[w for w in words if w not in self.text]}\n{self.text}"
            self.pump()

    def press(self, *keys: str) -> None:
        """Press keys, by name or as characters."""
        for key in keys:
            os.write(self.fd, KEYS.get(key, key.encode()))

    def press_for(self, key: str, *words: str) -> None:
        """Press a key, and wait until these words stand on the screen. It is pressed again only if the screen says
        that it does not count: a machine may be so busy that the program takes itself for stopped."""
        end = time.monotonic() + WITHIN_S
        self.press(key)
        while not self.shows(*words):
            assert time.monotonic() < end, f"{key} does not bring {words}\n{self.text}"
            self.pump()
            if any(said in self.text for said in REFUSALS):
                self.rest(REFUSED_S)
                if not self.shows(*words):
                    self.press(key)

    def kill(self, number: int = signal.SIGKILL) -> int:
        """Send a signal and wait for the end; the exit code, or minus the signal that ended it."""
        os.kill(self.pid, number)
        return self.wait()

    def wait(self, within_s: float = WITHIN_S) -> int:
        """Wait for the end; the exit code, or minus the signal that ended it."""
        end = time.monotonic() + within_s
        while self.code is None:
            assert time.monotonic() < end, f"still running\n{self.text}"
            self.pump()
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                self.code = os.waitstatus_to_exitcode(status)
                self.pump()
        return self.code

    def end(self) -> None:
        """Leave nothing behind, whatever happened."""
        if self.code is None:
            try:
                os.killpg(self.pid, signal.SIGKILL)
            except ProcessLookupError:
                os.kill(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)
            self.code = -signal.SIGKILL
        os.close(self.fd)
