"""Scripts of sessions that were saved before a script followed its timeline: they load, and go on as they were."""

from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Build
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.events import HeatBegun, StepDone
from bench.session.job import Job
from bench.session.session import Session, State
from bench.session.step import Ending
from bench.session.view import view
from bench.store.decode import encode, restore
from bench.store.event_tables import event_from, event_table
from tests.session.bench_sessions import Maker, job


def older() -> Job:
    """A script without bursts that run by themselves, and whose clocks are each ended by an event of their own."""
    made = job(Build.CORE)
    steps = (step for step in made.script if step.kind not in (StepKind.HEAT_ON, StepKind.WEIGH))
    without = (replace(step, passes=False, burst_s=None, mould_c=None, waits=False) for step in steps)
    return replace(made, script=tuple(without))


def test_such_a_script_is_walked_to_its_end() -> None:
    hands = Maker(session=Session(job=older()))
    hands.walk_to_the_end()
    assert hands.session.state is State.COMPLETE
    assert Session(job=older()).after_all(hands.events) == hands.session


def test_a_clock_that_was_over_when_it_was_reached_still_has_its_own_end() -> None:
    hands = Maker(session=Session(job=older()))
    hands.walk_to("r1.shell.hold")
    hands.clock.advance(3600)
    assert hands.tick()
    assert hands.session.step.kind is StepKind.SET
    event = drive.due(hands.session, hands.now())
    assert event == StepDone(at=hands.now(), step="r1.shell.set", by=Ending.CLOCK)


def test_its_colours_are_shown_at_the_heat() -> None:
    hands = Maker(session=Session(job=older()))
    hands.walk_to("r1.heat.core")
    assert view(hands.session, hands.now()).weigh is not None


def test_a_file_that_knows_none_of_the_newer_keys_is_read() -> None:
    table = encode(older())
    for step in table["script"]:
        for key in ("passes", "burst_s", "mould_c", "waits"):
            step.pop(key, None)
    del table["plan"]["moulds"]
    assert restore(Job, table, file="older.toml") == older()


def begun_on_entering() -> Job:
    """A script whose heatings each begin with the end of the step before, as files without the key have it."""
    table = encode(job(Build.CORE))
    for step in table["script"]:
        step.pop("waits", None)
    return restore(Job, table, file="older.toml")


def test_a_heating_of_such_a_script_begins_when_it_is_entered_and_needs_no_event() -> None:
    made = begun_on_entering()
    assert not any(step.waits for step in made.script)
    hands = Maker(session=Session(job=made))
    hands.walk_to("r1.heat.shell", on=False)
    assert not hands.session.waits_to_begin
    assert hands.session.visit.waits_s == 0
    burst = view(hands.session, hands.now()).burst
    assert burst is not None
    assert burst.heating
    hands.clock.advance(burst.left_s + 5)
    hands.read(155.0)
    burst = view(hands.session, hands.now()).burst
    assert burst is not None
    assert burst.heating, "and a later burst with its reading"


def test_its_events_come_to_the_same_steps_again() -> None:
    made = begun_on_entering()
    hands = Maker(session=Session(job=made))
    hands.walk_to("r1.core.shot")
    hands.clock.advance(900)
    hands.happen(drive.back(hands.session, hands.now()))
    assert not hands.session.waits_to_begin
    hands.walk_to_the_end()
    assert not any(isinstance(event, HeatBegun) for event in hands.events)
    replayed = [event_from(event_table(event), place=0, file="older.toml") for event in hands.events]
    assert Session(job=made).after_all(replayed) == hands.session
