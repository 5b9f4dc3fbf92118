"""What swatches, vanishing lines and flakes may not say, by key; what a camera's noise may do is let pass."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from bench.colour.lab import lab_from_hex
from bench.colour.observer import luminous
from bench.colour.recover import from_hex
from bench.errors import Fault
from bench.model.colourant import Colourant, ColourantKind
from bench.model.swatch import BLACK_CARD, WHITE_CARD, FlakeCut, Swatch, Vanishing

GOOD = Swatch(load_pct=1.0, thickness_mm=1.0, over_white="#a07635", over_black="#231c0e")
DYE = Colourant(name="dye", title="Dye", kind=ColourantKind.DYE)
CUT = FlakeCut(size_mm=1.0, colour="#c0c0c0")


def keys(colourant: Colourant) -> list[str]:
    return [fault.key for fault in colourant.faults()]


def test_the_starting_cards_are_what_they_are_said_to_be() -> None:
    # 85 % and 4 % of the light: IEC 61966-2-1 codes 0xed and 0x38.
    assert luminous(from_hex(WHITE_CARD)) == pytest.approx(0.85, abs=0.01)
    assert luminous(from_hex(BLACK_CARD)) == pytest.approx(0.04, abs=0.002)


def test_a_sound_film_and_a_colourant_without_any_have_no_faults() -> None:
    assert keys(DYE) == []
    assert keys(replace(DYE, swatch=(GOOD, GOOD))) == []
    assert keys(replace(DYE, vanishing=Vanishing(thickness_mm=2.0, load_pct=1.0, deep_colour="#7a4b2c"))) == []
    assert keys(replace(DYE, swatch=(GOOD,), vanishing=Vanishing(thickness_mm=2.0, load_pct=1.0))) == []


@pytest.mark.parametrize("name", ["over_white", "over_black", "white_card", "black_card"])
def test_each_reading_must_be_a_colour(name: str) -> None:
    changes: dict[str, Any] = {name: "#12345"}
    broken = replace(GOOD, **changes)
    (fault,) = replace(DYE, swatch=(GOOD, broken)).faults()
    assert fault == Fault(
        key=f"swatch[1].{name}", found='"#12345"', wanted='a colour in six hex digits such as "#7a4b2c"'
    )


@pytest.mark.parametrize(
    ("film", "key"),
    [
        (replace(GOOD, white_card="#404040", black_card="#101010"), "swatch[0].over_white"),
        (replace(GOOD, over_black="#c0c0c0"), "swatch[0].over_black"),
        (replace(GOOD, black_card="#ededed"), "swatch[0].black_card"),
        (replace(GOOD, load_pct=0.0), "swatch[0].load"),
    ],
)
def test_what_no_film_can_show(film: Swatch, key: str) -> None:
    assert keys(replace(DYE, swatch=(film,))) == [key]


def test_noise_of_a_camera_is_no_fault() -> None:
    lighter = "#f2f2f2"
    assert 0 < lab_from_hex(lighter).lightness - lab_from_hex(WHITE_CARD).lightness < 4
    assert keys(replace(DYE, swatch=(replace(GOOD, over_white=lighter),))) == []


def test_a_vanishing_line_without_any_hue_is_refused() -> None:
    assert keys(replace(DYE, vanishing=Vanishing(thickness_mm=2.0, load_pct=1.0))) == ["vanishing.deep_colour"]
    line = Vanishing(thickness_mm=2.0, load_pct=0.0, deep_colour="brown")
    assert keys(replace(DYE, vanishing=line)) == ["vanishing.load", "vanishing.deep_colour"]


def test_flake_belongs_to_flakes() -> None:
    flake = replace(DYE, kind=ColourantKind.FLAKE)
    assert keys(replace(flake, flake=CUT)) == []
    assert keys(replace(DYE, flake=CUT)) == ["flake"]
    assert keys(replace(flake, swatch=(GOOD,))) == ["swatch"]
    assert keys(replace(flake, flake=replace(CUT, film_mm=1.0))) == ["flake.film"]
