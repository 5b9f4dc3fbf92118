"""What a session is heard by: the bell stands in where words fail, and closing leaves nothing behind."""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from bench.clock import SystemClock
from bench.model.settings import Settings, Sound, Speech
from bench.session import drive
from bench.signals.hearing import Hearing, open_hearing
from bench.signals.voice import Voice
from tests.signals.talkers import failure, hanger, lines, recorder, wait_for
from tests.tui.at_the_bench import HandClock, at, at_step

CLOSED_WITHIN_S = 0.6


class Rings:
    """Counts the rings of a bell."""

    def __init__(self) -> None:
        self.count = 0

    def ring(self) -> None:
        self.count += 1


@contextmanager
def hearing(
    voice: Voice | None, clock: HandClock, rings: Rings, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Hearing]:
    """One opened as the app opens it, in a test that has no terminal."""
    monkeypatch.setattr(sys, "__stderr__", None)
    speech = Speech(on=voice is not None, command=voice.argv if voice else ())
    opened = open_hearing(
        Settings(speech=speech, sound=Sound(on=False), keep_awake=False),
        clock=clock,
        real=SystemClock(),
        pace=1.0,
        ring=rings.ring,
        silent=False,
    )
    try:
        yield opened
    finally:
        opened.close()


def test_words_come_from_the_watch_by_the_users_own_program(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session, now = at_step("r1.shell.set")
    record = tmp_path / "record"
    clock = HandClock(seconds=now)
    with hearing(recorder(record), clock, Rings(), monkeypatch) as opened:
        opened.alarms.see(session)
        wait_for(lambda: len(lines(record)) == 2)
    assert lines(record)[1].startswith("Meanwhile")


@pytest.mark.parametrize("voice", [None, failure()])
def test_the_bell_stands_in_where_words_fail(voice: Voice | None, monkeypatch: pytest.MonkeyPatch) -> None:
    session, now = at_step("r1.shell.set")
    clock, rings = HandClock(seconds=now), Rings()
    with hearing(voice, clock, rings, monkeypatch) as opened:
        opened.alarms.see(session)
        clock.advance(drive.remaining_s(session, at(now)) - 9.9)
        wait_for(lambda: rings.count == 2)


@pytest.mark.parametrize("deaf", [False, True])
def test_closing_is_quick_and_clean(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, deaf: bool) -> None:
    session, now = at_step("r1.shell.set")
    record = tmp_path / "record"
    with hearing(hanger(record, deaf=deaf), HandClock(seconds=now), Rings(), monkeypatch) as opened:
        opened.alarms.see(session)
        wait_for(lambda: len(lines(record)) == 1 + deaf)
        began = time.monotonic()
        opened.close()
        assert time.monotonic() - began < CLOSED_WITHIN_S
    assert {thread.name for thread in threading.enumerate()} & {"alarms", "speech"} == set()


def test_a_screen_that_nobody_sits_at_is_silent(tmp_path: Path) -> None:
    session, now = at_step("r1.shell.set")
    record = tmp_path / "record"
    settings = Settings(speech=Speech(command=recorder(record).argv))
    opened = open_hearing(
        settings, clock=HandClock(seconds=now), real=SystemClock(), pace=1.0, ring=lambda: None, silent=True
    )
    opened.alarms.see(session)
    opened.close()
    assert lines(record) == []
    assert opened.device is None
