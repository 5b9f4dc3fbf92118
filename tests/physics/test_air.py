"""Minutes to clear a room against the published table."""

from __future__ import annotations

import math

import pytest

from bench.errors import BenchError
from bench.physics.air import air_changes_per_h, minutes_to_clear
from tests.physics.figures import rows


@pytest.mark.parametrize("row", rows("air_table.tsv"), ids=lambda row: f"ACH {row['ach']}")
def test_all_78_numbers_of_the_table(row: dict[str, str]) -> None:
    # CDC, MMWR 43 (RR-13), 1994, table S3-1.
    for key, share_left in (("min_90", 0.1), ("min_99", 0.01), ("min_99_9", 0.001)):
        assert round(minutes_to_clear(ach=float(row["ach"]), share_left=share_left)) == int(row[key])


def test_a_poorly_mixed_room_takes_as_many_times_as_long() -> None:
    mixed, poor = (minutes_to_clear(ach=10.0, share_left=0.01, mixing=mixing) for mixing in (1.0, 3.0))
    assert poor == pytest.approx(3 * mixed)


def test_air_changes_are_flow_over_volume() -> None:
    assert air_changes_per_h(room_m3=30.0, fan_m3_h=300.0) == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("ach", "share_left", "mixing"), [(0.0, 0.01, 1.0), (10.0, 0.0, 1.0), (10.0, 1.5, 1.0), (10.0, 0.01, 0.5)]
)
def test_what_never_clears_is_refused(ach: float, share_left: float, mixing: float) -> None:
    with pytest.raises(BenchError):
        minutes_to_clear(ach=ach, share_left=share_left, mixing=mixing)


def test_the_share_falls_as_one_lump_of_air_replaced() -> None:
    minutes = minutes_to_clear(ach=6.0, share_left=0.25)
    assert math.exp(-6.0 / 60 * minutes) == pytest.approx(0.25)
