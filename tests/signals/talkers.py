"""Speech programs for tests: small scripts that record what they are given, hang, fail or grumble."""

from __future__ import annotations

import math
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

from bench.signals.program import POLL_S
from bench.signals.voice import Voice

WAIT_S = 60.0

HANG_S = 60.0
"""What waits for nobody takes less on any machine; what waited for one of these programs would take longer."""

OFTEN = math.ceil(2 * HANG_S / POLL_S)
"""Had each of so many calls to wait until a program is looked at once, they would take twice as long as that."""

_RECORDS = """
import math
import sys
text = sys.stdin.read()
with open(sys.argv[1], "a", encoding="utf-8") as record:
    record.write(text)
"""
_HANGS = (
    _RECORDS
    + """
import signal, time
if sys.argv[2:] == ["deaf"]:
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    with open(sys.argv[1], "a", encoding="utf-8") as record:
        record.write("deaf\\n")
time.sleep(600)
"""
)
_FAILS = "import sys; sys.stdin.read(); sys.exit(3)"
_GRUMBLES = """
import math
import sys
sys.stdin.read()
sys.stdout.write("never to the terminal\\n")
sys.stderr.write("ALSA lib pcm.c:2666:(snd_pcm_open_noupdate) Unknown PCM default\\n")
sys.stderr.write(sys.argv[1])
"""


def _voice(code: str, *arguments: str) -> Voice:
    return Voice(argv=(sys.executable, "-I", "-S", "-c", code, *arguments))


def recorder(record: Path) -> Voice:
    """Writes what it is to say at the end of ``record``."""
    return _voice(_RECORDS, str(record))


def hanger(record: Path, *, deaf: bool = False) -> Voice:
    """The same, and then never ends; a deaf one does not listen to SIGTERM either."""
    return _voice(_HANGS, str(record), *(["deaf"] if deaf else []))


def failure() -> Voice:
    """Ends with exit code 3."""
    return _voice(_FAILS)


def grumbler(line: str) -> Voice:
    """Ends well, after some words on the error output."""
    return _voice(_GRUMBLES, line)


def nowhere() -> Voice:
    """A program that is not there."""
    return Voice(argv=("/nowhere/at/all/speak",))


def lines(record: Path) -> list[str]:
    """What was recorded."""
    return record.read_text(encoding="utf-8").splitlines() if record.exists() else []


def wait_for(condition: Callable[[], object]) -> None:
    """Wait until the condition holds."""
    tick = threading.Event()
    end = time.monotonic() + WAIT_S
    while not condition():
        assert time.monotonic() < end, "what was waited for did not come"
        tick.wait(0.002)
