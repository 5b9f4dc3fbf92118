"""The bell of a real pseudo-terminal: it rings, and a terminal that nobody reads delays nobody."""

from __future__ import annotations

import os
import pty
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import TextIO

import pytest

from bench.signals.terminal import TerminalBell, ring_later


@pytest.fixture
def ends() -> Iterator[tuple[int, TextIO]]:
    """What a terminal shows, and the program's end of it."""
    shown, device = pty.openpty()
    with os.fdopen(device, "w", encoding="utf-8") as stream:
        yield shown, stream
    os.close(shown)


def test_it_rings_the_terminal_of_the_stream(ends: tuple[int, TextIO]) -> None:
    shown, stream = ends
    bell = TerminalBell(stream)
    bell.ring()
    assert os.read(shown, 10) == b"\a"
    bell.close()
    bell.ring()
    bell.close()
    os.set_blocking(shown, False)
    with pytest.raises(BlockingIOError):
        os.read(shown, 10)


def test_a_terminal_that_does_not_read_delays_nobody(ends: tuple[int, TextIO]) -> None:
    _, stream = ends
    bell = TerminalBell(stream)

    def ring_and_ring() -> None:
        for _ in range(100_000):
            bell.ring()

    rung = threading.Thread(target=ring_and_ring, daemon=True)
    rung.start()
    rung.join(60.0)
    assert not rung.is_alive()
    assert os.get_blocking(stream.fileno()), "the screen's own end still waits for the terminal"
    bell.close()


def test_what_is_no_terminal_is_refused() -> None:
    with Path(os.devnull).open("w", encoding="utf-8") as stream, pytest.raises(OSError, match="ioctl"):
        TerminalBell(stream)


def test_a_later_ring_comes_by_itself() -> None:
    rung = threading.Event()
    ring_later(0.0, rung.set)
    assert rung.wait(60.0)
