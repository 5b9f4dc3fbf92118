"""What the flake in a recipe does: how many there are, what they cover, what they take from the core; and the load
that a wanted number of them, or a wanted cover, takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from bench.colour.flake import count_per_g, covered, eta_per_mm, flake_g_for_cover
from bench.colour.views import Section
from bench.errors import BenchError
from bench.model.colourant import Colourant
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import PARTS, Part, PartRecipe, Recipe, Tail
from bench.model.swatch import FlakeCut
from bench.units import Density, Grams, Millimetres, Percent

MOST_FLAKE_PCT = 50.0
"""A load beyond this is a slip of the finger."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FlakePlace:
    """A flake and where it goes: ``depth_mm`` is the wall it covers, ``bait_g`` what a bait holds of its part."""

    cut: FlakeCut
    depth_mm: Millimetres
    bait_g: Grams
    density_kg_m3: Density

    def covers(self, load_pct: Percent) -> float:
        """The share of what lies behind the wall that so much flake hides, 0 to 1."""
        return covered(self.depth_mm * _eta_per_mm(self.cut, load_pct, self.density_kg_m3))

    def count(self, load_pct: Percent) -> float:
        """How many flakes a bait then holds, in the mean."""
        return self.bait_g * load_pct / 100 * _count_per_g(self.cut)

    def load_for_cover(self, share: float) -> Percent:
        """The load, %, that hides such a share. Raises BenchError for a share that no possible load hides."""
        load_pct = flake_g_for_cover(
            share,
            plastic_ml=_ml_per_100_g(self.density_kg_m3),
            wall_mm=self.depth_mm,
            film_mm=self.cut.film_mm,
            density_g_ml=self.cut.density_kg_m3 / 1000,
        )
        return _possible(load_pct)

    def load_for_count(self, count: float) -> Percent:
        """The load, %, at which a bait holds so many flakes. Raises BenchError for more than it can hold."""
        return _possible(100 * count / (self.bait_g * _count_per_g(self.cut)))


def _possible(load_pct: float) -> float:
    if not 0 <= load_pct <= MOST_FLAKE_PCT:
        raise BenchError(f"that takes {load_pct:.3g} % of flake; {MOST_FLAKE_PCT:g} % is the most")
    return load_pct


def flake_place(
    recipe: Recipe, part: Part, cut: FlakeCut, *, mould: Mould, section: Section, plastic: Plastic
) -> FlakePlace:
    """Where a flake in a part of the recipe goes, its tail as the recipe has it."""
    return FlakePlace(
        cut=cut,
        depth_mm=section.wall_mm if recipe.build.has_core else section.body_mm,
        bait_g=_part_ml(recipe, part, mould) * plastic.density_kg_m3 / 1000,
        density_kg_m3=plastic.density_kg_m3,
    )


def _part_ml(recipe: Recipe, part: Part, mould: Mould) -> float:
    """What a finished bait holds of a part, ml: a side its share, a shell neither rod nor a cut tail."""
    volumes = mould.volumes
    core_ml = 0.0
    if recipe.build.has_core:
        core_ml = volumes.rod_ml + (volumes.tail_ml if recipe.tail is Tail.CUT else 0.0)
    if part is Part.CORE:
        return core_ml
    return recipe.parts[part].share_pct / 100 * (volumes.bait_ml - core_ml)


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


def _eta_per_mm(cut: FlakeCut, load_pct: float, density_kg_m3: float) -> float:
    return eta_per_mm(
        flake_g=load_pct,
        plastic_ml=_ml_per_100_g(density_kg_m3),
        film_mm=cut.film_mm,
        density_g_ml=cut.density_kg_m3 / 1000,
    )


def _ml_per_100_g(density_kg_m3: float) -> float:
    return 100 / (density_kg_m3 / 1000)


def _covers(
    part: Part, cut: FlakeCut, load_pct: float, section: Section, plastic: Plastic, *, has_core: bool
) -> str:
    eta = _eta_per_mm(cut, load_pct, plastic.density_kg_m3)
    if part is Part.CORE:
        return "left out of the core's look"
    if has_core:
        share = covered(eta * section.wall_mm)
        return f"which hide {100 * share:.0f} % of the core and leave {1 - share:.2f} of how far it shows"
    return f"which cover {100 * covered(eta * section.body_mm):.0f} % of what lies behind the body"
