"""The heater's power from runs that weigh, heat and read."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.errors import BenchError
from bench.physics.calibrate import (
    HeatingRun,
    Power,
    absorbed_on_the_way_w,
    check_run,
    combined,
    fed_power_w,
)
from bench.physics.cup import Cup
from bench.physics.fitting import kept_power_w

MASSES = st.floats(60, 260)
STARTS = st.floats(10, 35)
ENDS = st.floats(90, 165)


def cup(mass_g: float = 250.0, c_j_kgk: float = 1800.0, vessel_mass_g: float = 0.0) -> Cup:
    return Cup(
        mass_g=mass_g,
        c_j_kgk=c_j_kgk,
        diameter_mm=80.0,
        height_mm=mass_g / 1.03 / 50.3 * 10,
        vessel_mass_g=vessel_mass_g,
        vessel_c_j_kgk=830.0,
    )


def run(
    mass_g: float = 250.0, *, start_c: float = 22.0, end_c: float = 118.0, seconds: float = 108.0
) -> HeatingRun:
    return HeatingRun(cup=cup(mass_g), start_c=start_c, end_c=end_c, seconds=seconds)


@pytest.mark.parametrize(
    ("seconds", "watts"),
    [(70, 600), (64, 650), (60, 700), (56, 750), (52, 800), (47, 900), (44, 950), (42, 1000), (38, 1100)],
)
def test_a_litre_of_water_gives_the_power_of_an_oven(seconds: float, watts: float) -> None:
    # IEC 60705 as printed in service manuals, P = 4187 dT / t: 1000 g of water by about 10 K; confirmed there, and
    # the manuals' table of seconds and watts is within 1.1 % of the formula.
    water = HeatingRun(cup=cup(1000.0, c_j_kgk=4187.0), start_c=10.0, end_c=20.0, seconds=seconds)
    assert water.kept_w == pytest.approx(watts, rel=0.011)
    assert water.kept_w == pytest.approx(4187.0 * 10.0 / seconds)


def test_a_quarter_kilo_takes_what_the_trade_says() -> None:
    # Common practice, no source: 250 g takes about 66 kJ, 165 s at 400 W.
    whole = run(end_c=169.0, seconds=165.0)
    assert whole.kept_w * whole.seconds == pytest.approx(66e3, rel=0.01)
    assert whole.kept_w == pytest.approx(400.0, rel=0.01)


def test_the_spread_is_that_of_two_readings_and_one_time() -> None:
    # By hand: 96 K with a kelvin at either end, 108 s with one second.
    assert run().spread == pytest.approx(math.hypot(math.sqrt(2) / 96, 1 / 108))
    assert run().spread == pytest.approx(0.0174, abs=0.0002)


@given(mass_g=MASSES, start_c=STARTS, end_c=ENDS, fed_w=st.floats(150, 1200), room_c=st.floats(10, 30))
def test_what_was_fed_comes_back(mass_g: float, start_c: float, end_c: float, fed_w: float, room_c: float) -> None:
    one = cup(mass_g, vessel_mass_g=150.0)
    kept_w = kept_power_w(one, absorbed_w=fed_w, start_c=start_c, to_c=end_c, room_c=room_c)
    seconds = one.capacity_j_k * (end_c - start_c) / kept_w
    found = HeatingRun(cup=one, start_c=start_c, end_c=end_c, seconds=seconds)
    assert fed_power_w(found, room_c=room_c) == pytest.approx(fed_w, rel=1e-4)
    on_the_way = absorbed_on_the_way_w(found, room_c=room_c, band_c=170.0)
    wanted = kept_power_w(one, absorbed_w=fed_w, start_c=room_c, to_c=170.0, room_c=room_c)
    assert on_the_way.power_w == pytest.approx(wanted, rel=1e-4)


@given(seconds=st.floats(30, 300), more_s=st.floats(1, 60), end_c=ENDS, more_k=st.floats(1, 20))
def test_longer_means_weaker_and_hotter_means_stronger(
    seconds: float, more_s: float, end_c: float, more_k: float
) -> None:
    def power_w(one: HeatingRun) -> float:
        return absorbed_on_the_way_w(one, room_c=20.0, band_c=170.0).power_w

    plain = power_w(run(end_c=end_c, seconds=seconds))
    assert power_w(run(end_c=end_c, seconds=seconds + more_s)) < plain
    assert power_w(run(end_c=end_c + more_k, seconds=seconds)) > plain
    assert power_w(run(270.0, end_c=end_c, seconds=seconds)) > plain


def test_a_run_that_stops_early_is_brought_into_the_band() -> None:
    # The cup loses more close to the band than on its way to 118 degC, so it keeps less.
    found = absorbed_on_the_way_w(run(), room_c=22.0, band_c=170.0)
    assert run().kept_w * 0.95 < found.power_w < run().kept_w


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (run(end_c=22.0), "did not get warmer"),
        (run(end_c=20.0), "did not get warmer"),
        (run(end_c=36.0), r"to 36 °C \(97 °F\) is too small a rise"),
        (run(seconds=9.0), "9 s is too short"),
        (run(mass_g=900.0, seconds=20.0), "more than 2000 W, which no kitchen heater does"),
    ],
)
def test_a_run_that_cannot_be_is_refused_in_one_sentence(wrong: HeatingRun, words: str) -> None:
    with pytest.raises(BenchError, match=words) as refused:
        check_run(wrong)
    assert "\n" not in str(refused.value)


def test_a_run_that_can_be_is_taken() -> None:
    check_run(run())


def test_a_heater_too_weak_for_the_band_is_told() -> None:
    weak = run(60.0, start_c=20.0, end_c=60.0, seconds=1800.0)
    with pytest.raises(BenchError, match="never bring this cup to 170 °C"):
        absorbed_on_the_way_w(weak, room_c=20.0, band_c=170.0)


def test_runs_that_agree_narrow_the_spread_and_runs_that_do_not_widen_it() -> None:
    alike = combined([Power(power_w=400.0, spread_w=8.0), Power(power_w=404.0, spread_w=8.0)])
    assert alike.power_w == pytest.approx(402.0)
    assert alike.spread_w == pytest.approx(8.0 / math.sqrt(2))
    assert alike.agree
    apart = combined([Power(power_w=400.0, spread_w=8.0), Power(power_w=480.0, spread_w=8.0)])
    # Two runs of one weight: Birge's ratio makes the spread half their distance.
    assert apart.spread_w == pytest.approx(40.0)
    assert not apart.agree


def test_the_surer_run_weighs_more() -> None:
    mean = combined([Power(power_w=400.0, spread_w=5.0), Power(power_w=430.0, spread_w=15.0)])
    assert mean.power_w == pytest.approx((400 * 9 + 430) / 10)
