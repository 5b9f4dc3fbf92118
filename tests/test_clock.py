"""The machine's own clock, and the clock of rehearsals."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest

import bench.clock
from bench.clock import SystemClock, rehearsal_clock
from bench.session.stamp import RUN, jump_s, span
from tests.session.bench_sessions import FakeClock

ROOT = Path(__file__).resolve().parent.parent


def test_both_clocks_of_the_machine_go_at_the_same_pace() -> None:
    clock = SystemClock()
    before, until = clock.now(), time.monotonic() + 0.02
    while time.monotonic() < until:
        pass
    after = clock.now()
    assert span(before, after).seconds >= 0.02
    assert not span(before, after).estimated
    assert jump_s(before, after) == 0
    assert after.wall.utcoffset() is not None


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="clock_gettime(2) of Linux")
def test_a_sleeping_machine_is_counted() -> None:
    # clock_gettime(2): CLOCK_BOOTTIME is CLOCK_MONOTONIC with the time that the system was suspended.
    boot_s = time.clock_gettime(time.CLOCK_BOOTTIME)
    assert SystemClock().now().elapsed_s == pytest.approx(boot_s, abs=1.0)


def test_every_run_on_one_boot_has_its_name() -> None:
    here = SystemClock().boot
    there = subprocess.run(
        [sys.executable, "-c", "from bench.clock import SystemClock; print(SystemClock().boot)"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    ).stdout.strip()
    assert here
    assert (here == there) != here.startswith(RUN)


def test_where_boots_have_no_name_one_run_still_goes_by_the_steady_clock(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(bench.clock, "_BOOT_ID", tmp_path / "none")
    clock, other = SystemClock(), SystemClock()
    assert not span(clock.now(), clock.now()).estimated
    assert span(clock.now(), other.now()).estimated


def test_a_rehearsal_goes_on_where_it_was_left_however_long_ago() -> None:
    real = FakeClock()
    clock = rehearsal_clock(real, speed=60.0)
    began = clock.now()
    real.advance(2)
    left = clock.now()
    assert span(began, left).seconds == pytest.approx(120)
    real.reboot(off_s=9000)
    again = rehearsal_clock(real, speed=60.0, start=left)
    real.advance(1)
    assert span(left, again.now()).seconds == pytest.approx(60)
    assert not span(began, again.now()).estimated


def test_setting_the_wall_clock_moves_no_rehearsal() -> None:
    real = FakeClock()
    clock = rehearsal_clock(real, speed=10.0)
    began = clock.now()
    real.advance(3)
    real.wall = real.wall.replace(year=2030)
    assert span(began, clock.now()).seconds == pytest.approx(30)
    assert jump_s(began, clock.now()) == 0
