"""When a bait can be handled."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from bench.physics.substance import SOFT_PLASTISOL
from bench.physics.touch import AIR_FILM_W_M2K, WATER_FILM_W_M2K, Touch, time_to_touch
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
