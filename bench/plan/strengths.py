"""From a profile's swatches to what its colour does to light in a plastic, or why that is not known."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from bench.colour.bands import by_wavelength, flat
from bench.colour.flake import Flaked, eta_per_mm
from bench.colour.layers import Medium
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.recover import from_hex
from bench.colour.saunderson import inside
from bench.colour.swatch import Swatch as Film
from bench.colour.swatch import base_from, rough_strength, strength_from, vanishing_scale
from bench.errors import BenchError, Fault, quoted
from bench.model.colourant import Colourant, ColourantKind
from bench.model.plastic import Plastic
from bench.model.recipe import PartRecipe
from bench.model.swatch import CardFilm, FlakeCut, Swatch, Vanishing

CLEAR = Medium(k_per_mm=by_wavelength(lambda nm: 0.003 + 0.012 * math.exp(-(nm - 380) / 50)), s_per_mm=flat(0.004))
"""Starting value for a clear plastic that nobody has read, a little straw-coloured; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Tinting:
    """What a colourant does to light. ``strength`` is None where that is not known; ``why`` then says so in words
    that fit after "unknown:". ``agreement`` is how far its swatches are missed, CIEDE2000."""

    strength: Strength | None
    why: str = ""
    agreement: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class PartColour:
    """One part's plastic as light sees it.

    ``doses`` are those that colour the plastic, in the recipe's order, flake not among them. ``medium`` is None
    when one of them is not known: ``unknown`` says which and why, a sentence each. ``notes`` say what is left out.
    """

    doses: tuple[tuple[Colourant, Loaded], ...]
    medium: Medium | None
    flaked: Flaked | None
    unknown: tuple[str, ...]
    notes: tuple[str, ...]


def base_of(plastic: Plastic | None) -> Medium:
    """The bare plastic. Raises BenchError when its film cannot be read."""
    return _base(None if plastic is None else plastic.bare)


@lru_cache(maxsize=32)
def _base(bare: CardFilm | None) -> Medium:
    return CLEAR if bare is None else base_from([_film(bare, 0.0)])


def tinting(colourant: Colourant, base: Medium) -> Tinting:
    """What that colourant does to light, as its swatches or its vanishing line say."""
    if colourant.kind is ColourantKind.FLAKE:
        return Tinting(strength=None, why="flake is strewn through the plastic and does not colour it")
    return _tinting(colourant.swatch, colourant.vanishing, base)


@lru_cache(maxsize=128)
def _tinting(swatches: tuple[Swatch, ...], vanishing: Vanishing | None, base: Medium) -> Tinting:
    try:
        if swatches:
            fit = strength_from([_film(each, each.load_pct) for each in swatches], base=base)
            return Tinting(strength=_at_scale(fit.strength, vanishing, base), agreement=fit.agreement)
        if vanishing is not None and vanishing.deep_colour is not None:
            return Tinting(
                strength=rough_strength(
                    vanishing.deep_colour,
                    load_pct=vanishing.load_pct,
                    vanishing_mm=vanishing.thickness_mm,
                    base=base,
                )
            )
    except BenchError as error:
        return Tinting(strength=None, why=str(error))
    except ArithmeticError:
        return Tinting(
            strength=None, why="its films are too thick, too thin or too dilute to reckon with: check units"
        )
    return Tinting(strength=None, why="it has no swatch; pour a film and read it over white and over black card")


def swatch_faults(colourant: Colourant, base: Medium = CLEAR) -> Iterator[Fault]:
    """Why films that can be read do not tell a look: nothing shines through any, or all are too pale."""
    if not colourant.swatch:
        return
    found = _tinting(colourant.swatch, None, base)
    if found.strength is None:
        yield Fault(
            key="swatch",
            found=f"films that do not tell its look ({found.why.rstrip('.')})",
            wanted="one film at least that lets something shine through and still has its colour",
        )


def _at_scale(strength: Strength, vanishing: Vanishing | None, base: Medium) -> Strength:
    """Films tell the hue, and a vanishing line, where one was measured, how much of it."""
    if vanishing is None:
        return strength
    factor = vanishing_scale(strength, load_pct=vanishing.load_pct, vanishing_mm=vanishing.thickness_mm, base=base)
    return Strength(
        k_per_mm_pct=tuple(factor * each for each in strength.k_per_mm_pct),
        s_per_mm_pct=tuple(factor * each for each in strength.s_per_mm_pct),
    )


def _film(film: CardFilm, load_pct: float) -> Film:
    return Film(
        load_pct=load_pct,
        thickness_mm=film.thickness_mm,
        over_white=film.over_white,
        over_black=film.over_black,
        white_card=film.white_card,
        black_card=film.black_card,
    )


def part_colour(part: PartRecipe, *, colourants: Mapping[str, Colourant], plastic: Plastic) -> PartColour:
    """The colour of a part. Raises BenchError for a colourant that is not among ``colourants``."""
    base = base_of(plastic)
    doses: list[tuple[Colourant, Loaded]] = []
    flakes: list[Flaked] = []
    unknown: list[str] = []
    notes: list[str] = []
    for dose in part.doses:
        colourant = _named(dose.colourant, colourants)
        if colourant.kind is ColourantKind.FLAKE:
            if colourant.flake is None:
                notes.append(f"{colourant.title} has no size and colour in its profile: it is left out.")
            else:
                flakes.append(_flaked(colourant.flake, dose.load_pct, plastic))
            continue
        found = tinting(colourant, base)
        if found.strength is None:
            unknown.append(f"The look of {colourant.title} is unknown: {found.why.rstrip('.')}.")
        else:
            doses.append((colourant, Loaded(strength=found.strength, load_pct=dose.load_pct)))
        notes += kind_notes(colourant)
    return PartColour(
        doses=tuple(doses),
        medium=None if unknown else mix(base, [loaded for _, loaded in doses]),
        flaked=_together(flakes),
        unknown=tuple(unknown),
        notes=tuple(notes),
    )


def _named(name: str, colourants: Mapping[str, Colourant]) -> Colourant:
    try:
        return colourants[name]
    except KeyError:
        raise BenchError(f"no colourant is called {quoted(name)}") from None


def kind_notes(colourant: Colourant) -> list[str]:
    """What is not reckoned of colours of that kind."""
    if colourant.kind is ColourantKind.FLUORESCENT:
        return [f"{colourant.title} is fluorescent: the light it adds is not reckoned, it will look brighter."]
    if colourant.kind is ColourantKind.HIGHLIGHT:
        return [f"{colourant.title} flashes as the bait turns: only its haze is reckoned."]
    return []


def _flaked(cut: FlakeCut, load_pct: float, plastic: Plastic) -> Flaked:
    """Flake by its load: so many grams in the room that 100 g of the cold plastic take."""
    return Flaked(
        eta_per_mm=eta_per_mm(
            flake_g=load_pct,
            plastic_ml=100 / (plastic.density_kg_m3 / 1000),
            film_mm=cut.film_mm,
            density_g_ml=cut.density_kg_m3 / 1000,
        ),
        reflectance=inside(from_hex(cut.colour)),
    )


def _together(flakes: list[Flaked]) -> Flaked | None:
    """Several flakes as one: their shadows add up, and their faces are seen by the share of each."""
    eta = sum(each.eta_per_mm for each in flakes)
    if eta <= 0:
        return None
    shares = [each.eta_per_mm / eta for each in flakes]
    bands = zip(*(each.reflectance for each in flakes), strict=True)
    return Flaked(
        eta_per_mm=eta,
        reflectance=tuple(sum(s * r for s, r in zip(shares, band, strict=True)) for band in bands),
    )
