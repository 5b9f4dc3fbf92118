"""Doses for a wanted colour, from what is in a cup or from the whole shelf. It runs in a worker.

All reckoning is ``bench.colour.target``'s and ``bench.plan.shelf_match``'s; here is only which question to ask.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from bench.colour.difference import de2000
from bench.colour.flake import Flaked
from bench.colour.lab import Lab, lab_from_hex, shown_lab
from bench.colour.layers import Medium
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.target import MOST_COLOURANTS, MOST_TOTAL_PCT, Doses, direction, doses_for, look_of
from bench.colour.views import Section, look
from bench.colour.window import VISIBLE_AT_LEAST
from bench.errors import BenchError
from bench.model.library import Library
from bench.model.mould import Mould
from bench.model.recipe import Dose, Part, PartRecipe, Recipe
from bench.plan.look import section_of
from bench.plan.look_words import LEAST_WEIGHED_G
from bench.plan.shelf_match import ranked, shelf_choice, shelf_names
from bench.plan.strengths import base_of, tinting
from bench.tui.colour.predict import colour_of, two_digits

MOST_ANSWERS = 5
"""Answers from the shelf that are offered: a digit each."""

PER_CUP_G = 100.0
"""The cup that grams and drops are told for."""

LEAST_WEIGHED_PCT = 100 * LEAST_WEIGHED_G / PER_CUP_G
"""A load below this cannot be weighed for a cup: the shelf is searched without."""

LEAST_PCT = 0.0005
"""A load below this is next to nothing and left out."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DosesFound:
    """The doses of a part that come near to a wanted colour: ``off`` by so much CIEDE2000, in which way.

    ``hex`` is what it would look like. ``core_visibility`` is how far the core then shows, None without one and
    for the core itself; ``is_capped`` says that the most colour allowed kept it from coming nearer.
    """

    part: Part
    doses: tuple[Dose, ...]
    wanted: str
    off: float
    misses: tuple[str, ...]
    hex: str = ""
    core_visibility: float | None = None
    is_capped: bool = False

    @property
    def shows_core(self) -> bool:
        """Whether there is a core and it shows."""
        return self.core_visibility is not None and self.core_visibility >= VISIBLE_AT_LEAST


class SearchStopped(Exception):
    """Nobody waits for the search any more."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Aim:
    """A wanted colour and what stands round it. ``kept`` are the cup's doses that colour nothing: its flake."""

    recipe: Recipe
    library: Library
    part: Part
    wanted: str
    target: Lab
    base: Medium
    section: Section
    core: Medium | None
    flaked: Flaked | None
    kept: tuple[Dose, ...]

    def nearest(self, strengths: Sequence[Strength]) -> Doses:
        """The nearest doses of some colourants."""
        return doses_for(
            self.target,
            base=self.base,
            colourants=strengths,
            section=self.section,
            core=self.core,
            flaked=self.flaked,
        )

    def weighed(self, strengths: Sequence[Strength], found: Doses) -> Doses:
        """The same without what no scale shows."""
        loads = tuple(load if load >= LEAST_WEIGHED_PCT else 0.0 for load in found.loads_pct)
        if loads == found.loads_pct:
            return found
        filled = [Loaded(strength=each, load_pct=load) for each, load in zip(strengths, loads, strict=True)]
        lab = look_of(mix(self.base, filled), self.section, self.core, self.flaked)
        return replace(
            found,
            loads_pct=loads,
            added_pct=loads,
            lab=lab,
            off=de2000(self.target, lab),
            misses=direction(self.target, lab),
        )

    def answer(self, found: Doses, doses: tuple[Dose, ...]) -> DosesFound:
        """What is offered, with the core's share in it."""
        return DosesFound(
            part=self.part,
            doses=doses,
            wanted=self.wanted,
            off=found.off,
            misses=found.misses,
            hex=shown_lab(found.lab).hex,
            core_visibility=self._shows(doses),
            is_capped=sum(found.loads_pct) >= 0.99 * MOST_TOTAL_PCT,
        )

    def _shows(self, doses: tuple[Dose, ...]) -> float | None:
        """How far the core shows through a shell with these doses."""
        cup = replace(self.recipe.parts[self.part], doses=doses)
        medium = colour_of(cup, self.recipe, self.library).medium
        if self.core is None or medium is None:
            return None
        views = look(shell=medium, base=self.base, section=self.section, core=self.core, flaked=self.flaked).core
        return None if views is None else views.visibility


