"""When a session was resumed, as far as its events tell."""

from __future__ import annotations

from dataclasses import replace

from bench.session import drive
from bench.session.events import Noted
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


def left(seconds: float) -> Maker:
    """A session that was left while its shells set, and gone on with so much later."""
    played = maker(count=4)
    played.walk_to("r1.shell.set")
    leaving = drive.left(played.session, played.now())
    assert leaving is not None
    played.happen(leaving)
    played.clock.advance(seconds)
    return played


def test_who_left_is_told_how_long_it_was_until_the_next_entry() -> None:
    played = left(720)
    played.happen(Noted(at=played.now(), text="tea"))
    (told,) = resumptions(played.session.job, played.events)
    assert told.words == "back: the first entry 12 min after leaving"
    assert told.at == played.events[-1].at


def test_a_clock_that_ran_out_meanwhile_is_told_with_it() -> None:
    played = left(0)
    played.clock.advance(drive.remaining_s(played.session, played.now()) + 600)
    due = drive.due(played.session, played.now())
    assert due is not None
    played.happen(due)
    (told,) = resumptions(played.session.job, played.events)
    assert told.words.endswith(" after leaving, Let it set over for 10 min by then")


def test_a_restart_while_it_was_left_makes_it_an_estimate() -> None:
    played = left(0)
    played.clock.reboot(1800)
    played.happen(Noted(at=played.now(), text="power cut"))
    (told,) = resumptions(played.session.job, played.events)
    assert told.words == "back: the first entry about 30 min after leaving, the machine was started anew meanwhile"


def test_what_is_not_begun_or_is_over_is_not_left() -> None:
    played = maker(count=4)
    assert drive.left(played.session, played.now()) is None
    played.walk_to_the_end()
    assert drive.left(played.session, played.now()) is None
