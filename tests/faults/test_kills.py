"""The power goes, on the real program: killed in the middle of whatever it does, it loses nothing it had saved."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.killing import killed

SEEDS = range(10)
"""Ten times ten kills: each seed walks its own way."""


def test_killed_in_the_middle_of_whatever_it_does_it_goes_on_from_there(tmp_path: Path) -> None:
    killed(tmp_path, times=3, seed=2026, steps=0)


@pytest.mark.nightly
@pytest.mark.parametrize("seed", SEEDS)
def test_killed_a_hundred_times_it_goes_on_from_there(seed: int, tmp_path: Path) -> None:
    killed(tmp_path, times=10, seed=seed, steps=3)