def _aim(recipe: Recipe, mould: Mould, library: Library, part: Part, wanted: str) -> _Aim:
    """Raises BenchError where the core under a shell is not known, or the mould has no rods for it.

    A shell is judged over its core, the core by itself, a side where its colour goes all through.
    """
    colour = colour_of(recipe.parts[part], recipe, library)
    section = section_of(mould, with_core=recipe.build.has_core)
    core = None
    if part is Part.CORE:
        section = Section(body_mm=section.core_mm)
    elif recipe.build.has_core:
        core = _medium(recipe.parts[Part.CORE], recipe, library)
    dosed = {each.name for each, _ in colour.doses}
    return _Aim(
        recipe=recipe,
        library=library,
        part=part,
        wanted=wanted,
        target=lab_from_hex(wanted),
        base=base_of(library.plastic(recipe.plastic)),
        section=section,
        core=core,
        flaked=None if part is Part.CORE else colour.flaked,
        kept=tuple(dose for dose in recipe.parts[part].doses if dose.colourant not in dosed),
    )


def _medium(cup: PartRecipe, recipe: Recipe, library: Library) -> Medium:
    colour = colour_of(cup, recipe, library)
    if colour.medium is None:
        raise BenchError(colour.unknown[0])
    return colour.medium


def doses_found(recipe: Recipe, mould: Mould, library: Library, part: Part, wanted: str) -> DosesFound:
    """Doses of the colourants that are in a part which bring its look nearest to a colour.

    Raises BenchError when there is nothing to dose, too much of it, or a colour is not known.
    """
    cup = recipe.parts[part]
    colour = colour_of(cup, recipe, library)
    if colour.medium is None:
        raise BenchError(colour.unknown[0])
    if not 1 <= len(colour.doses) <= MOST_COLOURANTS:
        raise BenchError(
            f"the {part.words} holds {len(colour.doses)} colours to dose; give it one to {MOST_COLOURANTS}"
        )
    aim = _aim(recipe, mould, library, part, wanted)
    found = aim.nearest([loaded.strength for _, loaded in colour.doses])
    loads = dict(zip((each.name for each, _ in colour.doses), found.loads_pct, strict=True))
    return aim.answer(found, _dosed(cup.doses, loads))


def shelf_found(
    recipe: Recipe,
    mould: Mould,
    library: Library,
    part: Part,
    wanted: str,
    tried: Callable[[int], None] = lambda _: None,
) -> tuple[DosesFound, ...]:
    """Up to five fillings of a part from the whole shelf that come near to a colour, few bottles before many.

    What is in the part makes room, but for its flake. ``tried`` hears how many were tried so far and may raise
    SearchStopped. Raises BenchError where no colourant has a look that is known.
    """
    aim = _aim(recipe, mould, library, part, wanted)
    plastic = library.plastic(recipe.plastic)
    names = shelf_names(library.colourants, plastic)
    strengths = {name: tinting(library.colourants[name], aim.base).strength for name in names}
    found: dict[tuple[str, ...], Doses] = {}

    def off(some: Sequence[str]) -> float:
        tried(len(found))
        filled = [each for name in some if (each := strengths[name]) is not None]
        doses = aim.weighed(filled, aim.nearest(filled))
        found[tuple(some)] = doses
        return doses.off

    best = shelf_choice(off, names=names)
    order = ranked({names: doses.off for names, doses in found.items()}, first=best)
    return _few(list(_distinct(aim, found, order)))


def _few(answers: Sequence[DosesFound]) -> tuple[DosesFound, ...]:
    """The first of them. Where all of these hide a core, the last place is for the nearest that lets it show."""
    first = answers[:MOST_ANSWERS]
    showing = next((each for each in answers if each.shows_core), None)
    if showing is None or any(each.shows_core or each.core_visibility is None for each in first):
        return tuple(first)
    return (*first[: MOST_ANSWERS - 1], showing)


def _distinct(
    aim: _Aim, found: Mapping[tuple[str, ...], Doses], order: Sequence[tuple[str, ...]]
) -> Iterator[DosesFound]:
    """All of them, best first, each colourant that came to nothing left out, and none twice."""
    seen: set[frozenset[str]] = set()
    for names in order:
        loads = dict(zip(names, found[names].loads_pct, strict=True))
        doses = _dosed([Dose(colourant=name, load_pct=load) for name, load in loads.items()], loads)
        held = frozenset(dose.colourant for dose in doses)
        if held and held not in seen:
            seen.add(held)
            yield aim.answer(found[names], (*doses, *aim.kept))


def _dosed(doses: Sequence[Dose], loads: Mapping[str, float]) -> tuple[Dose, ...]:
    """The doses at their new loads; what would be next to nothing is left out, flake stays as it is."""
    moved = [replace(dose, load_pct=loads.get(dose.colourant, dose.load_pct)) for dose in doses]
    return tuple(
        replace(dose, load_pct=two_digits(dose.load_pct) if dose.load_pct < 1 else float(f"{dose.load_pct:.3g}"))
        for dose in moved
        if dose.load_pct >= LEAST_PCT
    )
