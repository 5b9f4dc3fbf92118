"""What the colour screen asks for, packed for its pictures. It runs in a worker: nothing here knows a screen.

All reckoning is ``bench.plan.look``'s and ``bench.colour``'s; here is only which question to ask.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import product

from bench.colour.cores import Ranking, Reads
from bench.colour.difference import de2000
from bench.colour.flake import covered
from bench.colour.target import direction
from bench.colour.views import Section, Seen, Views, look
from bench.errors import BenchError
from bench.model.library import Library
from bench.model.mould import Mould
from bench.model.recipe import PARTS, Build, Dose, Part, PartRecipe, Recipe
from bench.plan.cores import ALONE_PCT, find_cores, ranked
from bench.plan.cores import CoreFound as Found
from bench.plan.look import look_at
from bench.plan.look_records import RecipeLook, SideLook, View, ViewName
from bench.plan.strengths import PartColour, base_of, part_colour
from bench.tui.colour.bait import IN_BAIT, IN_CUP, OVER_CORE, OVER_OTHER, Bait, Core, Side, Tint, letters

MOST_VARIANTS = 9
FACTORS = (0.5, 1.0, 2.0)
PLAIN_FACTORS = (0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0, 2.8, 4.0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Predicted:
    """The look of a recipe in a mould. ``bait`` is None when a colour of it is not known, ``look`` as well when
    the two do not go together; ``problem`` then says why. ``cup_off`` is how far the cup looks from the bait,
    CIEDE2000, on the side where it is furthest; ``cup_misses`` in which direction most: "too dark"; ``cup_fields``
    are the names of the two fields that are compared, as they stand under the pictures."""

    look: RecipeLook | None = None
    bait: Bait | None = None
    problem: str = ""
    cup_off: float = 0.0
    cup_misses: str = ""
    cup_fields: tuple[str, str] = (IN_CUP, IN_BAIT)


@dataclass(frozen=True, kw_only=True, slots=True)
class CoreFound:
    """A core from the shelf under the present shell; differences are CIEDE2000."""

    title: str
    doses: tuple[Dose, ...]
    alone: Tint
    over: Tint
    core_visibility: float
    third_colour: float
    reads: Reads


@dataclass(frozen=True, kw_only=True, slots=True)
class Variant:
    """One of up to nine ways to go on. ``says`` is what is different about it."""

    recipe: Recipe
    says: str
    predicted: Predicted


def predicted(recipe: Recipe, mould: Mould, library: Library, moving: str = "") -> Predicted:
    """The look of the recipe, its load window that of ``moving``, and its bait with the tail kept and cut."""
    try:
        plastic = library.plastic(recipe.plastic)
        look = look_at(recipe=recipe, mould=mould, plastic=plastic, colourants=library.colourants, moving=moving)
    except BenchError as error:
        return Predicted(problem=str(error))
    if look.unknown:
        return Predicted(look=look, problem=" ".join(look.unknown))
    off, misses, names = _cup_off(look)
    bait = _bait(recipe, look, library)
    return Predicted(look=look, bait=bait, cup_off=off, cup_misses=misses, cup_fields=names)


_FIELDS = {ViewName.OVER_CORE: OVER_CORE, ViewName.OVER_OTHER: OVER_OTHER, ViewName.BODY: IN_BAIT}
"""What a finished bait shows, the first that there is, by the field it stands in."""


def _cup_off(look: RecipeLook) -> tuple[float, str, tuple[str, str]]:
    """How far the deep cup looks from the thin bait, and by what most of it, where that is worst, and the names of
    those two fields."""
    pairs = []
    for letter, side in zip(letters(len(look.sides)), look.sides, strict=True):
        views = {view.name: view for view in side.views}
        seen = next(name for name in _FIELDS if name in views)
        names = (f"{letter}{IN_CUP}", f"{letter}{_FIELDS[seen]}")
        pairs.append((views[ViewName.CUP].lab, views[seen].lab, names))
    cup_lab, bait_lab, names = max(pairs, key=lambda pair: de2000(pair[0], pair[1]))
    return de2000(cup_lab, bait_lab), next(iter(direction(bait_lab, cup_lab)), ""), names


def _bait(recipe: Recipe, look: RecipeLook, library: Library) -> Bait:
    plain = _plain_views(recipe, look.section, library)
    share, flake = _flake(recipe, look.section, library)
    return Bait(
        body_mm=look.section.body_mm,
        core_mm=look.section.core_mm,
        sides=tuple(_side(side, plain[side.side]) for side in look.sides),
        core=_core(look, plain) if recipe.build.has_core else None,
        tail=recipe.tail,
        covered=share,
        flake=flake,
    )


def _plain_views(recipe: Recipe, section: Section, library: Library) -> Mapping[Part, Views]:
    """Every part's colour by itself, its tail among it: a look shows the tail that was chosen, a picture both."""
    base = base_of(library.plastic(recipe.plastic))
    alone = Section(body_mm=section.body_mm, tail_mm=section.tail_mm)
    found: dict[Part, Views] = {}
    for part in PARTS[recipe.build]:
        colour = colour_of(recipe.parts[part], recipe, library)
        if colour.medium is not None:
            found[part] = look(shell=colour.medium, base=base, section=alone, flaked=colour.flaked)
    return found


