"""The screen stays lit while a session runs: with a fake desktop, and with one that is not there."""

from __future__ import annotations

import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from bench.signals.awake import Awake
from tests.signals.talkers import HANG_S, wait_for


class Desktop:
    """Notes whether the screen is held lit."""

    def __init__(self, *, grants: bool = True, error: Exception | None = None) -> None:
        self.grants, self.error = grants, error
        self.holds = False
        self.asked = 0

    @contextmanager
    def lit(self) -> Iterator[bool]:
        self.asked += 1
        if self.error is not None:
            raise self.error
        self.holds = self.grants
        yield self.grants
        self.holds = False


def test_the_screen_is_held_lit_from_start_to_close() -> None:
    desktop = Desktop()
    awake = Awake(desktop.lit)
    assert desktop.asked == 0
    awake.start()
    awake.start()
    assert awake.granted(60.0)
    assert (desktop.holds, desktop.asked) == (True, 1)
    awake.close()
    assert not desktop.holds
    assert not [thread for thread in threading.enumerate() if thread.name == "awake"]
    awake.close()


@pytest.mark.parametrize(
    "desktop", [Desktop(grants=False), Desktop(error=ImportError("no wakepy")), Desktop(error=OSError("no bus"))]
)
def test_a_desktop_that_refuses_disturbs_nobody(desktop: Desktop) -> None:
    awake = Awake(desktop.lit)
    awake.start()
    assert not awake.granted(60.0)
    awake.close()
    assert desktop.asked == 1


def test_a_desktop_that_does_not_answer_holds_nothing_up() -> None:
    answered = threading.Event()

    @contextmanager
    def lit() -> Iterator[bool]:
        answered.wait(600.0)
        yield True

    awake = Awake(lit)
    began = time.monotonic()
    awake.start()
    assert not awake.granted(0.01)
    awake.close()
    assert time.monotonic() - began < HANG_S
    answered.set()
    wait_for(lambda: not [thread for thread in threading.enumerate() if thread.name == "awake"])


def test_the_real_library_asks_quietly_where_there_is_no_desktop() -> None:
    """In a process of its own, without a session bus: nothing granted, nothing raised, nothing printed."""
    code = "from bench.signals.awake import Awake; a = Awake(); a.start(); print(a.granted(30.0)); a.close()"
    environment = {"PATH": "/nowhere", "DBUS_SESSION_BUS_ADDRESS": "unix:path=/nowhere/at/all"}
    ran = subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env=environment if sys.platform == "linux" else None,
    )
    assert ran.stderr == ""
    assert ran.stdout.strip() in ({"False"} if sys.platform == "linux" else {"True", "False"})


def test_the_library_is_loaded_by_the_thread_that_needs_it() -> None:
    code = "import sys, bench.signals.hearing; print('wakepy' in sys.modules)"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "False"
