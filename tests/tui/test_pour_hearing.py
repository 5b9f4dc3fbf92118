"""The pour screen and its calls: a stuck screen silences nothing, and a stuck voice delays no key."""

from __future__ import annotations

import asyncio
import statistics
import threading
import time
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual import events

from bench.model.settings import Settings
from bench.session import drive
from bench.session.session import Session
from bench.signals import program
from bench.signals.alarms import Alarms
from bench.signals.bell import Bell, Caller, Signal
from bench.signals.phrases import Phrase
from bench.signals.player import Player
from bench.signals.sounds import Sounds
from bench.signals.speech import Speaker
from bench.signals.voice import Voice
from bench.tui.pour.entry import asked_by
from bench.tui.saved import SavedState
from bench.tui.screens.pour import PourScreen
from bench.tui.widgets.board import Board
from tests.signals.talkers import hanger, lines, wait_for
from tests.tui.at_the_bench import HandClock, at, at_step
from tests.tui.running import until
from tests.tui.test_pour import Harness

SILENT = Bell(ring=lambda: None, later=lambda *_: None)
LOOKED_AT_EVERY_S = 0.5
"""How often a program that hangs is looked at here: so much longer a key would take that waits for one."""

PRESSES = 12


@asynccontextmanager
async def pouring(session: Session, clock: HandClock, alarms: Alarms) -> AsyncIterator[PourScreen]:
    screen = PourScreen(
        session=session,
        clock=clock,
        keep=lambda _event: None,
        saved=SavedState,
        settings=Settings(),
        alarms=alarms,
        live=False,
    )
    async with Harness(screen).run_test(size=(80, 24)):
        await until(lambda: screen.is_mounted and screen.query_one(Board).size.width)
        yield screen


async def test_a_question_that_the_key_asked_is_said() -> None:
    session, now = at_step("r1.shell.set")
    clock = HandClock(seconds=now + 10)
    said: list[str] = []
    alarms = Alarms(clock=clock, bell=SILENT, speak=lambda phrase: said.append(phrase.text))
    async with pouring(session, clock, alarms) as screen:
        screen.on_key(events.Key("space", " "))
        await until(lambda: asked_by(screen.begun.entry) is not None)
        screen.tick()
        assert said[-1].startswith("Go on? It is not over yet")


async def test_bell_and_words_come_though_the_screen_is_stuck() -> None:
    session, now = at_step("r1.shell.set")
    clock = HandClock(seconds=now)
    rung = threading.Event()
    said: list[str] = []
    alarms = Alarms(
        clock=clock,
        bell=Bell(ring=rung.set, later=lambda *_: None),
        speak=lambda phrase: said.append(phrase.text),
        poll_s=0.005,
    )
    alarms.start()
    async with pouring(session, clock, alarms) as screen:
        clock.advance(drive.remaining_s(session, at(now)) + 0.01)
        # The loop stands still in this handler until the alarm has come.
        assert rung.wait(60.0)
        assert screen.session is session, "the screen had no part in it"
        screen.tick()
        assert screen.session.step.id == "r1.shell.open"
    assert said[-1] == "Time. Open the mould."
    assert said.count("Time. Open the mould.") == 1
    assert not [thread for thread in threading.enumerate() if thread.name == "alarms"], "they end with the screen"


async def key_times(voice: Voice | None, caller: Caller = SILENT) -> list[float]:
    """How long each of some keys takes to be handled, every one of them with words to say."""
    session, now = at_step("r1.rods-out")
    clock = HandClock(seconds=now)
    speaker = Speaker(voice, clock=time.monotonic)
    alarms = Alarms(clock=clock, bell=caller, speak=speaker.say)
    took: list[float] = []
    async with pouring(session, clock, alarms) as screen:
        for number in range(PRESSES):
            clock.advance(5.0)
            before = screen.session
            caller.sound(Signal.STEP_OVER)
            event = events.Key("b" if number % 2 else "space", None)
            event.time = 100.0 + number
            began = time.perf_counter()
            screen.app.post_message(event)
            while screen.session is before:
                await asyncio.sleep(0)
            took.append(time.perf_counter() - began)
    speaker.close()
    return took


@pytest.fixture
def seldom_looked_at(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Programs are looked at seldom, so that a key which waited for one would tell on any machine."""
    monkeypatch.setattr(program, "POLL_S", LOOKED_AT_EVERY_S)
    yield
    wait_for(lambda: not {thread.name for thread in threading.enumerate()} & {"speech", "sounds"})


@pytest.mark.usefixtures("seldom_looked_at")
async def test_a_voice_that_hangs_delays_no_key(tmp_path: Path) -> None:
    """Medians, for the machine does other things as well."""
    record = tmp_path / "record"
    without = statistics.median(await key_times(None))
    hanging = statistics.median(await key_times(hanger(record, deaf=True)))
    assert hanging - without < LOOKED_AT_EVERY_S
    wait_for(lambda: lines(record))


@pytest.mark.usefixtures("seldom_looked_at")
async def test_a_player_that_hangs_delays_no_key(tmp_path: Path) -> None:
    """A sound asked for before every key, from the screen's own thread."""
    without = statistics.median(await key_times(None))
    player = Player(argv=hanger(tmp_path / "record").argv)
    sounds = Sounds(player, bell=SILENT, folder=tmp_path)
    hanging = statistics.median(await key_times(None, sounds))
    sounds.close()
    assert hanging - without < LOOKED_AT_EVERY_S


async def test_what_the_screen_says_is_said_once_whoever_sees_it_first() -> None:
    session, now = at_step("r1.rods-out")
    clock = HandClock(seconds=now)
    said: list[Phrase] = []
    alarms = Alarms(clock=clock, bell=Bell(ring=lambda: None, later=lambda *_: None), speak=said.append)
    async with pouring(session, clock, alarms) as screen:
        for _ in range(3):
            screen.tick()
            alarms.check()
    assert [phrase.text for phrase in said] == ["Pull the rods."]
