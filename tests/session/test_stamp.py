"""Moments: a sleeping machine, a clock that is set, a restart."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

import pytest

from bench.model.recipe import Build, Part
from bench.session import drive
from bench.session.stamp import Span, Stamp, jump_s, span
from bench.session.view import view
from bench.session.warmth import cup_now
from tests.session.bench_sessions import FakeClock, maker


def after(stamp: Stamp, *, elapsed_s: float, wall_s: float, boot: str | None = None) -> Stamp:
    return Stamp(
        elapsed_s=stamp.elapsed_s + elapsed_s,
        wall=stamp.wall + timedelta(seconds=wall_s),
        boot=stamp.boot if boot is None else boot,
    )


START = FakeClock().now()


def test_within_a_boot_the_elapsed_clock_tells() -> None:
    assert span(START, after(START, elapsed_s=90, wall_s=-3600)) == Span(seconds=90, estimated=False)


def test_across_a_boot_the_wall_clock_tells_and_it_is_an_estimate() -> None:
    later = after(START, elapsed_s=-900, wall_s=120, boot="other")
    assert later.elapsed_s == 100
    assert span(START, later) == Span(seconds=120, estimated=True)


def test_a_boot_without_a_name_is_no_boot_to_go_by() -> None:
    nameless = Stamp(elapsed_s=5, wall=START.wall, boot="")
    assert span(nameless, after(nameless, elapsed_s=50, wall_s=60)) == Span(seconds=60, estimated=True)


def test_time_never_runs_backwards() -> None:
    assert span(START, after(START, elapsed_s=-5, wall_s=0)).seconds == 0
    assert span(START, after(START, elapsed_s=0, wall_s=-500, boot="run of the program")).seconds == 0


def test_a_machine_whose_clock_fell_back_was_off_for_at_least_as_long_as_it_is_on_again() -> None:
    # A small computer without a battery for its clock wakes in the past.
    fallen_back = after(START, elapsed_s=40 - START.elapsed_s, wall_s=-86400, boot="other")
    assert span(START, fallen_back) == Span(seconds=40, estimated=True)


def test_another_run_of_the_program_says_nothing_of_how_long_the_machine_is_on() -> None:
    run = after(START, elapsed_s=0, wall_s=0, boot="run 1")
    assert span(run, after(run, elapsed_s=5, wall_s=9000)) == Span(seconds=5, estimated=False)
    assert span(run, after(run, elapsed_s=5000, wall_s=7, boot="run 2")) == Span(seconds=7, estimated=True)


def test_summer_time_moves_nothing() -> None:
    # In central Europe the clock goes from 02:00 +01:00 to 03:00 +02:00 in March, and back in October.
    winter, summer = timezone(timedelta(hours=1)), timezone(timedelta(hours=2))
    for before, behind in ((winter, summer), (summer, winter)):
        ten_to = datetime(2026, 3, 29, 0, 50, tzinfo=UTC)
        earlier = Stamp(elapsed_s=0, wall=ten_to.astimezone(before), boot="b")
        later = Stamp(elapsed_s=1200, wall=(ten_to + timedelta(minutes=20)).astimezone(behind), boot="b")
        assert jump_s(earlier, later) == 0
        assert span(earlier, later).seconds == 1200
        restarted = replace(later, elapsed_s=30, boot="c")
        assert span(earlier, restarted) == Span(seconds=1200, estimated=True)


@pytest.mark.parametrize(("wall_s", "expected"), [(60, 0), (61.5, 0), (3660, 3600), (-3540, -3600)])
def test_clocks_that_disagree_are_said_to(wall_s: float, expected: float) -> None:
    assert jump_s(START, after(START, elapsed_s=60, wall_s=wall_s)) == pytest.approx(expected)


def test_a_sleeping_laptop_does_not_stop_a_countdown() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("r1.shot.set")
    left = drive.remaining_s(hands.session, hands.now())
    hands.clock.advance(left + 720)
    assert drive.remaining_s(hands.session, hands.now()) == pytest.approx(-720)


def test_setting_the_wall_clock_moves_no_countdown_and_is_said() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("r1.shot.set")
    left = drive.remaining_s(hands.session, hands.now())
    hands.clock.wall += timedelta(hours=1)
    assert drive.remaining_s(hands.session, hands.now()) == pytest.approx(left)
    assert view(hands.session, hands.now()).clock_jump_s == pytest.approx(3600)


def test_after_a_restart_clocks_have_run_on_and_are_said_to_be_estimated() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("r1.shot.set")
    left = drive.remaining_s(hands.session, hands.now())
    before = cup_now(hands.session, Part.BODY, hands.now())
    hands.clock.reboot(off_s=60)
    assert drive.remaining_s(hands.session, hands.now()) == pytest.approx(left - 60)
    seen = view(hands.session, hands.now())
    assert seen.estimated
    cup = cup_now(hands.session, Part.BODY, hands.now())
    assert cup is not None
    assert before is not None
    assert cup.temp_c < before.temp_c - 3
