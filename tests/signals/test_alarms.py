"""The watch: what is due is called once, by whoever looks first, and on time though the screen never looks."""

from __future__ import annotations

import threading
from dataclasses import dataclass, field

import pytest

from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import Asked
from bench.session.events import StepDone
from bench.session.session import Session
from bench.session.step import Ending
from bench.signals.alarms import Alarms, caught_up
from bench.signals.attention import ALARM_EVERY_S
from bench.signals.bell import PATTERNS, Bell, Signal
from bench.signals.phrases import Phrase
from tests.tui.at_the_bench import HandClock, at, at_kind, at_step, session_of

WAIT_S = 60.0
"""How long a thread is waited for before a test fails; nothing waits so long when all is well."""


@dataclass
class Room:
    """Everything that is heard at a bench."""

    clock: HandClock
    alarms: Alarms = field(init=False)
    rings: list[float] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)
    rung: threading.Event = field(default_factory=threading.Event)
    poll_s: float = 0.001

    def __post_init__(self) -> None:
        self.alarms = Alarms(
            clock=self.clock,
            bell=Bell(ring=self.ring, later=lambda seconds, _: self.rings.append(seconds)),
            speak=self.speak,
            poll_s=self.poll_s,
        )

    def ring(self) -> None:
        self.rings.append(0.0)
        self.rung.set()

    def speak(self, phrase: Phrase) -> None:
        self.texts.append(phrase.text)

    def signals(self) -> int:
        """How often a pattern began."""
        return self.rings.count(0.0)


def room(now: float) -> Room:
    return Room(clock=HandClock(seconds=now))


def over_scorch() -> tuple[Session, float]:
    session, now = at_step("m1.warm-up1.heat.shell")
    return session.after(drive.reading(session, 212.0, at(now))), now


def test_a_session_that_is_not_seen_or_not_started_is_quiet() -> None:
    quiet = room(0.0)
    quiet.alarms.check()
    assert not quiet.alarms.see(session_of())
    assert (quiet.rings, quiet.texts) == ([], [])


def test_a_step_over_is_called_though_the_screen_never_moves_the_session() -> None:
    session, now = at_step("r1.shell.set")
    here = room(now)
    here.alarms.see(session)
    here.clock.advance(drive.remaining_s(session, at(now)) - 0.2)
    here.alarms.check()
    assert here.signals() == 0
    here.clock.advance(0.21)
    here.alarms.check()
    here.alarms.check()
    assert here.signals() == 1
    assert here.texts[-1] == "Time. Open the mould."


@pytest.mark.parametrize("by", [Ending.CLOCK, Ending.HAND])
def test_the_screen_that_comes_late_calls_nothing_again(by: Ending) -> None:
    session, now = at_step("r1.shell.set")
    here = room(now)
    here.alarms.see(session)
    here.clock.advance(drive.remaining_s(session, at(now)) + 0.1)
    here.alarms.check()
    said = len(here.texts)
    here.clock.advance(3.0)
    moved = session.after(StepDone(at=here.clock.now(), step=session.step.id, by=by))
    assert here.alarms.see(moved), "the screen hears that the maker was called meanwhile"
    assert not here.alarms.see(moved)
    assert here.signals() == 1
    assert len(here.texts) == said


def test_a_step_ended_by_hand_rings_nothing() -> None:
    session, now = at_step("r1.shell.set")
    here = room(now)
    here.alarms.see(session)
    assert not here.alarms.see(session.after(StepDone(at=at(now), step=session.step.id, by=Ending.HAND)))
    assert here.rings == []
    assert here.texts[-1] == "Open the mould."


def test_a_session_opened_again_rings_for_what_ended_while_it_was_closed() -> None:
    session, now = at_step("r1.shell.set")
    late, quiet = room(now + 500.0), room(now + 1.0)
    assert late.alarms.see(session)
    assert not quiet.alarms.see(session)


def test_an_alarm_is_repeated_until_it_is_acknowledged() -> None:
    session, now = over_scorch()
    here = room(now)
    for _ in range(3):
        here.alarms.check() if here.rings else here.alarms.see(session)
        here.clock.advance(ALARM_EVERY_S)
    assert here.signals() == 3
    assert len(here.rings) == 3 * PATTERNS[Signal.STOP_NOW].rings
    read = drive.acknowledge(session, here.clock.now())
    assert read is not None
    here.alarms.see(session.after(read))
    here.clock.advance(10 * ALARM_EVERY_S)
    here.alarms.check()
    assert here.signals() == 3


def test_the_fan_reminder_comes_by_itself() -> None:
    session, now = at_kind(StepKind.RODS_IN)
    here = room(now)
    here.alarms.see(session)
    here.clock.advance(700.0)
    here.alarms.check()
    assert len(here.rings) == PATTERNS[Signal.ATTENTION].rings
    assert here.texts[-1].startswith("Look at the fan")


def test_a_bench_of_either_pace_counts_in_the_makers_time() -> None:
    session, now = over_scorch()
    clock = HandClock(seconds=now)
    begun: list[float] = []
    fast = Alarms(
        clock=clock, bell=Bell(ring=lambda: begun.append(clock.seconds), later=lambda *_: None), pace=60.0
    )
    fast.see(session)
    clock.advance(ALARM_EVERY_S * 59)
    fast.check()
    assert len(begun) == 1
    clock.advance(ALARM_EVERY_S)
    fast.check()
    assert len(begun) == 2


def test_catching_up_stops_where_nothing_is_due() -> None:
    session, now = at_step("r1.shell.hold")
    assert caught_up(session, at(now)) is session
    assert caught_up(session, at(now + 3600.0)).step.kind is StepKind.OPEN


def test_the_thread_calls_while_nobody_else_looks_and_ends_when_told() -> None:
    session, now = at_step("r1.shell.set")
    here = room(now)
    here.alarms.see(session)
    here.alarms.start()
    assert not here.rung.is_set()
    here.clock.advance(500.0)
    assert here.rung.wait(WAIT_S)
    here.alarms.close()
    assert not any(thread.name == "alarms" for thread in threading.enumerate())


def test_two_who_look_at_once_call_once() -> None:
    session, now = at_step("r1.shell.set")
    here = room(now)
    here.alarms.see(session)
    here.clock.advance(500.0)
    lookers = [threading.Thread(target=here.alarms.check) for _ in range(8)]
    for looker in lookers:
        looker.start()
    for looker in lookers:
        looker.join(WAIT_S)
    assert here.signals() == 1
    assert here.texts.count("Time. Open the mould.") == 1


def test_a_burst_that_is_over_meanwhile_rings_attention_once() -> None:
    session, now = at_step("r1.shells-back")
    here = room(now)
    here.alarms.see(session)
    assert here.rings == []
    here.clock.advance(200.0)
    here.alarms.check()
    here.alarms.check()
    assert len(here.rings) == PATTERNS[Signal.ATTENTION].rings


def test_a_question_on_the_screen_is_said() -> None:
    session, now = at_step("r1.shell.set")
    here = room(now)
    here.alarms.see(session)
    here.alarms.see(session, asked=Asked.EARLY)
    assert here.texts[-1].startswith("Go on? It is not over yet: it may be liquid inside.")
