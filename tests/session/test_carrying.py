"""A cup carried through bursts and stirs: how well it is known, and what heat uses up of it."""

from __future__ import annotations

import math

import pytest

from bench.physics.cup import Cup, temperature_after
from bench.session.bursts import Leg
from bench.session.carrying import Course
from bench.session.heater import Power
from bench.session.session import Warmth
from tests.session.bench_sessions import FakeClock

CUP = Cup(mass_g=200, c_j_kgk=1800, diameter_mm=80, height_mm=40, vessel_mass_g=180, vessel_c_j_kgk=830)
COURSE = Course(cup=CUP, power=Power(fed_w=420.0, room_c=20.0), loss_spread=0.3, power_spread=0.4)


def warm(temp_c: float) -> Warmth:
    return Warmth(temp_c=temp_c, at=FakeClock().now(), spread_k=1.0)


def on(seconds: float) -> Leg:
    return Leg(heating=True, seconds=seconds, number=1)


def off(seconds: float) -> Leg:
    return Leg(heating=False, seconds=seconds, number=1)


def test_drift_grows_with_how_far_it_was_reckoned_on() -> None:
    heated = COURSE.through(warm(20.0), on(60))
    cooled = COURSE.through(warm(170.0), off(60))
    assert heated.drift_k == pytest.approx(0.4 * (heated.temp_c - 20.0))
    assert cooled.drift_k == pytest.approx(0.3 * (170.0 - cooled.temp_c))
    longer = COURSE.through(warm(170.0), off(300))
    assert longer.drift_k > cooled.drift_k
    assert heated.spread_k == cooled.spread_k == 1.0


def test_what_is_on_the_heat_and_what_is_lost_off_it_are_counted_apart() -> None:
    there = COURSE.through(COURSE.through(warm(100.0), on(30)), off(12))
    assert there.on_s == 30
    assert there.stood_k == pytest.approx(COURSE.through(warm(100.0), on(30)).temp_c - there.temp_c)


def test_ten_minutes_at_170_count_twice_as_much_as_at_160() -> None:
    """Van 't Hoff's rule of thumb, doubling every ten degrees; a heavy cup hardly cools in half a minute."""
    heavy = Course(
        cup=Cup(mass_g=2e6, c_j_kgk=1800, diameter_mm=80, height_mm=40),
        power=Power(fed_w=420.0, room_c=20.0),
        loss_spread=0.3,
        power_spread=0.4,
    )
    assert heavy.through(warm(160.0), off(600)).spent_min == pytest.approx(10.0, rel=0.01)
    assert heavy.through(warm(170.0), off(600)).spent_min == pytest.approx(20.0, rel=0.01)


def test_what_a_standing_cup_spends_is_the_integral_of_its_course() -> None:
    """Summed second by second over twenty minutes from 170 degC."""
    temps = [temperature_after(CUP, start_c=170.0, seconds=each + 0.5, room_c=20.0) for each in range(1200)]
    expected_min = math.fsum(2 ** ((temp_c - 160.0) / 10.0) / 60 for temp_c in temps)
    assert COURSE.through(warm(170.0), off(1200)).spent_min == pytest.approx(expected_min, rel=0.02)
