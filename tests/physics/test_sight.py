"""How large a character looks: against the heights that standards ask for, and an optician's chart."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.physics.sight import (
    LEAST_ARCMIN,
    PREFERRED_ARCMIN,
    arc_arcmin,
    distance_for_mm,
    height_for_mm,
)


def test_the_limits_are_those_of_the_standard() -> None:
    """ISO 9241-3 as quoted by IBM's page on healthy computing (confirmed in a stored public copy)."""
    assert LEAST_ARCMIN == 16
    assert PREFERRED_ARCMIN == (20, 22)


# Heights in mm for 16, 20 and 22 minutes of arc, computed from h = 2 d tan(angle / 2) and rounded to 0.01 mm.
@pytest.mark.parametrize(
    ("distance_m", "heights_mm"),
    [
        (0.6, (2.79, 3.49, 3.84)),
        (1.0, (4.65, 5.82, 6.40)),
        (1.5, (6.98, 8.73, 9.60)),
        (2.0, (9.31, 11.64, 12.80)),
        (3.0, (13.96, 17.45, 19.20)),
    ],
)
def test_heights_at_a_distance(distance_m: float, heights_mm: tuple[float, float, float]) -> None:
    for arcmin, height_mm in zip((LEAST_ARCMIN, *PREFERRED_ARCMIN), heights_mm, strict=True):
        assert height_for_mm(arcmin=arcmin, distance_mm=1000 * distance_m) == pytest.approx(height_mm, abs=0.005)
        assert arc_arcmin(height_mm=height_mm, distance_mm=1000 * distance_m) == pytest.approx(arcmin, rel=2e-3)


def test_a_letter_of_the_normal_line_on_an_eye_chart() -> None:
    """Snellen's letter for normal sight: 5 minutes of arc from 6 m, 8.7 mm high (from memory)."""
    assert arc_arcmin(height_mm=8.73, distance_mm=6000) == pytest.approx(5.0, abs=0.01)


def test_a_two_hundredth_of_the_distance() -> None:
    """The rule of the Federal Aviation Administration, height = distance / 200 (confirmed in a stored public
    copy), is 17.19 minutes of arc (computed)."""
    assert arc_arcmin(height_mm=1.0, distance_mm=200.0) == pytest.approx(17.19, abs=0.005)


@given(st.floats(min_value=0.1, max_value=1000), st.floats(min_value=100, max_value=1e5))
def test_height_distance_and_angle_agree(height_mm: float, distance_mm: float) -> None:
    arcmin = arc_arcmin(height_mm=height_mm, distance_mm=distance_mm)
    assert height_for_mm(arcmin=arcmin, distance_mm=distance_mm) == pytest.approx(height_mm)
    assert distance_for_mm(height_mm=height_mm, arcmin=arcmin) == pytest.approx(distance_mm)
