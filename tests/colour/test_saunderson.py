"""The surface between the plastic and the eye."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.colour.saunderson import K1, inside, outside


@pytest.mark.parametrize(
    ("internal", "with_gloss"),
    [(0.0, 0.04), (0.1, 0.080851), (0.2, 0.127273), (0.5, 0.314286), (0.8, 0.630769), (1.0, 1.0)],
)
def test_against_the_published_formula(internal: float, with_gloss: float) -> None:
    # E. Allen (1980), equation 24, k1 0.04 and k2 0.6; values computed with the gloss k1, which is left out here.
    assert outside((internal,))[0] == pytest.approx(with_gloss - K1, abs=1e-6)


@given(st.floats(0, 1))
def test_there_and_back(internal: float) -> None:
    assert inside(outside((internal,)))[0] == pytest.approx(internal, abs=1e-12)


@given(st.floats(0, 1))
def test_a_reading_never_comes_from_more_than_all_light(seen: float) -> None:
    assert 0.0 <= inside((seen,))[0] <= 1.0
