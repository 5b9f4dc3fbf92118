"""What a heater feeds and a cup keeps, against an integration of its own."""

from __future__ import annotations

import pytest
from scipy.integrate import solve_ivp

from bench.physics.cup import Cup, loss_w_m2k
from bench.session.heater import LEAST_KEPT, Power, fed_w, heated_c, loss_w

CUP = Cup(mass_g=200, c_j_kgk=1800, diameter_mm=80, height_mm=40, vessel_mass_g=180, vessel_c_j_kgk=830)


def true_c(start_c: float, seconds: float, *, watts: float, loss_factor: float) -> float:
    """C dT/dt = P - f h A (T - T_room), by scipy."""

    def rate(_: float, state: list[float]) -> list[float]:
        h = loss_w_m2k(CUP, at_c=state[0], room_c=20.0)
        lost_w = loss_factor * h * (CUP.side_m2 + CUP.top_m2) * (state[0] - 20.0)
        return [(watts - lost_w) / CUP.capacity_j_k]

    return float(solve_ivp(rate, (0.0, seconds), [start_c], rtol=1e-8, atol=1e-8).y[0][-1])


@pytest.mark.parametrize(("start_c", "seconds"), [(20.0, 120.0), (110.0, 30.0), (160.0, 8.0)])
@pytest.mark.parametrize("loss_factor", [0.7, 1.0, 1.5])
def test_a_burst_warms_the_cup_as_integrated(start_c: float, seconds: float, loss_factor: float) -> None:
    power = Power(fed_w=420.0, room_c=20.0, loss_factor=loss_factor)
    expected_c = true_c(start_c, seconds, watts=420.0, loss_factor=loss_factor)
    assert heated_c(CUP, power, start_c=start_c, seconds=seconds) == pytest.approx(expected_c, abs=0.3)


def test_what_a_cup_keeps_is_what_a_calibration_run_shows() -> None:
    seconds = 220.0
    end_c = true_c(20.0, seconds, watts=420.0, loss_factor=1.0)
    kept_w = CUP.capacity_j_k * (end_c - 20.0) / seconds
    assert Power(fed_w=420.0, room_c=20.0).kept_w(CUP, start_c=20.0, to_c=end_c) == pytest.approx(kept_w, rel=0.01)
    assert fed_w(CUP, kept_w=kept_w, start_c=20.0, to_c=end_c, room_c=20.0) == pytest.approx(420.0, rel=0.01)


def test_it_keeps_less_close_to_the_band_and_never_nothing() -> None:
    power = Power(fed_w=100.0, room_c=20.0)
    assert power.kept_w(CUP, start_c=160.0, to_c=170.0) < power.kept_w(CUP, start_c=20.0, to_c=30.0)
    weak = Power(fed_w=10.0, room_c=20.0)
    assert weak.kept_w(CUP, start_c=160.0, to_c=170.0) == pytest.approx(10.0 * LEAST_KEPT)


def test_a_cup_as_warm_as_the_room_loses_nothing() -> None:
    assert loss_w(CUP, 20.0, 20.0) == 0.0
