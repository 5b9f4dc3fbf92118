"""What readings say about a cup, a heater and a mould, against exact courses and an independent fit."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from statistics import mean

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import least_squares

from bench.errors import BenchError
from bench.physics.cup import Cup, loss_w_m2k
from bench.physics.fitting import (
    CUP_PRIOR_SPREAD,
    MOULD_PRIOR_SPREAD,
    POWER_PRIOR_SPREAD,
    READING_NOISE_C,
    CupStretch,
    Fit,
    MouldStretch,
    Reading,
    fit_absorbed_power,
    fit_cup_loss,
    fit_mould_loss,
    kept_power_w,
)
from bench.physics.melting import melt_s
from bench.physics.mould import Block
from tests.floor import floors

ROOM_C = 22.0
SURE_C = 1e-3
"""A thermometer so good that the prior weighs nothing: exact readings must give exact values."""


def cup(mass_g: float = 200.0) -> Cup:
    return Cup(
        mass_g=mass_g,
        c_j_kgk=1800.0,
        diameter_mm=80.0,
        height_mm=mass_g / 5.28,
        vessel_mass_g=150.0,
        vessel_c_j_kgk=830.0,
    )


BLOCK = Block(mass_g=1500.0, area_m2=0.06)


def course_c(
    body: Cup, seconds: Sequence[float], *, start_c: float, factor: float = 1.0, fed_w: float = 0.0
) -> list[float]:
    """C dT/dt = P - f h A (T - T_room) by scipy's Runge-Kutta method, apart from the project's own curve."""

    def rate(_: float, state: Sequence[float]) -> list[float]:
        h = loss_w_m2k(body, at_c=state[0], room_c=ROOM_C)
        lost_w = factor * h * (body.side_m2 + body.top_m2) * (state[0] - ROOM_C)
        return [(fed_w - lost_w) / body.capacity_j_k]

    solved = solve_ivp(rate, (0.0, max(seconds) + 1.0), [start_c], t_eval=seconds, rtol=1e-9, atol=1e-9)
    return [float(temp) for temp in solved.y[0]]


def cooling_cup(
    mass_g: float, start_c: float, seconds: Sequence[float], factor: float, rng: random.Random | None = None
) -> CupStretch:
    temps = course_c(cup(mass_g), seconds, start_c=start_c, factor=factor)
    return CupStretch(cup=cup(mass_g), readings=read(seconds, temps, rng))


def heated_cup(mass_g: float, start_c: float, seconds: Sequence[float], fed_w: float, factor: float) -> CupStretch:
    temps = course_c(cup(mass_g), seconds, start_c=start_c, factor=factor, fed_w=fed_w)
    return CupStretch(cup=cup(mass_g), readings=read(seconds, temps, None))


def cooling_mould(start_c: float, seconds: Sequence[float], factor: float) -> MouldStretch:
    rate = factor * BLOCK.loss_w_m2k * BLOCK.area_m2 / BLOCK.capacity_j_k
    temps = [ROOM_C + (start_c - ROOM_C) * math.exp(-rate * each) for each in seconds]
    return MouldStretch(block=BLOCK, readings=read(seconds, temps, None))


def read(seconds: Sequence[float], temps: Sequence[float], rng: random.Random | None) -> tuple[Reading, ...]:
    noise = [rng.gauss(0.0, READING_NOISE_C) if rng else 0.0 for _ in seconds]
    return tuple((s, c + off) for s, c, off in zip(seconds, temps, noise, strict=True))


def value(fit: Fit | None) -> float:
    assert fit is not None
    return fit.value


def spread(fit: Fit | None) -> float:
    assert fit is not None
    return fit.spread


# --- exact data give exact values


@pytest.mark.parametrize("factor", [0.6, 1.0, 1.3, 2.0])
def test_exact_readings_of_a_cup_give_its_factor(factor: float) -> None:
    stretches = [cooling_cup(200, 176, (0, 60, 150), factor), cooling_cup(120, 140, (0, 300), factor)]
    fit = fit_cup_loss(stretches, room_c=ROOM_C, noise_c=SURE_C)
    assert value(fit) == pytest.approx(factor, rel=1e-3)
    assert fit is not None
    assert fit.readings == 5


@pytest.mark.parametrize("factor", [0.5, 0.8, 1.0, 1.7])
def test_exact_readings_of_a_mould_give_its_factor(factor: float) -> None:
    stretches = [cooling_mould(62, (0, 700, 1900), factor), cooling_mould(48, (0, 1200), factor)]
    assert value(fit_mould_loss(stretches, room_c=ROOM_C, noise_c=SURE_C)) == pytest.approx(factor, rel=1e-6)


@pytest.mark.parametrize("fed_w", [250.0, 320.0, 600.0])
def test_exact_readings_on_the_heat_give_what_the_heater_feeds(fed_w: float) -> None:
    stretches = [heated_cup(200, 22, (0, 60, 110), fed_w, 1.3), heated_cup(120, 120, (0, 15, 30), fed_w, 1.3)]
    fit = fit_absorbed_power(stretches, prior_w=400.0, room_c=ROOM_C, loss_factor=1.3, noise_c=SURE_C)
    assert value(fit) == pytest.approx(fed_w, rel=2e-3)


def test_without_losses_the_power_is_that_of_a_calibration_run() -> None:
    # m c dT / t by hand: (0.2 x 1800 + 0.15 x 830) J/K x 100 K / 150 s = 323 W.
    run = CupStretch(cup=cup(200), readings=((0.0, 30.0), (150.0, 130.0)))
    fit = fit_absorbed_power([run], prior_w=400.0, noise_c=SURE_C)
    assert value(fit) == pytest.approx(323.0, rel=1e-6)


def test_the_power_without_losses_is_the_one_melting_reckons_with() -> None:
    stretch = heated_cup(200, 22, (0, 60, 120, 190), 320.0, 1.3)
    power_w = value(fit_absorbed_power([stretch], prior_w=400.0, noise_c=SURE_C))
    end_s, end_c = stretch.readings[-1]
    assert melt_s(cup(200), start_c=22, to_c=end_c, power_w=power_w) == pytest.approx(end_s, rel=0.03)


def test_what_is_kept_of_a_heater_s_power_gives_the_time_it_takes() -> None:
    end_c = course_c(cup(200), [180.0], start_c=22, factor=1.3, fed_w=320.0)[0]
    kept = kept_power_w(cup(200), absorbed_w=320, start_c=22, to_c=end_c, room_c=ROOM_C, loss_factor=1.3)
    assert melt_s(cup(200), start_c=22, to_c=end_c, power_w=kept) == pytest.approx(180.0, rel=1e-4)


def test_nothing_to_heat_keeps_the_power_less_the_loss_there() -> None:
    body = cup(200)
    lost_w = loss_w_m2k(body, at_c=170, room_c=ROOM_C) * (body.side_m2 + body.top_m2) * (170 - ROOM_C)
    kept = kept_power_w(body, absorbed_w=320, start_c=170, to_c=170, room_c=ROOM_C)
    assert kept == pytest.approx(320 - lost_w)
    nearly = kept_power_w(body, absorbed_w=320, start_c=170, to_c=170.001, room_c=ROOM_C)
    assert nearly == pytest.approx(kept, rel=1e-4)


def test_a_heater_too_weak_says_so() -> None:
    with pytest.raises(BenchError, match="30 W never bring this cup to 170 °C"):
        kept_power_w(cup(200), absorbed_w=30, start_c=22, to_c=170, room_c=ROOM_C)


# --- against an independent fit


@pytest.mark.parametrize("seed", range(8))
def test_the_cup_s_factor_is_that_of_an_independent_fit(seed: int) -> None:
    # scipy 1.x least_squares on all starts and the factor at once, prior as one more residual, on courses by
    # Runge and Kutta. Scatter within the thermometer's is not widened, so the noise given here is generous.
    rng = random.Random(seed)
    stretches = [cooling_cup(200, 176, (0, 90, 180), 1.3, rng), cooling_cup(150, 174, (0, 150), 1.3, rng)]
    noise_c = 3.0

    def residuals(unknown: Sequence[float]) -> list[float]:
        left = [unknown[0] / CUP_PRIOR_SPREAD]
        for start_c, stretch in zip(unknown[1:], stretches, strict=True):
            seconds = [s for s, _ in stretch.readings]
            temps = course_c(stretch.cup, seconds, start_c=start_c, factor=math.exp(unknown[0]))
            left += [(c - t) / noise_c for (_, c), t in zip(stretch.readings, temps, strict=True)]
        return left

    reference = least_squares(residuals, [0.0, 175.0, 175.0], x_scale=[0.1, 1.0, 1.0])
    fit = fit_cup_loss(stretches, room_c=ROOM_C, noise_c=noise_c)
    assert value(fit) == pytest.approx(math.exp(reference.x[0]), rel=5e-3)
    covariance_row = _first_variance(reference.jac)
    assert spread(fit) == pytest.approx(math.sqrt(covariance_row), rel=0.05)


def _first_variance(jacobian: Sequence[Sequence[float]]) -> float:
    """Variance of the first unknown: one over what is left of its column once the others are taken out.

    Every other column belongs to one stretch, so they are at right angles to each other.
    """
    first, *others = [list(column) for column in zip(*jacobian, strict=True)]
    left = sum(a * a for a in first)
    for other in others:
        left -= sum(a * b for a, b in zip(first, other, strict=True)) ** 2 / sum(b * b for b in other)
    return float(1 / left)


# --- properties


noisy = st.lists(st.floats(-4.0, 4.0), min_size=7, max_size=7)


def shaken(stretches: Sequence[CupStretch], noise: Sequence[float]) -> list[CupStretch]:
    offs = iter(noise)
    return [
        CupStretch(cup=each.cup, readings=tuple((s, c + next(offs)) for s, c in each.readings))
        for each in stretches
    ]


COOLED = [
    cooling_cup(200, 176, (0, 60, 130), 1.3),
    cooling_cup(150, 174, (0, 110), 1.3),
    cooling_cup(90, 171, (0, 140), 1.3),
]
HEATED = [
    heated_cup(200, 22, (0, 60, 120), 320, 1.3),
    heated_cup(150, 90, (0, 25), 320, 1.3),
    heated_cup(90, 140, (0, 20), 320, 1.3),
]


@settings(max_examples=50, deadline=None)
@given(noise=noisy, order=st.permutations(range(3)))
def test_the_order_of_stretches_does_not_matter(noise: list[float], order: list[int]) -> None:
    cooled, heated = shaken(COOLED, noise), shaken(HEATED, noise)
    cooled_too, heated_too = [cooled[number] for number in order], [heated[number] for number in order]
    for one, other in (
        (fit_cup_loss(cooled, room_c=ROOM_C), fit_cup_loss(cooled_too, room_c=ROOM_C)),
        (
            fit_absorbed_power(heated, prior_w=400, room_c=ROOM_C),
            fit_absorbed_power(heated_too, prior_w=400, room_c=ROOM_C),
        ),
    ):
        assert value(one) == pytest.approx(value(other), rel=1e-6)
        assert spread(one) == pytest.approx(spread(other), rel=1e-6)


@settings(max_examples=50, deadline=None)
@given(noise=noisy, one=st.floats(0.3, 6.0), more=st.floats(1.0, 4.0))
def test_a_worse_thermometer_never_claims_more(noise: list[float], one: float, more: float) -> None:
    stretches = shaken(COOLED, noise)
    better = fit_cup_loss(stretches, room_c=ROOM_C, noise_c=one)
    worse = fit_cup_loss(stretches, room_c=ROOM_C, noise_c=one * more)
    assert spread(worse) >= spread(better) - 1e-12


def test_scatter_beyond_the_thermometer_s_claims_less() -> None:
    rng = random.Random(4)
    noises = [[rng.gauss(0.0, 1.0) for _ in range(7)] for _ in range(60)]
    claimed = []
    for sigma in (0.5, 1.5, 4.0, 8.0):
        fits = [fit_cup_loss(shaken(COOLED, [sigma * each for each in noise]), room_c=ROOM_C) for noise in noises]
        claimed.append(mean(fit.spread for fit in fits if fit is not None))
    assert claimed == sorted(claimed)
    assert claimed[-1] > 1.4 * claimed[0]


def test_more_stretches_claim_more() -> None:
    spreads = [spread(fit_cup_loss(COOLED * times, room_c=ROOM_C)) for times in (1, 2, 4)]
    assert spreads == sorted(spreads, reverse=True)
    assert spreads[2] == pytest.approx(spreads[0] / 2, rel=0.1)


@settings(max_examples=100, deadline=None)
@given(apart_s=st.floats(1.0, 8.0), fall_k=st.floats(0.01, 5.0))
def test_two_readings_a_few_seconds_apart_move_next_to_nothing(apart_s: float, fall_k: float) -> None:
    stretch = CupStretch(cup=cup(), readings=((0.0, 172.0), (apart_s, 172.0 - fall_k)))
    fit = fit_cup_loss([stretch], room_c=ROOM_C)
    assert value(fit) == pytest.approx(1.0, abs=0.15)
    assert spread(fit) > 0.85 * CUP_PRIOR_SPREAD


@settings(max_examples=100, deadline=None)
@given(
    data=st.lists(
        st.lists(st.tuples(st.floats(0.0, 4000.0), st.floats(-40.0, 2500.0)), max_size=6), min_size=1, max_size=3
    )
)
def test_no_readings_make_a_fit_wild(data: list[list[Reading]]) -> None:
    cups = [CupStretch(cup=cup(), readings=tuple(sorted(readings))) for readings in data]
    moulds = [MouldStretch(block=BLOCK, readings=tuple(sorted(readings))) for readings in data]
    for fit, prior, most in (
        (fit_cup_loss(cups, room_c=ROOM_C), 1.0, CUP_PRIOR_SPREAD),
        (fit_mould_loss(moulds, room_c=ROOM_C), 1.0, MOULD_PRIOR_SPREAD),
        (fit_absorbed_power(cups, prior_w=400.0, room_c=ROOM_C), 400.0, POWER_PRIOR_SPREAD),
    ):
        if fit is not None:
            assert abs(math.log(fit.value / prior)) <= 3 * most + 1e-9
            assert 0 <= fit.spread <= most


def test_one_bad_reading_among_many_does_not_run_away() -> None:
    stretches = [cooling_cup(200, 176, (0, 60, 120, 180), 1.3), cooling_cup(150, 174, (0, 60, 120, 180), 1.3)]
    good = fit_cup_loss(stretches, room_c=ROOM_C)
    (first, second, third, last), bad = stretches[0].readings, (180.0, 117.0)
    assert last[1] > bad[1] + 25
    wrong = CupStretch(cup=stretches[0].cup, readings=(first, second, third, bad))
    fit = fit_cup_loss([wrong, stretches[1]], room_c=ROOM_C)
    assert value(good) == pytest.approx(1.3, rel=0.02)
    assert value(fit) < 1.3 * 1.35
    assert spread(fit) > 2 * spread(good)


# --- too little to say anything


DEGENERATE: list[tuple[Reading, ...]] = [
    (),
    ((0.0, 170.0),),
    ((60.0, 170.0), (60.0, 160.0)),
    ((0.1, 170.0), (0.1, 169.0), (0.1, 168.0)),
]


@pytest.mark.parametrize("readings", DEGENERATE)
def test_readings_without_a_span_fit_nothing(readings: tuple[Reading, ...]) -> None:
    assert fit_cup_loss([CupStretch(cup=cup(), readings=readings)], room_c=ROOM_C) is None
    assert fit_absorbed_power([CupStretch(cup=cup(), readings=readings)], prior_w=400.0) is None
    assert fit_mould_loss([MouldStretch(block=BLOCK, readings=readings)], room_c=ROOM_C) is None


def test_no_stretch_fits_nothing() -> None:
    assert fit_cup_loss([], room_c=ROOM_C) is None
    assert fit_mould_loss([], room_c=ROOM_C) is None
    assert fit_absorbed_power([], prior_w=400.0) is None


def test_what_warms_does_not_cool_and_what_cools_does_not_heat() -> None:
    warming = ((0.0, 60.0), (100.0, 70.0), (200.0, 85.0))
    cooling = ((0.0, 85.0), (100.0, 70.0), (200.0, 60.0))
    assert fit_cup_loss([CupStretch(cup=cup(), readings=warming)], room_c=ROOM_C) is None
    assert fit_mould_loss([MouldStretch(block=BLOCK, readings=warming)], room_c=ROOM_C) is None
    assert fit_absorbed_power([CupStretch(cup=cup(), readings=cooling)], prior_w=400.0) is None


def test_readings_at_the_room_are_left_out() -> None:
    at_room = CupStretch(cup=cup(), readings=((0.0, 24.0), (900.0, 22.0), (1800.0, 21.0)))
    assert fit_cup_loss([at_room], room_c=ROOM_C) is None
    with_it = fit_cup_loss([*COOLED, at_room], room_c=ROOM_C)
    assert with_it == fit_cup_loss(COOLED, room_c=ROOM_C)


def test_a_stretch_of_one_reading_adds_nothing() -> None:
    lone = CupStretch(cup=cup(), readings=((0.0, 150.0),))
    assert fit_cup_loss([*COOLED, lone], room_c=ROOM_C) == fit_cup_loss(COOLED, room_c=ROOM_C)


# --- speed


@pytest.mark.parametrize(
    "fit",
    [
        lambda: fit_cup_loss(COOLED * 3, room_c=ROOM_C),
        lambda: fit_absorbed_power(HEATED * 3, prior_w=400.0, room_c=ROOM_C),
        lambda: fit_mould_loss([cooling_mould(60, (0, 600, 1200), 0.8)] * 7, room_c=ROOM_C),
    ],
)
def test_a_fit_of_a_session_s_readings_is_quick(fit: Callable[[], Fit | None]) -> None:
    # 21 readings; about two floors at most.
    assert floors(fit) < 20
