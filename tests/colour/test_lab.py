"""What the standard observer sees: tables, L*a*b* and hex against measured patches and an independent library."""

from __future__ import annotations

import pytest
from coloraide import Color, cmfs
from coloraide.illuminants import D65
from hypothesis import given
from hypothesis import strategies as st

from bench.colour.bands import BANDS_NM, flat
from bench.colour.difference import de2000
from bench.colour.lab import (
    Lab,
    lab_from_hex,
    lab_of,
    shown,
    shown_from_xyz,
    shown_lab,
    xyz_from_hex,
    xyz_from_lab,
)
from bench.colour.observer import WEIGHTS_X, WEIGHTS_Y, WEIGHTS_Z, luminous, xyz
from bench.errors import BenchError
from tests.physics.figures import rows

HEXES = st.integers(0, 0xFFFFFF).map(lambda code: f"#{code:06x}")


@pytest.mark.parametrize("row", rows("colorchecker.tsv"), ids=lambda row: row["name"])
def test_measured_patches(row: dict[str, str]) -> None:
    # Measured reflectances with XYZ and L*a*b* by ASTM E308 (colour-science 0.4.7).
    measured = tuple(float(row[f"R{nm}"]) for nm in BANDS_NM)
    assert xyz(measured) == pytest.approx([float(row[key]) for key in "XYZ"], abs=2e-5)
    assert de2000(Lab(*(float(row[key]) for key in "Lab")), lab_of(measured)) < 0.002


def test_a_perfect_white_is_the_white_of_daylight() -> None:
    # ASTM E308, table 6 for D65 and the 2 degree observer: white 95.047, 100, 108.883 (from memory).
    assert xyz(flat(1.0)) == pytest.approx([0.95047, 1.0, 1.08883], abs=1e-5)
    assert luminous(flat(0.25)) == pytest.approx(0.25, abs=1e-6)
    assert shown(flat(1.0)) == ("#ffffff", False)


def test_weights_from_the_tables_of_the_observer_and_of_daylight() -> None:
    # Another way to the same weights: 1 nm tables of coloraide, each 1 nm product shared linearly between the two
    # bands beside it. ASTM E2022 shares by cubics, so single weights differ a little and their sums do not.
    first, last = BANDS_NM[0], BANDS_NM[-1]
    shares = {nm: [0.0, 0.0, 0.0] for nm in BANDS_NM}
    for nm in range(360, 781):
        low = 5 * (nm // 5)
        light = D65[low] + (nm - low) / 5 * (D65[min(780, low + 5)] - D65[low])
        inside = min(last, max(first, nm))
        below = min(last - 10, 10 * (inside // 10))
        for at, value in enumerate(cmfs.CIE_1931_2DEG[nm]):
            shares[below][at] += light * value * (below + 10 - inside) / 10
            shares[below + 10][at] += light * value * (inside - below) / 10
    total = sum(share[1] for share in shares.values())
    for at, ours in enumerate((WEIGHTS_X, WEIGHTS_Y, WEIGHTS_Z)):
        theirs = [share[at] / total for share in shares.values()]
        assert sum(ours) == pytest.approx(sum(theirs), abs=1e-5)
        assert ours == pytest.approx(theirs, abs=0.004)


@given(HEXES)
def test_hex_against_an_independent_library(text: str) -> None:
    # coloraide's sRGB and L*a*b* (D65).
    theirs = Color(text).convert("lab-d65").coords()
    ours = lab_from_hex(text)
    assert ours == pytest.approx(theirs, abs=1e-4)
    assert shown_lab(ours) == (text, False)
    assert xyz_from_lab(ours) == pytest.approx(xyz_from_hex(text), abs=1e-12)


def test_a_colour_no_screen_can_show_says_so() -> None:
    green = tuple(1.0 if 510 <= nm <= 540 else 0.0 for nm in BANDS_NM)
    nearest = shown(green)
    assert nearest.clipped
    assert nearest.hex.startswith("#00")
    assert shown_from_xyz((0.2, 0.2, 0.2)).clipped is False


@pytest.mark.parametrize("text", ["7A4B2C", "#7a4b2c", " #7a4b2c ", "#abc"])
def test_ways_to_write_a_colour(text: str) -> None:
    assert lab_from_hex(text).lightness > 0
    assert lab_from_hex("#abc") == lab_from_hex("#aabbcc")


@pytest.mark.parametrize("text", ["", "#12345", "red", "#12345g", "#1234567", "\x1b[31m", "#١٢٣٤٥٦"])
def test_what_is_no_colour_is_refused_by_name(text: str) -> None:
    with pytest.raises(
        BenchError, match=r"over white: .* is not a colour; give three or six hex digits"
    ) as refusal:
        lab_from_hex(text, field="over white")
    assert str(refusal.value).isprintable()
