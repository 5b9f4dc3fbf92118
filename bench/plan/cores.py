"""Which cores from the shelf show best under a shell, and which make it read as a third colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Protocol, TypeVar

from bench.colour.cores import Candidate, Ranking, Reads, ranked_cores
from bench.colour.layers import Medium
from bench.colour.views import Section
from bench.errors import BenchError
from bench.model.colourant import Colourant, ColourantKind
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import PARTS, Dose, Part, PartRecipe, Recipe
from bench.plan.look import section_of
from bench.plan.strengths import base_of, part_colour

ALONE_PCT = 1.0
"""Starting value for the load at which a colourant by itself is tried as a core, %; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CoreFound:
    """A core under a shell. ``core`` is the name of the recipe it is the core of, or of a colourant by itself
    (``alone``). Differences are CIEDE2000."""

    core: str
    title: str
    alone: bool
    reads: Reads
    core_hex: str
    over_core_hex: str
    core_visibility: float
    shell_tint: float
    third_colour: float


@dataclass(frozen=True, kw_only=True, slots=True)
class SideCores:
    """The cores under one side, ranked as was asked; none, and why, where the side is not known."""

    side: Part
    cores: tuple[CoreFound, ...]
    unknown: tuple[str, ...]

    @property
    def shows_best(self) -> CoreFound | None:
        """The core that shows best."""
        return max(self.cores, key=lambda each: each.core_visibility, default=None)

    @property
    def third(self) -> tuple[CoreFound, ...]:
        """Those that read as a third colour, the strongest first."""
        return ranked((each for each in self.cores if each.reads is Reads.THIRD), Ranking.THIRD)


@dataclass(frozen=True, kw_only=True, slots=True)
class CoresFound:
    """Cores for a recipe's shell in a mould. ``left_out`` says of which candidates the look is not known."""

    recipe: str
    recipe_title: str
    mould: str
    mould_title: str
    by: Ranking
    sides: tuple[SideCores, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Tried:
    """A core worth trying."""

    title: str
    alone: bool
    cup: PartRecipe


def find_cores(
    *,
    recipe: Recipe,
    mould: Mould,
    plastic: Plastic,
    recipes: Mapping[str, Recipe],
    colourants: Mapping[str, Colourant],
    alone_pct: float = ALONE_PCT,
    by: Ranking = Ranking.SHOWS,
) -> CoresFound:
    """The shelf's cores under a recipe's shell: those of every recipe on its plastic, and each colourant alone.

    The one that shows best comes first, or the strongest third colour. A recipe without a core lends its body or
    its sides as the shell. Raises BenchError for a mould without rods.
    """
    section = section_of(mould, with_core=True)
    if mould.rods is None:
        raise BenchError(f"{mould.title} has no core rods: choose a mould with rods to try cores in")
    media, left_out = _media(_tried(recipe.name, recipes, colourants, plastic, alone_pct), colourants, plastic)
    tried = {name: each for name, (each, _) in media.items()}
    cores = {name: medium for name, (_, medium) in media.items()}
    return CoresFound(
        recipe=recipe.name,
        recipe_title=recipe.title,
        mould=mould.name,
        mould_title=mould.title,
        by=by,
        sides=tuple(
            _side(part, recipe, section, tried, cores, colourants, plastic, by)
            for part in PARTS[recipe.build]
            if part is not Part.CORE
        ),
        left_out=tuple(left_out),
    )


def _side(
    part: Part,
    recipe: Recipe,
    section: Section,
    tried: Mapping[str, _Tried],
    cores: Mapping[str, Medium],
    colourants: Mapping[str, Colourant],
    plastic: Plastic,
    by: Ranking,
) -> SideCores:
    colour = part_colour(recipe.parts[part], colourants=colourants, plastic=plastic)
    if colour.medium is None:
        return SideCores(side=part, cores=(), unknown=colour.unknown)
    found = ranked_cores(
        shell=colour.medium, base=base_of(plastic), cores=cores, section=section, flaked=colour.flaked, by=by
    )
    return SideCores(
        side=part, cores=tuple(_found(candidate, tried[candidate.name]) for candidate in found), unknown=()
    )


class _Showing(Protocol):
    """What a core can be ranked by."""

    @property
    def reads(self) -> Reads: ...
    @property
    def core_visibility(self) -> float: ...
    @property
    def third_colour(self) -> float: ...


_Core = TypeVar("_Core", bound=_Showing)


def ranked(cores: Iterable[_Core], by: Ranking) -> tuple[_Core, ...]:
    """Cores in another order: best seen first, or the strongest third colour; equal ones as they were."""

    def place(each: _Core) -> tuple[float, float]:
        if by is Ranking.SHOWS:
            return 0.0, -each.core_visibility
        return float(each.reads is not Reads.THIRD), -each.third_colour

    return tuple(sorted(cores, key=place))


def _found(candidate: Candidate, tried: _Tried) -> CoreFound:
    views = candidate.views
    return CoreFound(
        core=candidate.name,
        title=tried.title,
        alone=tried.alone,
        reads=candidate.reads,
        core_hex=views.core_alone.hex,
        over_core_hex=views.over_core.hex,
        core_visibility=views.visibility,
        shell_tint=views.tint,
        third_colour=views.third_colour,
    )


def _tried(
    own: str,
    recipes: Mapping[str, Recipe],
    colourants: Mapping[str, Colourant],
    plastic: Plastic,
    alone_pct: float,
) -> Iterator[tuple[str, _Tried]]:
    """Every different core by the name of the first recipe that has it, ``own`` before others; then the
    colourants alone."""
    seen: set[tuple[Dose, ...]] = set()
    for name, recipe in sorted(recipes.items(), key=lambda item: (item[0] != own, item[0])):
        core = recipe.parts.get(Part.CORE)
        if core is None or recipe.plastic != plastic.name or core.doses in seen:
            continue
        seen.add(core.doses)
        yield name, _Tried(title=f"core of {recipe.title}", alone=False, cup=core)
    for name, colourant in sorted(colourants.items()):
        if colourant.kind is not ColourantKind.FLAKE and name not in recipes:
            cup = PartRecipe(doses=(Dose(colourant=name, load_pct=alone_pct),))
            yield name, _Tried(title=f"{colourant.title}, {alone_pct:g} %", alone=True, cup=cup)


def _media(
    tried: Iterator[tuple[str, _Tried]], colourants: Mapping[str, Colourant], plastic: Plastic
) -> tuple[dict[str, tuple[_Tried, Medium]], list[str]]:
    known: dict[str, tuple[_Tried, Medium]] = {}
    left_out: dict[str, None] = {}
    for name, each in tried:
        colour = part_colour(each.cup, colourants=colourants, plastic=plastic)
        if colour.medium is None:
            left_out |= dict.fromkeys(colour.unknown)
        else:
            known[name] = each, colour.medium
    return known, list(left_out)
