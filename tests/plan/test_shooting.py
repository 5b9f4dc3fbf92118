"""One shot: what it does to the mould, and what becomes of the shells."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bench.errors import BenchError
from bench.model.mould import Mould, Section
from bench.model.plastic import Plastic
from bench.model.recipe import Build
from bench.plan.amounts import ShotVolume
from bench.plan.records import Ask, Shot
from bench.plan.scope import Scope, settle
from bench.plan.sets import SetTimes
from bench.plan.shooting import Shooter, shell_after_air_c, start_c, window_top_c
from tests.plan.bench_records import MOULD, PLASTIC, STATION, recipe

RELAXATION_S = 1.5 * 896.0 / (8.0 * 0.05)


def scope_of(
    build: Build = Build.PLAIN, *, mould: Mould = MOULD, plastic: Plastic = PLASTIC, warm_up_shots: int = 0
) -> Scope:
    return settle(
        recipe=recipe(build),
        mould=mould,
        plastic=plastic,
        station=STATION,
        ask=Ask(count=20, warm_up_shots=warm_up_shots),
    )


def shooter(scope: Scope) -> Shooter:
    return Shooter(scope, SetTimes(scope))


def whole_shot(volume_ml: float) -> ShotVolume:
    return ShotVolume(shot=Shot.WHOLE, parts=(), cavities_ml=volume_ml, runner_ml=0.0)


def test_the_mould_takes_up_the_shots_heat_and_loses_some_while_it_sets() -> None:
    scope = scope_of()
    shot = shooter(scope).shoot(whole_shot(30.0), mould_c=45.0)
    grams = (30.0 + shot.plan.top_off_ml) * 1.030 / (1 + 6e-4 * 150)
    hot_c = 45.0 + grams * 1.8 * (170.0 - shot.mean_open_c) / (1500.0 * 0.896)
    seconds = 12.0 + shot.plan.set_s
    assert shot.seconds == pytest.approx(seconds)
    assert shot.after_c == pytest.approx(20.0 + (hot_c - 20.0) * math.exp(-seconds / RELAXATION_S))


def test_a_shot_of_60_g_warms_a_mould_of_1500_g_by_about_8_degrees() -> None:
    # Common practice, no source. Looked at just after the push: what is lost while it sets is given back.
    scope = scope_of()
    shot = shooter(scope).shoot(whole_shot(60.0 * 1.09 / 1.030), mould_c=45.0)
    hot_c = 20.0 + (shot.after_c - 20.0) * math.exp(shot.seconds / RELAXATION_S)
    assert hot_c - 45.0 == pytest.approx(8.0, rel=0.25)


def test_the_top_off_is_what_shrinks_while_the_gate_is_open() -> None:
    scope = scope_of()
    shot = shooter(scope).shoot(whole_shot(30.0), mould_c=45.0)
    hold_mean_c = SetTimes(scope).of(Shot.WHOLE, mould_c=45.0).hold_mean_c
    assert shot.plan.top_off_ml == pytest.approx(30.0 * 6e-4 * (170.0 - hold_mean_c))


def test_a_gate_thicker_than_the_body_keeps_the_mould_shut() -> None:
    scope = scope_of(mould=replace(MOULD, section=Section(body_mm=5.0, gate_mm=10.0, tail_mm=2.0), rods=None))
    shot = shooter(scope).shoot(whole_shot(30.0), mould_c=45.0)
    assert shot.plan.hold_s > shot.plan.set_s
    assert shot.seconds == pytest.approx(12.0 + shot.plan.hold_s)


def test_a_rest_ends_where_the_time_ahead_does_the_remainder() -> None:
    bench = shooter(scope_of())
    rest_s = bench.rest_s(58.0, ahead_s=100.0, until_c=50.0)
    assert rest_s == pytest.approx(RELAXATION_S * math.log(38.0 / 30.0) - 100.0)
    assert bench.cooled_c(58.0, rest_s + 100.0) == pytest.approx(50.0)
    assert bench.rest_s(50.5, ahead_s=100.0, until_c=50.0) == 0.0
    assert bench.rest_s(50.03, ahead_s=0.0, until_c=50.0) == 0.0  # under five seconds is no rest


def test_warm_up_shots_are_left_for_the_slowest_of_them() -> None:
    scope = scope_of(warm_up_shots=3)
    warm_up = shooter(scope).warm_up(42.0)
    slowest = SetTimes(scope).of(Shot.WHOLE, mould_c=warm_up.before_last_c).set_s
    assert warm_up.set_s == pytest.approx(slowest, rel=0.02)
    assert warm_up.set_s >= slowest
    assert warm_up.seconds == pytest.approx(3 * (12.0 + warm_up.set_s + 4 * 5.0))
    assert 42.0 < warm_up.before_last_c < warm_up.after_c


def test_no_warm_up_shots_change_nothing() -> None:
    warm_up = shooter(scope_of()).warm_up(42.0)
    assert (warm_up.set_s, warm_up.seconds, warm_up.after_c) == (0.0, 0.0, 42.0)


def test_a_shell_cools_in_air_as_a_thin_wall() -> None:
    # Lumped capacity (any heat transfer textbook): 112 s out, film 10 W/m2K on the outside of a ring 4 to 10 mm.
    area_over_volume = 0.010 / ((0.010**2 - 0.004**2) / 4)
    relaxation_s = 1030.0 * 1800.0 / (10.0 * area_over_volume)
    expected = 20.0 + (52.0 - 20.0) * math.exp(-112.0 / relaxation_s)
    assert shell_after_air_c(scope_of(Build.CORE), mean_open_c=52.0) == pytest.approx(expected)
    assert 20.0 < expected < 52.0


def test_the_window_ends_before_plastic_stops_setting() -> None:
    assert window_top_c(scope_of()) == 50.0
    wide = scope_of(mould=replace(MOULD, warm_c=(40.0, 60.0)))
    assert window_top_c(wide) == 58.0
    assert start_c(wide.mould, wide.station) == 50.0


def test_a_window_above_all_setting_is_refused() -> None:
    with pytest.raises(BenchError, match="begins at 58 °C, too warm for Soft to set"):
        window_top_c(scope_of(mould=replace(MOULD, warm_c=(58.0, 70.0))))