def _side(side: SideLook, plain: Views) -> Side:
    views = {view.name: view for view in side.views}
    return Side(
        name=side.side.words,
        cup=_tint(views[ViewName.CUP]),
        alone=_tint(views.get(ViewName.SHELL_ALONE) or views[ViewName.BODY]),
        over_other=_tint(views[ViewName.OVER_OTHER]) if ViewName.OVER_OTHER in views else None,
        over_core=_tint(views[ViewName.OVER_CORE]) if ViewName.OVER_CORE in views else None,
        tail=None if plain.tail_kept is None else _tint(plain.tail_kept),
    )


def _core(look: RecipeLook, plain: Mapping[Part, Views]) -> Core:
    views = {view.name: view for view in look.core_views}
    tail = plain[Part.CORE].tail_kept
    return Core(
        cup=_tint(views[ViewName.CUP]),
        alone=_tint(views[ViewName.CORE_ALONE]),
        tail=None if tail is None else _tint(tail),
    )


def colour_of(cup: PartRecipe, recipe: Recipe, library: Library) -> PartColour:
    """What a cup of the recipe is to light."""
    return part_colour(cup, colourants=library.colourants, plastic=library.plastic(recipe.plastic))


def _tint(view: View | Seen) -> Tint:
    return Tint(hex=view.hex, clipped=view.clipped)


def _flake(recipe: Recipe, section: Section, library: Library) -> tuple[float, Tint | None]:
    """The share of what lies behind the wall, or the body, that its flake hides, and the colour of most of it."""
    part = PARTS[recipe.build][0]
    cup = recipe.parts[part]
    flaked = colour_of(cup, recipe, library).flaked
    cuts = [(dose.load_pct, cut) for dose in cup.doses if (cut := library.colourants[dose.colourant].flake)]
    if flaked is None or not cuts:
        return 0.0, None
    _, most = max(cuts, key=lambda pair: pair[0])
    depth_mm = section.wall_mm if recipe.build.has_core else section.body_mm
    return covered(flaked.eta_per_mm * depth_mm), Tint(hex=most.colour)


# Which cores from the shelf show best.


