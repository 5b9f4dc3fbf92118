"""When a session was resumed, as far as its events tell."""

from __future__ import annotations

from dataclasses import replace

from bench.session import drive
from bench.session.resumed import resumptions
from tests.session.bench_sessions import Maker, maker


def after_an_absence(seconds: float) -> Maker:
    """A session whose clock ended while so many seconds too many went by."""
    played = maker(count=4)
    played.walk_to("r1.shell.set")
    played.clock.advance(drive.remaining_s(played.session, played.now()) + seconds)
    due = drive.due(played.session, played.now())
    assert due is not None
    played.happen(due)
    return played


def test_a_session_that_ran_through_was_never_resumed() -> None:
    played = maker(count=4)
    played.walk_to_the_end()
    assert list(resumptions(played.session.job, played.events)) == []


def test_a_clock_that_ended_late_tells_it() -> None:
    for seconds, over in ((40.0, "40 s"), (600.0, "10 min")):
        played = after_an_absence(seconds)
        (told,) = resumptions(played.session.job, played.events)
        assert told.words == f"resumed at: Let it set, over for {over} by then"
        assert told.at == played.events[-1].at
    assert list(resumptions(played.session.job, after_an_absence(3.0).events)) == []


def test_a_rehearsal_ticks_in_larger_steps() -> None:
    played = after_an_absence(40.0)
    assert list(resumptions(played.session.job, played.events, pace=60.0)) == []


def test_another_start_of_the_machine_tells_it() -> None:
    played = maker(count=4)
    played.walk_to("warm-mould")
    *before, last = played.events
    elsewhere = replace(last, at=replace(last.at, boot="another", elapsed_s=5.0))
    (told,) = resumptions(played.session.job, [*before, elsewhere])
    assert told.words == "resumed, after the machine was started anew"
    unknown = replace(last, at=replace(last.at, boot=""))
    assert list(resumptions(played.session.job, [*before, unknown])) == []
