"""What the flake in a recipe does, in words: how many there are, what they cover, what they take from the core."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bench.colour.flake import count_per_g, covered, eta_per_mm
from bench.colour.views import Section
from bench.model.colourant import Colourant
from bench.model.plastic import Plastic
from bench.model.recipe import PARTS, Part, PartRecipe, Recipe
from bench.model.swatch import FlakeCut


def flake_notes(
    recipe: Recipe, section: Section, colourants: Mapping[str, Colourant], plastic: Plastic
) -> Iterator[str]:
    """A sentence for every flake in a part; none for one whose size is not in its profile."""
    for part in PARTS[recipe.build]:
        for colourant, cut, load_pct in _flakes(recipe.parts[part], colourants):
            per_g = load_pct / 100 * _count_per_g(cut)
            yield (
                f"{colourant.title} in the {part.words}: about {per_g:,.0f} flakes in each gram of bait, "
                f"{_covers(part, cut, load_pct, section, plastic, has_core=recipe.build.has_core)}."
            )


def _flakes(part: PartRecipe, colourants: Mapping[str, Colourant]) -> Iterator[tuple[Colourant, FlakeCut, float]]:
    for dose in part.doses:
        colourant = colourants[dose.colourant]
        if colourant.flake is not None and dose.load_pct > 0:
            yield colourant, colourant.flake, dose.load_pct


def _count_per_g(cut: FlakeCut) -> float:
    return count_per_g(across_flats_mm=cut.size_mm, film_mm=cut.film_mm, density_g_ml=cut.density_kg_m3 / 1000)


def _covers(
    part: Part, cut: FlakeCut, load_pct: float, section: Section, plastic: Plastic, *, has_core: bool
) -> str:
    eta = eta_per_mm(
        flake_g=load_pct,
        plastic_ml=100 / (plastic.density_kg_m3 / 1000),
        film_mm=cut.film_mm,
        density_g_ml=cut.density_kg_m3 / 1000,
    )
    if part is Part.CORE:
        return "left out of the core's look"
    if has_core:
        share = covered(eta * section.wall_mm)
        return f"which hide {100 * share:.0f} % of the core and leave {1 - share:.2f} of how far it shows"
    return f"which cover {100 * covered(eta * section.body_mm):.0f} % of what lies behind the body"
