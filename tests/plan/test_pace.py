"""Hands, by the pace of the test bench: four cavities, four rods."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.plan import pace
from tests.plan.bench_records import MOULD, RODS, STATION

HANDS = STATION.pace


def test_every_rod_and_every_cavity_takes_its_time() -> None:
    two_rods = replace(MOULD, rods=replace(RODS, count=2))
    assert pace.rods_in_s(two_rods, HANDS) == pytest.approx(2 * 12.0)
    assert pace.rods_out_s(two_rods, HANDS) == pytest.approx(2 * 8.0)
    assert pace.open_s(two_rods, HANDS) == pytest.approx(4 * 5.0)
    assert pace.shells_back_s(two_rods, HANDS) == pytest.approx(4 * 10.0)
    assert pace.trim_s(3, HANDS) == pytest.approx(15.0)
    assert pace.lay_out_s(24, HANDS) == pytest.approx(144.0)


def test_a_mould_without_rods_has_none_to_seat() -> None:
    bare = replace(MOULD, rods=None)
    assert pace.rods_in_s(bare, HANDS) == pace.rods_out_s(bare, HANDS) == 0.0


def test_shells_are_out_from_the_end_of_their_set_to_the_closed_mould() -> None:
    # open 20, rods out 32, look 20, shells back 40; four tails more when cut.
    assert pace.shell_out_s(MOULD, 0, HANDS) == pytest.approx(112.0)
    assert pace.shell_out_s(MOULD, 4, HANDS) == pytest.approx(132.0)
