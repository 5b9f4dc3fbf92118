"""Made-up sessions at a bench whose true figures are known: how soon the fits find them, and how often.

The bench loses 1.3 times what is reckoned from its cup and 0.8 times from its mould, and its heater feeds 320 W
where the profile says 400 W. The thermometer is off by 1.5 K (one sigma, normal). Courses come from scipy's
integration or from Newton's law, apart from the project's own. Each claim is the share of 300 sessions, seeds 0 to
299; the share found stands beside the one asked for.

What that noise allows: five readings of a cup give its loss to 10 % in four sessions out of five when a stretch
lasts two and a half to three minutes, nearly always when it lasts five, in two out of three when it is hurried.
Five readings of the heater always do. Five readings of a mould do in four out of five, over an hour of cooling.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from functools import cache
from itertools import pairwise

import pytest
from scipy.integrate import solve_ivp

from bench.physics.cup import Cup, loss_w_m2k, seconds_until
from bench.physics.fitting import (
    CupStretch,
    Fit,
    MouldStretch,
    Reading,
    fit_absorbed_power,
    fit_cup_loss,
    fit_mould_loss,
)
from bench.physics.mould import Block, after_rest_c

ROOM_C = 22.0
CUP_FACTOR, FED_W, MOULD_FACTOR = 1.3, 320.0, 0.8
PROFILE_W = 400.0
NOISE_C = 1.5
SESSIONS = 300

Times = tuple[float, ...]

WAITING = ((200.0, 176.0, (0.0, 90.0, 180.0)), (150.0, 175.0, (0.0, 150.0)))
"""Grams, start and times: read before each shot of a first stretch, and at both ends of one after a reheat."""

STANDING = ((200.0, 176.0, (0.0, 150.0, 300.0)), (150.0, 175.0, (0.0, 300.0)))
"""As many readings of cups left to stand for five minutes."""

HURRIED = ((200.0, 176.0, (0.0, 60.0, 120.0)), (150.0, 175.0, (0.0, 90.0)))

FOUR_SESSIONS = HURRIED * 4
"""Twenty readings, every session as hurried as the last."""


def cup(mass_g: float) -> Cup:
    return Cup(
        mass_g=mass_g,
        c_j_kgk=1800.0,
        diameter_mm=80.0,
        height_mm=mass_g / 5.28,
        vessel_mass_g=150.0,
        vessel_c_j_kgk=830.0,
    )


BLOCK = Block(mass_g=1500.0, area_m2=0.06)


@cache
def true_c(mass_g: float, start_c: float, seconds: Times, fed_w: float) -> list[float]:
    """C dT/dt = P - f h A (T - T_room)."""
    body = cup(mass_g)

    def rate(_: float, state: Sequence[float]) -> list[float]:
        h = loss_w_m2k(body, at_c=state[0], room_c=ROOM_C)
        lost_w = CUP_FACTOR * h * (body.side_m2 + body.top_m2) * (state[0] - ROOM_C)
        return [(fed_w - lost_w) / body.capacity_j_k]

    solved = solve_ivp(rate, (0.0, max(seconds)), [start_c], t_eval=seconds, rtol=1e-8, atol=1e-8)
    return [float(temp) for temp in solved.y[0]]


def read(
    rng: random.Random, seconds: Times, temps: Sequence[float], noise_c: float = NOISE_C
) -> tuple[Reading, ...]:
    return tuple((s, c + rng.gauss(0.0, noise_c)) for s, c in zip(seconds, temps, strict=True))


def cups_read(rng: random.Random, design: Sequence[tuple[float, float, Times]]) -> list[CupStretch]:
    return [
        CupStretch(cup=cup(mass_g), readings=read(rng, seconds, true_c(mass_g, start_c, seconds, 0.0)))
        for mass_g, start_c, seconds in design
    ]


def mould_read(rng: random.Random, start_c: float, seconds: Times, noise_c: float = NOISE_C) -> MouldStretch:
    rate = MOULD_FACTOR * BLOCK.loss_w_m2k * BLOCK.area_m2 / BLOCK.capacity_j_k
    temps = [ROOM_C + (start_c - ROOM_C) * math.exp(-rate * each) for each in seconds]
    return MouldStretch(block=BLOCK, readings=read(rng, seconds, temps, noise_c))


def share(happens: Callable[[random.Random], bool]) -> float:
    return sum(happens(random.Random(seed)) for seed in range(SESSIONS)) / SESSIONS


def near(fit: Fit | None, truth: float) -> bool:
    return fit is not None and abs(fit.value / truth - 1) < 0.1


# --- the cup


@pytest.mark.parametrize(
    ("design", "at_least"),
    [(HURRIED, 0.60), (WAITING, 0.80), (STANDING, 0.95), (FOUR_SESSIONS, 0.90)],
    ids=["hurried", "waiting", "standing", "four sessions"],
)
def test_a_cup_s_loss_is_found_to_ten_percent(
    design: Sequence[tuple[float, float, Times]], at_least: float
) -> None:
    # Found: 0.66, 0.82, 0.97, 0.92.
    assert share(lambda rng: near(fit_cup_loss(cups_read(rng, design), room_c=ROOM_C), CUP_FACTOR)) >= at_least


def left_s(mass_g: float, start_c: float, factor: float) -> float:
    return seconds_until(cup(mass_g), start_c=start_c, until_c=165.0, room_c=ROOM_C, loss_factor=factor)


@pytest.mark.parametrize(("design", "at_least"), [(WAITING, 0.95), (STANDING, 0.99)], ids=["waiting", "standing"])
def test_the_time_from_175_to_165_is_found_to_15_seconds(
    design: Sequence[tuple[float, float, Times]], at_least: float
) -> None:
    # Found: 0.977, 1.0.
    truth_s = left_s(150, 175, CUP_FACTOR)
    assert abs(left_s(150, 175, 1.0) - truth_s) > 15.0, "without a fit the prediction is further off than that"

    def happens(rng: random.Random) -> bool:
        fit = fit_cup_loss(cups_read(rng, design), room_c=ROOM_C)
        return fit is not None and abs(left_s(150, 175, fit.value) - truth_s) < 15.0

    assert share(happens) >= at_least


def test_from_a_single_fresh_reading_the_thermometer_sets_the_limit() -> None:
    # 1.5 K at 0.13 K/s are 11 s: one reading at 175 degC misses the 15 s in a fifth of all sessions even when the
    # loss is known exactly, and the fit adds little to that. Found: 0.78 with the true loss, 0.76 with the fitted.
    truth_s = left_s(150, 175, CUP_FACTOR)

    def happens(rng: random.Random, *, fitted: bool) -> bool:
        fit = fit_cup_loss(cups_read(rng, STANDING), room_c=ROOM_C)
        factor = fit.value if fitted and fit is not None else CUP_FACTOR
        return abs(left_s(150, 175 + rng.gauss(0.0, NOISE_C), factor) - truth_s) < 15.0

    known = share(lambda rng: happens(rng, fitted=False))
    found = share(lambda rng: happens(rng, fitted=True))
    assert known < 0.9
    assert found > known - 0.05


def test_the_claimed_spread_of_a_cup_is_honest() -> None:
    # One sigma holds 68 % of normal errors.
    def happens(rng: random.Random) -> bool:
        fit = fit_cup_loss(cups_read(rng, WAITING), room_c=ROOM_C)
        return fit is not None and abs(math.log(fit.value / CUP_FACTOR)) < fit.spread

    assert 0.6 < share(happens) < 0.8


def test_two_readings_of_a_minute_are_better_than_none_and_never_wild() -> None:
    def happens(rng: random.Random) -> bool:
        fit = fit_cup_loss(cups_read(rng, [(200.0, 175.0, (0.0, 60.0))]), room_c=ROOM_C)
        return fit is None or (0.6 < fit.value < 2.0 and fit.spread > 0.12)

    assert share(happens) == 1.0


# --- the heater


HEATING: Times = (0.0, 130.0, 180.0, 210.0, 230.0)
"""Seconds on: before, after the first burst, then after three shorter ones."""


def test_what_the_heater_feeds_is_found_to_ten_percent_by_five_readings() -> None:
    # With the loss as the same session's cup shows it.
    def happens(rng: random.Random) -> bool:
        cooled = fit_cup_loss(cups_read(rng, WAITING), room_c=ROOM_C)
        factor = cooled.value if cooled else 1.0
        heated = CupStretch(cup=cup(200), readings=read(rng, HEATING, true_c(200.0, 22.0, HEATING, FED_W)))
        fit = fit_absorbed_power([heated], prior_w=PROFILE_W, room_c=ROOM_C, loss_factor=factor)
        return near(fit, FED_W)

    assert share(happens) == 1.0


def test_pauses_to_stir_and_read_cost_a_few_percent() -> None:
    # Off the heat for 15 s after each reading: no heating second tells of what the cup loses meanwhile. The mean
    # of what is found is 314 W.
    def happens(rng: random.Random) -> bool:
        temps, at_c = [22.0], 22.0
        for before_s, after_s in pairwise(HEATING):
            at_c = true_c(200.0, at_c, (after_s - before_s,), FED_W)[-1]
            temps.append(at_c)
            at_c = true_c(200.0, at_c, (15.0,), 0.0)[-1]
        heated = CupStretch(cup=cup(200), readings=read(rng, HEATING, temps))
        fit = fit_absorbed_power([heated], prior_w=PROFILE_W, room_c=ROOM_C, loss_factor=CUP_FACTOR)
        return fit is not None and 0.9 * FED_W < fit.value < 1.02 * FED_W

    assert share(happens) >= 0.97


def test_two_readings_round_one_long_burst_find_the_power() -> None:
    times: Times = (0.0, 120.0)

    def happens(rng: random.Random) -> bool:
        heated = CupStretch(cup=cup(200), readings=read(rng, times, true_c(200.0, 22.0, times, FED_W)))
        return near(fit_absorbed_power([heated], prior_w=PROFILE_W, room_c=ROOM_C, loss_factor=CUP_FACTOR), FED_W)

    assert share(happens) == 1.0


# --- the mould


HALF_HOUR: Times = (0.0, 450.0, 900.0, 1350.0, 1800.0)
HOUR: Times = (0.0, 900.0, 1800.0, 2700.0, 3600.0)


@pytest.mark.parametrize(
    ("times", "stays", "noise_c", "at_least"),
    [
        (HALF_HOUR, 1, NOISE_C, 0.60),
        (HOUR, 1, NOISE_C, 0.75),
        (HOUR, 2, NOISE_C, 0.87),
        (HOUR, 3, NOISE_C, 0.93),
        (HALF_HOUR, 1, 0.5, 0.95),
    ],
    ids=["half an hour", "an hour", "two hours apart", "three hours apart", "contact probe, half an hour"],
)
def test_a_mould_s_loss_is_found_to_ten_percent(times: Times, stays: int, noise_c: float, at_least: float) -> None:
    # Found: 0.65, 0.80, 0.90, 0.96, 0.99.
    def happens(rng: random.Random) -> bool:
        stretches = [mould_read(rng, 60.0, times, noise_c) for _ in range(stays)]
        return near(fit_mould_loss(stretches, room_c=ROOM_C, noise_c=noise_c), MOULD_FACTOR)

    assert share(happens) >= at_least


def test_five_readings_of_a_mould_are_enough_for_what_it_is_needed_for() -> None:
    # The mould ten minutes on, from 60 degC, to within the thermometer's own noise. Found: 0.987.
    truth_c = after_rest_c(
        Block(mass_g=1500.0, area_m2=0.06, loss_w_m2k=8 * MOULD_FACTOR), mould_c=60, seconds=600, room_c=ROOM_C
    )

    def happens(rng: random.Random) -> bool:
        fit = fit_mould_loss([mould_read(rng, 60.0, HALF_HOUR)], room_c=ROOM_C)
        if fit is None:
            return False
        block = Block(mass_g=1500.0, area_m2=0.06, loss_w_m2k=8 * fit.value)
        return abs(after_rest_c(block, mould_c=60, seconds=600, room_c=ROOM_C) - truth_c) < NOISE_C

    assert share(happens) >= 0.97


def test_readings_between_shots_leave_a_mould_close_to_its_prior() -> None:
    # Four minutes cool a mould by 3 K: ten such pairs tell little, and the fit says so.
    def happens(rng: random.Random) -> bool:
        fit = fit_mould_loss([mould_read(rng, 60.0, (0.0, 240.0)) for _ in range(10)], room_c=ROOM_C)
        return fit is None or (fit.spread > 0.12 and 0.4 < fit.value < 1.6)

    assert share(happens) == 1.0
