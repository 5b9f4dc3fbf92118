"""Readings and estimates put together."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.session.weighing import Weighed, weighed


def test_two_that_are_known_alike_meet_half_way() -> None:
    """Of two equal variances the mean has half of one: 1.5 / sqrt 2."""
    assert weighed(Weighed(170.0, 1.5), 173.0) == pytest.approx((171.5, 1.0607), abs=1e-4)


def test_the_worse_known_counts_for_less() -> None:
    sure, unsure = weighed(Weighed(170.0, 0.5), 172.0), weighed(Weighed(170.0, 10.0), 172.0)
    assert sure.temp_c < 170.5
    assert unsure.temp_c == pytest.approx(172.0, abs=0.1)


def test_a_reading_beyond_three_spreads_counts_alone() -> None:
    assert weighed(Weighed(170.0, 0.5), 180.0) == (180.0, 1.5)


@given(estimate_c=st.floats(20, 200), spread_k=st.floats(0, 40), read_c=st.floats(20, 200))
def test_it_lies_between_both_and_is_never_worse_known(estimate_c: float, spread_k: float, read_c: float) -> None:
    now = weighed(Weighed(estimate_c, spread_k), read_c)
    assert min(estimate_c, read_c) - 1e-9 <= now.temp_c <= max(estimate_c, read_c) + 1e-9
    assert now.spread_k <= 1.5


def test_its_error_is_what_its_spread_says() -> None:
    """Over 4000 normal draws the root mean square of the error is the spread, 1.2 for 2.0 and 1.5."""
    rng = random.Random(7)
    misses = [
        weighed(Weighed(rng.gauss(170.0, 2.0), 2.0), rng.gauss(170.0, 1.5)).temp_c - 170.0 for _ in range(4000)
    ]
    assert (sum(miss**2 for miss in misses) / 4000) ** 0.5 == pytest.approx(1.2, rel=0.05)
