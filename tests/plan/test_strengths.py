"""From swatches and vanishing lines in profiles to what the colour package reckons with."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.colour.swatch import rough_strength, vanishing_scale
from bench.model.colourant import Colourant, ColourantKind
from bench.model.swatch import CardFilm, Swatch, Vanishing
from bench.plan.strengths import CLEAR, base_of, part_colour, swatch_faults, tinting
from tests.colour.media import BROWN_DYE
from tests.plan.bench_records import PLASTIC
from tests.plan.looks import COLOURANTS, cup, swatch

DYE = Colourant(name="dye", title="Dye", kind=ColourantKind.DYE)


def test_a_plastic_that_nobody_read_is_clear_and_a_read_one_is_its_film() -> None:
    assert base_of(PLASTIC) is CLEAR
    # 8 mm of something straw-coloured and hazy.
    film = CardFilm(thickness_mm=8.0, over_white="#d8d0a8", over_black="#585850")
    base = base_of(replace(PLASTIC, bare=film))
    assert base.k_per_mm[5] > 2 * base.k_per_mm[25], "more is lost of blue than of red"
    assert min(base.s_per_mm) > CLEAR.s_per_mm[0]


def test_a_vanishing_line_alone_is_a_rough_strength() -> None:
    line = Vanishing(thickness_mm=2.4, load_pct=0.5, deep_colour="#7a4b2c")
    found = tinting(replace(DYE, vanishing=line), CLEAR)
    assert found.strength == rough_strength("#7a4b2c", load_pct=0.5, vanishing_mm=2.4, base=CLEAR)
    assert found.agreement is None


def test_beside_swatches_a_vanishing_line_sets_the_strength() -> None:
    red = COLOURANTS["red"]
    by_films = tinting(red, CLEAR)
    assert by_films.strength is not None
    lined = tinting(replace(red, vanishing=Vanishing(thickness_mm=0.9, load_pct=2.0)), CLEAR)
    assert lined.strength is not None
    factor = vanishing_scale(by_films.strength, load_pct=2.0, vanishing_mm=0.9, base=CLEAR)
    assert factor != pytest.approx(1.0, abs=0.05)
    for one, other in zip(lined.strength.k_per_mm_pct, by_films.strength.k_per_mm_pct, strict=True):
        assert one == pytest.approx(factor * other)
    assert lined.agreement == by_films.agreement


@pytest.mark.parametrize(
    ("colourant", "words"),
    [
        (DYE, "it has no swatch; pour a film"),
        (COLOURANTS["flake"], "flake is strewn"),
        (
            replace(
                DYE,
                swatch=(Swatch(load_pct=5.0, thickness_mm=2.0, over_white="#7a2010", over_black="#7a2010"),),
            ),
            "nothing shines through 2 mm at 5 %",
        ),
        (
            replace(
                DYE,
                swatch=(swatch(BROWN_DYE, 0.01, 0.2),),
            ),
            "can hardly be told from the bare base",
        ),
        (
            replace(DYE, vanishing=Vanishing(thickness_mm=1e-9, load_pct=1e-6, deep_colour="#7a2010")),
            "no strength",
        ),
    ],
)
def test_what_is_not_known_is_said_in_words(colourant: Colourant, words: str) -> None:
    found = tinting(colourant, CLEAR)
    assert found.strength is None
    assert words in found.why


def test_flakes_of_one_part_add_their_shadows() -> None:
    flake = COLOURANTS["flake"]
    assert flake.flake is not None
    dark = replace(flake, name="dark", flake=replace(flake.flake, colour="#202020", film_mm=0.0508))
    shelf = {"flake": flake, "dark": dark}

    def eta(**doses: float) -> float:
        flaked = part_colour(cup(doses), colourants=shelf, plastic=PLASTIC).flaked
        return 0.0 if flaked is None else flaked.eta_per_mm

    assert eta() == 0.0
    assert eta(dark=0.5) == pytest.approx(eta(flake=0.5) / 2), "twice the film, half the flakes' area"
    assert eta(dark=0.5, flake=0.5) == pytest.approx(eta(dark=0.5) + eta(flake=0.5))
    both = part_colour(cup({"dark": 1.0, "flake": 0.5}), colourants=shelf, plastic=PLASTIC).flaked
    one = part_colour(cup({"flake": 0.5}), colourants=shelf, plastic=PLASTIC).flaked
    assert both is not None
    assert one is not None
    assert both.reflectance[10] < one.reflectance[10]


@pytest.mark.parametrize("size", [1e-300, 1e-200, 1e200])
def test_films_beyond_all_numbers_are_unknown_and_no_defect(size: float) -> None:
    film = Swatch(thickness_mm=size, load_pct=1e-300, over_white="#7a5038", over_black="#281a12")
    odd = Colourant(name="odd", title="Odd", kind=ColourantKind.DYE, swatch=(film,))
    found = tinting(odd, base_of(PLASTIC))
    assert found.strength is not None or found.why
    assert len(list(swatch_faults(odd))) == (found.strength is None)
