"""Bending K and S towards what was read."""

from __future__ import annotations

import pytest

from bench.colour.bands import BANDS_NM, flat
from bench.colour.difference import parts
from bench.colour.lab import Lab, lab_of
from bench.colour.layers import Medium, film, over
from bench.colour.swatch_refine import KNOTS_NM, bent, refined

START = Medium(k_per_mm=flat(0.4), s_per_mm=flat(0.6))
FILMS_MM = (0.5, 2.0)


def looks(medium: Medium) -> list[Lab]:
    return [lab_of(over(film(medium, mm), flat(card))) for mm in FILMS_MM for card in (0.85, 0.05)]


def test_no_bend_changes_nothing_and_each_knot_bends_its_own_place() -> None:
    assert bent(START, [0.0] * 10) == START
    one = bent(START, [0.0, 0.0, 1.0, 0.0, 0.0] + [0.0] * 5)
    assert one.s_per_mm == START.s_per_mm
    assert one.k_per_mm[BANDS_NM.index(550)] == pytest.approx(0.4 * 2.718281828)
    assert one.k_per_mm[BANDS_NM.index(470)] == pytest.approx(0.4)
    assert one.k_per_mm[0] == one.k_per_mm[-1] == 0.4
    assert len(KNOTS_NM) == 5


def test_a_bend_is_found_from_its_colours() -> None:
    true = bent(START, [0.0, 0.6, -0.4, 0.3, 0.0, 0.0, -0.2, 0.1, 0.2, 0.0])
    wanted = looks(true)

    def misses(medium: Medium) -> list[float]:
        return [each for lab, found in zip(wanted, looks(medium), strict=True) for each in parts(lab, found)[:3]]

    before, after = misses(START), misses(refined(START, misses))
    assert max(map(abs, before)) > 5.0
    assert max(map(abs, after)) < 0.5


def test_what_fits_already_stays() -> None:
    wanted = looks(START)
    found = refined(
        START, lambda medium: [x for a, b in zip(wanted, looks(medium), strict=True) for x in parts(a, b)[:3]]
    )
    assert found.k_per_mm == pytest.approx(START.k_per_mm, rel=1e-6)