def cores_found(recipe: Recipe, mould: Mould, library: Library, part: Part) -> tuple[CoreFound, ...]:
    """The shelf's cores under the shell of that part, the one that shows best first.

    Raises BenchError when the shell's colour is not known, or there are no rods.
    """
    if not recipe.build.has_core:
        raise BenchError(f"{recipe.build} work has no core; B changes the build")
    found = find_cores(
        recipe=recipe,
        mould=mould,
        plastic=library.plastic(recipe.plastic),
        recipes=library.recipes,
        colourants=library.colourants,
    )
    side = next(each for each in found.sides if each.side is part)
    if side.unknown:
        raise BenchError(side.unknown[0])
    return tuple(
        CoreFound(
            title=each.title,
            doses=_doses_of(each, library),
            alone=Tint(hex=each.core_hex),
            over=Tint(hex=each.over_core_hex),
            core_visibility=each.core_visibility,
            third_colour=each.third_colour,
            reads=each.reads,
        )
        for each in side.cores
    )


def cores_elsewhere(recipe: Recipe, library: Library) -> str:
    """How many of the shelf's cores are not tried because they are on another plastic; empty where none is."""
    cored = [each for each in library.recipes.values() if Part.CORE in each.parts]
    away = sum(each.plastic != recipe.plastic for each in cored)
    if not away:
        return ""
    which = "core is not tried: its recipe is" if away == 1 else "cores are not tried: their recipes are"
    return f"{away} {which} on another plastic. P changes this one's."


def in_order(found: tuple[CoreFound, ...], by: Ranking) -> tuple[CoreFound, ...]:
    """The cores in another order."""
    return ranked(found, by)


def _doses_of(core: Found, library: Library) -> tuple[Dose, ...]:
    if core.alone:
        return (Dose(colourant=core.core, load_pct=ALONE_PCT),)
    return library.recipes[core.core].parts[Part.CORE].doses


# Up to nine ways to go on.


def variants(recipe: Recipe, mould: Mould, library: Library) -> tuple[Variant, ...]:
    """Up to nine: loads of the shell by three cores; loads of the two sides of a laminate; loads of a plain bait.

    Each is shown with the tail kept and cut. Raises BenchError when a colour is not known.
    """
    found = [
        Variant(recipe=changed, says=says, predicted=predicted(changed, mould, library))
        for changed, says in _ways(recipe, mould, library)
    ]
    for each in found:
        if each.predicted.bait is None:
            raise BenchError(each.predicted.problem)
    return tuple(found[:MOST_VARIANTS])


def _ways(recipe: Recipe, mould: Mould, library: Library) -> Iterator[tuple[Recipe, str]]:
    if recipe.build is Build.PLAIN:
        for factor in PLAIN_FACTORS:
            yield _scaled(recipe, {Part.BODY: factor}), _times("load", factor)
        return
    if recipe.build is Build.LAMINATE:
        for one, two in product(FACTORS, FACTORS):
            scaled = _scaled(recipe, {Part.SIDE_A: one, Part.SIDE_B: two})
            yield scaled, f"{_times('A', one)}, {_times('B', two)}"
        return
    shells = [part for part in PARTS[recipe.build] if part is not Part.CORE]
    others = cores_found(recipe, mould, library, shells[0])
    own = recipe.parts[Part.CORE]
    cores = [("this core", own.doses), *((each.title, each.doses) for each in others if each.doses != own.doses)][
        :3
    ]
    for (title, doses), factor in product(cores, FACTORS):
        scaled = _scaled(recipe, dict.fromkeys(shells, factor))
        core = replace(own, doses=doses)
        yield (
            replace(scaled, parts={**scaled.parts, Part.CORE: core}),
            f"×{factor:g} {title.removeprefix('core of ')}",
        )


def _scaled(recipe: Recipe, factors: Mapping[Part, float]) -> Recipe:
    """The recipe with all doses of some parts multiplied."""
    parts = dict(recipe.parts)
    for part, factor in factors.items():
        doses = (replace(dose, load_pct=two_digits(dose.load_pct * factor)) for dose in parts[part].doses)
        parts[part] = replace(parts[part], doses=tuple(doses))
    return replace(recipe, parts=parts)


def two_digits(load_pct: float) -> float:
    """A load as the keys would set it."""
    return float(f"{min(load_pct, 50.0):.2g}")


def _times(what: str, factor: float) -> str:
    return f"{what} ×{factor:g}"
