"""The mould from shot to shot."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.errors import BenchError
from bench.physics.mould import (
    Block,
    after_rest_c,
    after_shot_c,
    beat_s,
    on_plate,
    plate_contact_w_k,
    rest_s,
    rounds_c,
    shot_heat_j,
    steady_c,
    warm_in_air_s,
)

BLOCK = Block(mass_g=1500.0, area_m2=0.06)
HEAT_J = shot_heat_j(shot_mass_g=60.0, c_j_kgk=1800.0, shot_c=165.0, mean_open_c=60.0)


def test_a_shot_warms_the_mould_by_what_the_trade_says() -> None:
    # Common practice, no source: a 60 g shot warms 1.5 kg by about 8 degC and 1 kg by about 12.
    assert after_shot_c(BLOCK, mould_c=40.0, heat_j=HEAT_J) == pytest.approx(48.4, abs=0.1)
    small = Block(mass_g=1000.0, area_m2=0.05)
    assert after_shot_c(small, mould_c=40.0, heat_j=HEAT_J) == pytest.approx(52.0, abs=0.7)


def test_a_lump_cools_as_in_the_textbook() -> None:
    # Holman, Heat Transfer, SI ed., example 4-1: steel ball of 50 mm, h 10, rho 7800, c 460, from 450 to 150 in
    # 100 degC takes 5819 s; 5818.27 s without rounding.
    volume_m3, area_m2 = 6.544985e-5, 7.853982e-3
    ball = Block(mass_g=1e3 * 7800.0 * volume_m3, area_m2=area_m2, c_j_kgk=460.0, loss_w_m2k=10.0)
    found_s = rest_s(ball, mould_c=450.0, until_c=150.0, room_c=100.0)
    assert found_s == pytest.approx(5818.27, rel=1e-4)
    assert found_s == pytest.approx(5819.0, abs=1.0)
    assert after_rest_c(ball, mould_c=450.0, seconds=found_s, room_c=100.0) == pytest.approx(150.0)


def test_rounds_start_at_the_start_and_settle_at_the_steady_temperature() -> None:
    temperatures = rounds_c(BLOCK, start_c=25.0, room_c=22.0, heat_j=HEAT_J, cycle_s=240.0, rounds=200)
    assert len(temperatures) == 200
    assert temperatures[0] == 25.0
    assert temperatures == sorted(temperatures)
    steady = steady_c(BLOCK, room_c=22.0, heat_j=HEAT_J, cycle_s=240.0)
    assert temperatures[-1] == pytest.approx(steady, abs=0.01)


def test_each_round_is_a_shot_then_a_rest() -> None:
    first, second = rounds_c(BLOCK, start_c=30.0, room_c=22.0, heat_j=HEAT_J, cycle_s=300.0, rounds=2)
    hot = after_shot_c(BLOCK, mould_c=first, heat_j=HEAT_J)
    assert second == after_rest_c(BLOCK, mould_c=hot, seconds=300.0, room_c=22.0)


def test_a_slower_rhythm_keeps_the_mould_cooler() -> None:
    quick, slow = (steady_c(BLOCK, room_c=22.0, heat_j=HEAT_J, cycle_s=cycle_s) for cycle_s in (180.0, 360.0))
    assert slow < quick


def test_rest_takes_no_time_when_cool_and_never_reaches_the_room() -> None:
    assert rest_s(BLOCK, mould_c=40.0, until_c=50.0, room_c=22.0) == 0.0
    with pytest.raises(BenchError, match="never cools to 22 °C"):
        rest_s(BLOCK, mould_c=40.0, until_c=22.0, room_c=22.0)


def test_plastic_cannot_come_out_hotter_than_it_went_in() -> None:
    with pytest.raises(BenchError, match="cannot come out at 170 °C"):
        shot_heat_j(shot_mass_g=60.0, c_j_kgk=1800.0, shot_c=165.0, mean_open_c=170.0)


def test_warm_air_warms_a_block_as_cold_air_cools_it() -> None:
    # Holman, Heat Transfer, SI ed., example 4-1, mirrored: a steel ball of 50 mm, h 10, rho 7800, c 460, that is
    # 350 below its surroundings comes to 50 below them in 5818 s, as the hot one comes to 50 above in the example.
    volume_m3, area_m2 = 6.544985e-5, 7.853982e-3
    ball = Block(mass_g=1e3 * 7800.0 * volume_m3, area_m2=area_m2, c_j_kgk=460.0)
    found_s = warm_in_air_s(ball, start_c=-250.0, to_c=50.0, air_c=100.0, film_w_m2k=10.0)
    assert found_s == pytest.approx(5818.27, rel=1e-4)


def test_a_blast_that_is_stepped_through_ends_at_the_same_temperature() -> None:
    """Heat in by the film in small steps, against the closed form."""
    found_s = warm_in_air_s(BLOCK, start_c=20.0, to_c=45.0, air_c=90.0, film_w_m2k=40.0)
    mould_c, step_s = 20.0, found_s / 20000
    for _ in range(20000):
        mould_c += 40.0 * 0.06 * (90.0 - mould_c) * step_s / (1.5 * 896.0)
    assert mould_c == pytest.approx(45.0, abs=0.01)
    assert 120.0 < found_s < 400.0


def test_a_mould_warm_enough_needs_no_air_and_air_too_cool_is_refused() -> None:
    assert warm_in_air_s(BLOCK, start_c=45.0, to_c=45.0, air_c=30.0, film_w_m2k=40.0) == 0.0
    with pytest.raises(BenchError, match="air at 40 °C never warms a mould to 45 °C"):
        warm_in_air_s(BLOCK, start_c=20.0, to_c=45.0, air_c=40.0, film_w_m2k=40.0)


def test_the_beat_is_the_one_whose_rhythm_settles_there() -> None:
    block = Block(mass_g=1500.0, area_m2=0.06, c_j_kgk=896.0, loss_w_m2k=8.0)
    beat = beat_s(block, room_c=22.0, heat_j=11_340.0, most_c=60.0)
    before_c = rounds_c(block, start_c=22.0, room_c=22.0, heat_j=11_340.0, cycle_s=beat, rounds=400)
    assert before_c[-1] == pytest.approx(60.0, abs=0.01)
    with pytest.raises(BenchError, match="never cools to 22"):
        beat_s(block, room_c=22.0, heat_j=11_340.0, most_c=22.0)


_SIZES = st.floats(1e-300, 1e300)


@given(mass_g=_SIZES, area_m2=_SIZES, loss=_SIZES, seconds=st.floats(-1e300, 1e300), mould_c=st.floats(-273, 2000))
def test_no_size_of_a_mould_is_a_defect(
    mass_g: float, area_m2: float, loss: float, seconds: float, mould_c: float
) -> None:
    """Beyond all numbers is an ArithmeticError of division at most, which whoever reckons says in a sentence."""
    block = Block(mass_g=mass_g, area_m2=area_m2, loss_w_m2k=loss)
    ways: tuple[Callable[[], float], ...] = (
        lambda: after_rest_c(block, mould_c=mould_c, seconds=seconds, room_c=20.0),
        lambda: steady_c(block, room_c=20.0, heat_j=1e4, cycle_s=abs(seconds) + 1),
        lambda: beat_s(block, room_c=20.0, heat_j=1e4, most_c=mould_c),
        lambda: rest_s(block, mould_c=mould_c, until_c=40.0, room_c=20.0),
        lambda: warm_in_air_s(block, start_c=mould_c, to_c=45.0, air_c=90.0, film_w_m2k=40.0),
    )
    for reckoned in ways:
        try:
            assert not math.isnan(reckoned())
        except (BenchError, ZeroDivisionError):
            continue


def test_a_mould_long_ago_was_hotter_than_any_number() -> None:
    """A block that loses its heat within seconds, as one of 480 m2 does."""
    block = Block(mass_g=1500.0, area_m2=480.0)
    assert after_rest_c(block, mould_c=50.0, seconds=-600.0, room_c=20.0) > 1e300
    assert after_rest_c(block, mould_c=20.0, seconds=-600.0, room_c=20.0) == 20.0
    assert steady_c(block, room_c=20.0, heat_j=1e4, cycle_s=600.0) == pytest.approx(20.0)


def test_a_plate_that_loses_nothing_warms_a_block_as_warm_air_does() -> None:
    # Holman, Heat Transfer, SI ed., example 4-1, mirrored: h A of the ball is the plate's contact, and it is 350
    # below and then 50 below the plate 5818.27 s later.
    volume_m3, area_m2 = 6.544985e-5, 7.853982e-3
    ball = Block(mass_g=1e3 * 7800.0 * volume_m3, area_m2=1e-12, c_j_kgk=460.0, loss_w_m2k=10.0)
    found = plate_contact_w_k(ball, plate_c=450.0, room_c=100.0, to_c=400.0, seconds=5818.27)
    assert found == pytest.approx(10.0 * area_m2, rel=1e-4)
    nearing = on_plate(ball, plate_c=450.0, contact_w_k=found, room_c=100.0)
    assert nearing.after_c(start_c=100.0, seconds=5818.27) == pytest.approx(400.0, abs=0.01)


@given(
    plate_c=st.floats(50.0, 250.0),
    to_c=st.floats(30.0, 49.0),
    seconds=st.floats(20.0, 2000.0),
    area_m2=st.floats(0.01, 0.2),
)
def test_a_block_comes_on_its_plate_where_it_was_timed_to_come_and_stays_below_it(
    plate_c: float, to_c: float, seconds: float, area_m2: float
) -> None:
    block = Block(mass_g=1500.0, area_m2=area_m2)
    contact_w_k = plate_contact_w_k(block, plate_c=plate_c, room_c=20.0, to_c=to_c, seconds=seconds)
    nearing = on_plate(block, plate_c=plate_c, contact_w_k=contact_w_k, room_c=20.0)
    assert nearing.after_c(start_c=20.0, seconds=seconds) == pytest.approx(to_c, abs=1e-6)
    assert to_c < nearing.settles_c < plate_c
    # Where it settles as much comes from the plate as goes to the room.
    fed_w, lost_w = contact_w_k * (plate_c - nearing.settles_c), 8.0 * area_m2 * (nearing.settles_c - 20.0)
    assert fed_w == pytest.approx(lost_w)


def test_a_plate_no_warmer_than_what_it_is_to_warm_to_is_refused() -> None:
    with pytest.raises(BenchError, match="a plate at 45 °C never warms a mould to 45 °C"):
        plate_contact_w_k(BLOCK, plate_c=45.0, room_c=20.0, to_c=45.0, seconds=100.0)
