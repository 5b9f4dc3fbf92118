"""When a bait can be handled."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from bench.physics.conduction import Layer, Shape, Transient
from bench.physics.cooling import WALL_CONDUCTANCE_W_M2K, Section, cool_solid
from bench.physics.substance import SOFT_PLASTISOL
from bench.physics.touch import AIR_FILM_W_M2K, WATER_FILM_W_M2K, Touch, left_hottest_c, time_to_touch
from tests.physics.series import cylinder_series, fourier_at


def touch(*, around_c: float = 20.0, film_w_m2k: float = WATER_FILM_W_M2K, start_c: float = 60.0) -> Touch:
    return time_to_touch(SOFT_PLASTISOL, body_mm=12.0, start_c=start_c, around_c=around_c, film_w_m2k=film_w_m2k)


@pytest.mark.parametrize("film_w_m2k", [AIR_FILM_W_M2K, WATER_FILM_W_M2K])
def test_the_hottest_point_by_the_exact_series(film_w_m2k: float) -> None:
    pairs = cylinder_series(film_w_m2k * 6e-3 / SOFT_PLASTISOL.k_w_mk)
    per_fourier_s = 6e-3**2 / SOFT_PLASTISOL.diffusivity_m2_s
    found = touch(film_w_m2k=film_w_m2k)
    assert found.brief_s == pytest.approx(per_fourier_s * fourier_at(pairs, 28 / 40), rel=5e-3)
    assert found.bare_s == pytest.approx(per_fourier_s * fourier_at(pairs, 23 / 40), rel=5e-3)


def test_water_is_quicker_than_air_and_bare_hands_wait_longer() -> None:
    air, water = touch(film_w_m2k=AIR_FILM_W_M2K), touch()
    assert water.brief_s < water.bare_s < air.bare_s
    assert water.brief_s < air.brief_s < air.bare_s


def test_a_cool_bait_needs_no_wait() -> None:
    assert touch(start_c=40.0) == Touch(brief_s=0.0, bare_s=0.0)


def test_warm_surroundings_are_refused() -> None:
    with pytest.raises(BenchError, match="never let a bait fall to 43 °C"):
        touch(around_c=43.0)


def test_what_a_mould_leaves_hot_by_the_exact_series() -> None:
    """Axis of a long cylinder that begins evenly at 60 degC in a mould at 40 degC."""
    film_w_m2k = 1000.0
    pairs = cylinder_series(film_w_m2k * 6e-3 / SOFT_PLASTISOL.k_w_mk)
    seconds = 6e-3**2 / SOFT_PLASTISOL.diffusivity_m2_s * fourier_at(pairs, 0.25)
    left_c = left_hottest_c(
        SOFT_PLASTISOL, body_mm=12.0, start_c=60.0, mould_c=40.0, seconds=seconds, film_w_m2k=film_w_m2k
    )
    assert left_c == pytest.approx(45.0, abs=0.05)


def test_what_is_left_hot_is_never_cooler_than_the_whole_cooling_from_the_shot() -> None:
    """``Coolings`` marches the same body from its shot on; here only its end of the set is known."""
    section = Section(body_mm=10.0, gate_mm=4.0)
    for mould_c in (22.0, 40.0, 50.0):
        solid = cool_solid(section, SOFT_PLASTISOL, shot_c=170.0, mould_c=mould_c)
        whole = Transient(
            [Layer(thickness_mm=5.0, substance=SOFT_PLASTISOL, start_c=170.0)],
            shape=Shape.CYLINDER,
            around_c=mould_c,
            film_w_m2k=WALL_CONDUCTANCE_W_M2K,
        )
        for more_s in (0.0, 10.0, 60.0, 300.0, 6000.0):
            left_c = left_hottest_c(
                SOFT_PLASTISOL,
                body_mm=10.0,
                start_c=60.0,
                mould_c=mould_c,
                seconds=more_s,
                film_w_m2k=WALL_CONDUCTANCE_W_M2K,
            )
            assert left_c >= whole.hottest_c(solid.body_s + more_s, layer=0) - 1e-6
            assert mould_c - 1e-6 <= left_c <= 60.0


def test_a_mould_as_hot_as_its_bait_cools_nothing() -> None:
    left_c = left_hottest_c(
        SOFT_PLASTISOL, body_mm=10.0, start_c=60.0, mould_c=61.0, seconds=1e4, film_w_m2k=1000.0
    )
    assert left_c == 60.0
