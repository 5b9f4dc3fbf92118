"""A reflectance for a colour."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.colour.bands import BANDS_NM
from bench.colour.difference import de2000
from bench.colour.lab import Lab, lab_from_hex, lab_of
from bench.colour.recover import from_hex, from_lab
from bench.errors import BenchError
from tests.physics.figures import rows

HEXES = st.integers(0, 0xFFFFFF).map(lambda code: f"#{code:06x}")


def miss(text: str) -> float:
    spectrum = from_hex(text)
    assert min(spectrum) > 0.0
    assert max(spectrum) < 1.0
    return de2000(lab_from_hex(text), lab_of(spectrum))


def test_a_dense_grid_of_colours_comes_back() -> None:
    steps = [*range(0, 256, 32), 255]
    worst = max(miss(f"#{r:02x}{g:02x}{b:02x}") for r, g, b in itertools.product(steps, repeat=3))
    assert worst < 0.1


@given(HEXES)
def test_any_colour_comes_back(text: str) -> None:
    assert miss(text) < 0.5


@pytest.mark.parametrize(
    "text", ["#000000", "#000001", "#010001", "#ffffff", "#fffffe", "#0000ff", "#ffff00", "#00ffff"]
)
def test_the_corners_come_back(text: str) -> None:
    assert miss(text) < 0.5


def test_measured_patches_are_met_in_shape_too() -> None:
    # Measured reflectances of a colour chart; the smoothest curve is no measurement, but it is not far from one.
    squares = []
    for row in rows("colorchecker.tsv"):
        measured = [float(row[f"R{nm}"]) for nm in BANDS_NM]
        curve = from_lab(Lab(*(float(row[key]) for key in "Lab")))
        assert de2000(lab_of(curve), Lab(*(float(row[key]) for key in "Lab"))) < 0.01
        squares += [(a - b) ** 2 for a, b, nm in zip(curve, measured, BANDS_NM, strict=True) if 400 <= nm < 700]
    assert math.sqrt(sum(squares) / len(squares)) < 0.05


def test_a_grey_is_flat() -> None:
    curve = from_hex("#808080")
    assert max(curve) - min(curve) < 0.002


@given(st.builds(Lab, st.floats(0, 100), st.floats(-128, 128), st.floats(-128, 128)))
def test_a_colour_that_cannot_be_is_drawn_in(lab: Lab) -> None:
    curve = from_lab(lab)
    assert min(curve) > 0.0
    assert max(curve) < 1.0


def test_what_is_no_colour_is_refused() -> None:
    with pytest.raises(BenchError, match="over black"):
        from_hex("grey", field="over black")
