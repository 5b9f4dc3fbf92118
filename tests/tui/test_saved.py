from __future__ import annotations

from dataclasses import replace

from bench.tui.pour.picture import picture
from bench.tui.saved import LATE_S, SavedState, Waiting
from tests.tui.at_the_bench import at, session_of
from tests.tui.pour.pictures import METRIC

WAITS = SavedState(events_waiting=1)


def test_a_write_is_told_in_words_and_only_once_it_is_late() -> None:
    waiting, told = Waiting(), []
    for seconds in (0.0, LATE_S / 2, LATE_S):
        around = replace(METRIC, saved=waiting.seen(WAITS, at(seconds), pace=1.0))
        told.append("not saved yet" in picture(session_of(), at(seconds), around).corner)
    assert told == [False, False, True]


def test_what_is_saved_meanwhile_waits_anew() -> None:
    waiting = Waiting()
    waiting.seen(WAITS, at(0.0), pace=1.0)
    waiting.seen(SavedState(), at(LATE_S), pace=1.0)
    assert not waiting.seen(WAITS, at(LATE_S + 1), pace=1.0).is_late


def test_in_a_rehearsal_the_disk_is_no_faster_than_its_own_clock() -> None:
    waiting = Waiting()
    waiting.seen(WAITS, at(0.0), pace=60.0)
    assert not waiting.seen(WAITS, at(59 * LATE_S), pace=60.0).is_late
    assert waiting.seen(WAITS, at(60 * LATE_S), pace=60.0).is_late


def test_a_disk_that_refuses_is_told_in_a_line_of_its_own() -> None:
    late = replace(WAITS, is_late=True, problem="the disk is full")
    shown = picture(session_of(), at(0.0), replace(METRIC, saved=late))
    assert "not saved" not in shown.corner
    assert any("the disk is full" in notice for notice in shown.notices)
