"""What a session is heard by: the bell stands in where words fail, and closing leaves nothing behind."""

from __future__ import annotations

import os
import sys
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import pytest

from bench.clock import SystemClock
from bench.model.key_names import Action
from bench.model.settings import Settings, Sound, Speech
from bench.session import drive
from bench.session.asking import Asked
from bench.signals import voice as speaking
from bench.signals.hearing import Hearing, open_hearing
from bench.signals.player import Player
from bench.signals.voice import Voice
from tests.signals.talkers import HANG_S, failure, hanger, lines, recorder, wait_for
from tests.tui.at_the_bench import HandClock, at, at_step

NOWHERE = Path(os.devnull) / "sounds"
"""For a session without sounds: writing one there would fail."""


class Rings:
    """Counts the rings of a bell."""

    def __init__(self) -> None:
        self.count = 0

    def ring(self) -> None:
        self.count += 1


@contextmanager
def hearing(
    voice: Voice | None,
    clock: HandClock,
    rings: Rings,
    monkeypatch: pytest.MonkeyPatch,
    keys: Mapping[Action, tuple[str, ...]] | None = None,
) -> Iterator[Hearing]:
    """One opened as the app opens it, in a test that has no terminal. Words stay fresh while the clock stands: on
    a busy machine a program takes longer to fail than the seconds before a step's end are worth saying."""
    monkeypatch.setattr(sys, "__stderr__", None)
    speech = Speech(on=voice is not None, command=voice.argv if voice else ())
    opened = open_hearing(
        Settings(speech=speech, sound=Sound(on=False), keep_awake=False, keys=keys or {}),
        clock=clock,
        real=clock,
        pace=1.0,
        folder=NOWHERE,
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


def test_words_name_the_keys_that_settings_choose(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    session, now = at_step("r1.shell.set")
    record = tmp_path / "record"
    clock = HandClock(seconds=now)
    with hearing(recorder(record), clock, Rings(), monkeypatch, {Action.FORWARD: ("pagedown", "f9")}) as opened:
        opened.alarms.see(session, asked=Asked.EARLY)
        wait_for(lambda: any("Press page down or the pedal again to go on." in line for line in lines(record)))


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
    monkeypatch.setattr(speaking, "START_S", 600.0)
    with hearing(hanger(record, deaf=deaf), HandClock(seconds=now), Rings(), monkeypatch) as opened:
        opened.alarms.see(session)
        wait_for(lambda: len(lines(record)) == 1 + deaf)
        began = time.monotonic()
        opened.close()
        assert time.monotonic() - began < HANG_S
    wait_for(lambda: not {thread.name for thread in threading.enumerate()} & {"alarms", "speech"})


def test_a_screen_that_nobody_sits_at_is_silent(tmp_path: Path) -> None:
    session, now = at_step("r1.shell.set")
    record = tmp_path / "record"
    settings = Settings(speech=Speech(command=recorder(record).argv))
    opened = open_hearing(
        settings,
        clock=HandClock(seconds=now),
        real=SystemClock(),
        pace=1.0,
        folder=tmp_path / "sounds",
        ring=lambda: None,
        silent=True,
    )
    opened.alarms.see(session)
    opened.close()
    assert lines(record) == []
    assert opened.device is None


_PLAYS = "import sys; open(sys.argv[1], 'a').write(sys.argv[-1] + '\\n')"


class Desktop:
    """Notes what it is asked; grants everything."""

    def __init__(self) -> None:
        self.asked: list[str] = []

    def start(self) -> None:
        self.asked.append("lit")

    def release(self) -> None:
        self.asked.append("dark")

    def close(self) -> None:
        self.asked.append("closed")


def test_a_session_is_heard_by_the_machines_player_and_its_words_follow(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The player and the voice write into one record: the sound stands in it before the words."""
    session, now = at_step("r1.shell.set")
    record = tmp_path / "record"
    player = Player(argv=(sys.executable, "-I", "-S", "-c", _PLAYS, str(record)))
    monkeypatch.setattr("bench.signals.hearing.find_player", lambda: player)
    monkeypatch.setattr(sys, "__stderr__", None)
    clock = HandClock(seconds=now)
    settings = Settings(keep_awake=False, speech=Speech(command=recorder(record).argv))
    opened = open_hearing(
        settings,
        clock=clock,
        real=SystemClock(),
        pace=1.0,
        folder=tmp_path / "sounds",
        ring=lambda: None,
        silent=False,
    )
    try:
        opened.alarms.see(session)
        wait_for(lambda: len(lines(record)) == 2)
        clock.advance(drive.remaining_s(session, at(now)) + 0.01)
        wait_for(lambda: len(lines(record)) >= 4)
    finally:
        opened.close()
    sound, words = lines(record)[2:4]
    assert Path(sound).name.startswith("step-over-")
    assert Path(sound).parent == tmp_path / "sounds"
    assert words.startswith("Time. Open the mould")


@pytest.mark.parametrize("keep_awake", [True, False])
def test_the_screen_is_held_lit_while_a_session_runs_if_settings_say_so(
    keep_awake: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    desktop = Desktop()
    monkeypatch.setattr("bench.signals.hearing.Awake", lambda: desktop)
    monkeypatch.setattr(sys, "__stderr__", None)
    settings = Settings(keep_awake=keep_awake, sound=Sound(on=False), speech=Speech(on=False))
    opened = open_hearing(
        settings,
        clock=HandClock(),
        real=SystemClock(),
        pace=1.0,
        folder=NOWHERE,
        ring=lambda: None,
        silent=False,
    )
    opened.rest()
    opened.close()
    assert desktop.asked == (["lit", "dark", "closed"] if keep_awake else [])
