"""Heating in bursts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.errors import BenchError
from bench.physics.cup import Cup
from bench.physics.melting import absorbed_power_w, bursts_s, heat_j, melt_s


def cup(mass_g: float, c_j_kgk: float = 1800.0, vessel_mass_g: float = 0.0) -> Cup:
    return Cup(
        mass_g=mass_g,
        c_j_kgk=c_j_kgk,
        diameter_mm=80.0,
        height_mm=50.0,
        vessel_mass_g=vessel_mass_g,
        vessel_c_j_kgk=830.0,
    )


def test_a_quarter_kilo_takes_what_the_trade_says() -> None:
    # Common practice, no source: 250 g about 66 kJ, 165 s at 400 W absorbed.
    assert heat_j(cup(250.0), start_c=22.0, to_c=169.0) == pytest.approx(66e3, rel=0.01)
    assert melt_s(cup(250.0), start_c=22.0, to_c=169.0, power_w=400.0) == pytest.approx(165.0, rel=0.01)


@pytest.mark.parametrize(
    ("seconds", "watts"), [(70, 600), (64, 650), (60, 700), (52, 800), (47, 900), (42, 1000), (38, 1100)]
)
def test_power_of_an_oven_by_a_litre_of_water(seconds: float, watts: float) -> None:
    # IEC 60705 as printed in service manuals: 1000 g of water by 10 K; the manuals round to 50 W (1.1 % at most).
    water = cup(1000.0, c_j_kgk=4187.0)
    found = absorbed_power_w(water, start_c=10.0, end_c=20.0, seconds=seconds)
    assert found == pytest.approx(watts, rel=0.011)


def test_the_vessel_is_heated_too() -> None:
    bare, in_glass = (
        melt_s(cup(200.0, vessel_mass_g=each), start_c=20.0, to_c=170.0, power_w=400.0) for each in (0.0, 300.0)
    )
    assert in_glass - bare == pytest.approx(0.3 * 830.0 * 150.0 / 400.0)


@given(
    mass_g=st.floats(10, 2000), start_c=st.floats(0, 170), rise_k=st.floats(0.5, 180), power_w=st.floats(50, 1500)
)
def test_bursts_add_up_and_none_is_the_whole(mass_g: float, start_c: float, rise_k: float, power_w: float) -> None:
    total_s = melt_s(cup(mass_g), start_c=start_c, to_c=start_c + rise_k, power_w=power_w)
    bursts = bursts_s(cup(mass_g), start_c=start_c, to_c=start_c + rise_k, power_w=power_w)
    assert sum(bursts) == pytest.approx(total_s)
    assert all(burst > 0 for burst in bursts)
    assert bursts[-1] <= 10.0 + 1e-9
    assert all(burst <= 30.0 for burst in bursts[1:])
    assert bursts[0] <= max(0.6 * total_s, 10.0) * (1 + 1e-9)


def test_one_first_burst_then_shorter_ones() -> None:
    bursts = bursts_s(cup(250.0), start_c=22.0, to_c=172.0, power_w=400.0)
    assert bursts[0] == pytest.approx(0.6 * sum(bursts))
    assert sorted(bursts, reverse=True) == bursts
    assert 5.0 <= bursts[-1] <= 10.0


@given(rise_k=st.floats(0.5, 180), power_w=st.floats(100, 1500))
def test_no_burst_but_the_last_is_over_before_it_is_worth_a_stir(rise_k: float, power_w: float) -> None:
    # Common practice, no source: 5 to 10 s for the last degrees, not less.
    bursts = bursts_s(cup(250.0), start_c=170.0 - rise_k, to_c=170.0, power_w=power_w)
    assert all(burst >= 5.0 for burst in bursts[:-1])


def test_a_cup_that_is_hot_enough_needs_none() -> None:
    assert bursts_s(cup(250.0), start_c=172.0, to_c=170.0, power_w=400.0) == []
    assert melt_s(cup(250.0), start_c=172.0, to_c=170.0, power_w=400.0) == 0.0


def test_a_calibration_run_that_did_not_warm_is_refused() -> None:
    with pytest.raises(BenchError, match="needs a rise"):
        absorbed_power_w(cup(250.0), start_c=30.0, end_c=30.0, seconds=60.0)
