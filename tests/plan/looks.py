"""Colourants with swatches for the look's tests, read off made-up media, and a look of any build with them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from bench.colour.bands import flat
from bench.colour.lab import shown
from bench.colour.layers import film, over
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.saunderson import outside
from bench.model.colourant import Colourant, ColourantKind
from bench.model.mould import Mould
from bench.model.recipe import PARTS, Build, Dose, Part, PartRecipe, Recipe, Tail
from bench.model.swatch import FlakeCut, Swatch
from bench.plan.look import NO_CUPS, look_at
from bench.plan.look_records import RecipeLook
from bench.plan.strengths import CLEAR
from tests.colour import media
from tests.plan.bench_records import MOULD, PLASTIC

Doses = Mapping[str, float]


def swatch(strength: Strength, load_pct: float, thickness_mm: float) -> Swatch:
    """The film as it would be read in perfect light."""
    coloured = film(mix(CLEAR, [Loaded(strength=strength, load_pct=load_pct)]), thickness_mm)
    white, black = (shown(outside(over(coloured, flat(card)))).hex for card in (0.85, 0.04))
    return Swatch(load_pct=load_pct, thickness_mm=thickness_mm, over_white=white, over_black=black)


def _read(name: str, kind: ColourantKind, strength: Strength, *films: tuple[float, float]) -> Colourant:
    return Colourant(
        name=name,
        title=name.capitalize(),
        kind=kind,
        drop_g=0.03 if kind is not ColourantKind.PEARL else None,
        swatch=tuple(swatch(strength, load_pct, mm) for load_pct, mm in films),
    )


COLOURANTS: Mapping[str, Colourant] = {
    each.name: each
    for each in (
        _read("brown", ColourantKind.DYE, media.BROWN_DYE, (1.0, 1.0), (0.25, 1.0)),
        _read("green", ColourantKind.DYE, media.GREEN_DYE, (0.5, 1.0), (0.15, 1.0)),
        _read("blue", ColourantKind.PIGMENT, media.BLUE, (0.5, 0.5), (0.5, 0.15)),
        _read("red", ColourantKind.PIGMENT, media.RED, (0.5, 0.5), (2.0, 0.5)),
        _read("white", ColourantKind.PIGMENT, media.WHITE, (0.1, 0.5), (0.4, 0.5)),
        _read("pearl", ColourantKind.PEARL, media.PEARL, (0.1, 1.0), (0.4, 1.0)),
        Colourant(name="riddle", title="Riddle", kind=ColourantKind.DYE),
        Colourant(
            name="flake",
            title="Flake",
            kind=ColourantKind.FLAKE,
            flake=FlakeCut(size_mm=1.0, colour="#c8c8c8"),
        ),
        Colourant(name="nameless-flake", title="Nameless flake", kind=ColourantKind.FLAKE),
        replace(_read("glow", ColourantKind.FLUORESCENT, media.YELLOW, (0.5, 0.5), (2.0, 0.5)), title="Glow"),
    )
}

BODY: Doses = {"brown": 0.1, "pearl": 0.05}
RED_CORE: Doses = {"red": 0.5, "white": 0.2}


def cup(doses: Doses, share_pct: float = 100.0) -> PartRecipe:
    """A part of these loads."""
    return PartRecipe(
        doses=tuple(Dose(colourant=name, load_pct=load) for name, load in doses.items()), share_pct=share_pct
    )


def recipe_of(build: Build, tail: Tail = Tail.KEPT, **parts: Doses) -> Recipe:
    """A recipe of that build; parts that are not given are of BODY, the core of RED_CORE. Sides share 60 to 40."""
    shares = {Part.SIDE_A: 60.0, Part.SIDE_B: 40.0, Part.SHELL_A: 60.0, Part.SHELL_B: 40.0}
    return Recipe(
        name="ember",
        title="Ember",
        build=build,
        plastic="soft",
        tail=tail,
        parts={
            part: cup(parts.get(part.value, RED_CORE if part is Part.CORE else BODY), shares.get(part, 100.0))
            for part in PARTS[build]
        },
    )


def look_of(
    build: Build,
    tail: Tail | None = None,
    *,
    mould: Mould = MOULD,
    cups_g: Mapping[Part, float] = NO_CUPS,
    moving: str = "",
    **parts: Doses,
) -> RecipeLook:
    """The look of such a recipe in the tests' mould."""
    return look_at(
        recipe=recipe_of(build, Tail.KEPT, **parts),
        mould=mould,
        plastic=PLASTIC,
        colourants=COLOURANTS,
        tail=tail,
        cups_g=cups_g,
        moving=moving,
    )
