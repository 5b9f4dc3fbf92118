"""What is being built on the colour screen: a recipe in the making, and every way in which a key changes it."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import Enum

from bench.model.recipe import PARTS, Build, Dose, Part, PartRecipe, Recipe, Tail

LEAST_PCT, MOST_PCT = 0.001, 50.0
"""Loads that a key can reach; no cup holds more colour."""

FIRST_LOAD_PCT = 0.1
"""The load that a colourant comes in with."""

COARSE = 5
"""Fine steps to a coarse one."""

UNDO_MOST = 60

NEW_TITLE = "New colour"

SOURCE = "starting value: chosen on the colour screen"


class Slot(Enum):
    """Which cup a part's colour is for, whatever the build calls it: kept when the build changes."""

    FIRST = 1
    SECOND = 2
    CORE = 3


_SLOTS: Mapping[Part, Slot] = {
    Part.BODY: Slot.FIRST,
    Part.SIDE_A: Slot.FIRST,
    Part.SHELL: Slot.FIRST,
    Part.SHELL_A: Slot.FIRST,
    Part.SIDE_B: Slot.SECOND,
    Part.SHELL_B: Slot.SECOND,
    Part.CORE: Slot.CORE,
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """A place the cursor can be: a dose of a part, or the end of its list, where the next one is added."""

    part: Part
    dose: int | None = None


def begun(recipe: Recipe, mould: str) -> Draft:
    """A draft that begins as a recipe from the shelf."""
    return Draft(recipe=recipe, mould=mould, origin=recipe)


@dataclass(frozen=True, kw_only=True, slots=True)
class Draft:
    """A recipe in the making and the mould it is looked at in.

    ``origin`` is the recipe as it came from the shelf; ``drawer`` keeps the cups of builds that were left,
    ``past`` what stood before each change.
    """

    recipe: Recipe
    mould: str
    origin: Recipe
    at: int = 0
    drawer: Mapping[Slot, PartRecipe] = field(default_factory=dict)
    past: tuple[Recipe, ...] = ()

    @property
    def places(self) -> tuple[Place, ...]:
        """Every place of the cursor, from top to bottom."""
        return tuple(_places(self.recipe))

    @property
    def place(self) -> Place:
        """Where the cursor is."""
        places = self.places
        return places[min(self.at, len(places) - 1)]

    @property
    def dose(self) -> Dose | None:
        """The dose under the cursor."""
        place = self.place
        return None if place.dose is None else self.recipe.parts[place.part].doses[place.dose]

    @property
    def is_changed(self) -> bool:
        """Whether anything was changed since it was taken from the shelf."""
        return bool(self.past)

    def moved(self, by: int) -> Draft:
        """The cursor further down, or up where negative; it stops at both ends."""
        return replace(self, at=min(len(self.places) - 1, max(0, self.at + by)))

    def with_dose_moved(self, steps: int) -> Draft:
        """The dose under the cursor so many fine steps up or down; nothing changes where there is none."""
        dose = self.dose
        if dose is None:
            return self
        return self.with_load(stepped(dose.load_pct, steps))

    def with_load(self, load_pct: float) -> Draft:
        """The dose under the cursor at that load."""
        place = self.place
        if place.dose is None:
            return self
        doses = list(self.recipe.parts[place.part].doses)
        doses[place.dose] = replace(doses[place.dose], load_pct=load_pct)
        return self.with_doses(place.part, tuple(doses))

    def with_colourant(self, name: str) -> Draft:
        """A colourant more in the part under the cursor, and the cursor on it."""
        part = self.place.part
        doses = (*self.recipe.parts[part].doses, Dose(colourant=name, load_pct=FIRST_LOAD_PCT))
        added = self.with_doses(part, doses)
        return replace(added, at=added.places.index(Place(part=part, dose=len(doses) - 1)))

    def without_dose(self) -> Draft:
        """The dose under the cursor taken out."""
        place = self.place
        if place.dose is None:
            return self
        doses = self.recipe.parts[place.part].doses
        return self.with_doses(place.part, (*doses[: place.dose], *doses[place.dose + 1 :]))

    def with_doses(self, part: Part, doses: tuple[Dose, ...]) -> Draft:
        """A part with these doses."""
        parts = {**self.recipe.parts, part: replace(self.recipe.parts[part], doses=doses)}
        return self.with_recipe(replace(self.recipe, parts=parts))

    def with_recipe(self, recipe: Recipe) -> Draft:
        """Another recipe in its place; what stood before can be had back."""
        if recipe == self.recipe:
            return self
        return replace(self, recipe=recipe, past=(*self.past, self.recipe)[-UNDO_MOST:]).moved(0)

    def begun_anew(self, recipe: Recipe) -> Draft:
        """A recipe from the shelf in the place of the draft, which can be had back."""
        return replace(self.with_recipe(recipe), origin=recipe)

    def emptied(self) -> Draft:
        """An empty recipe of the same build, to start from; what stood before can be had back."""
        parts = {part: replace(cup, doses=()) for part, cup in self.recipe.parts.items()}
        new = replace(self.recipe, name=slug(NEW_TITLE), title=NEW_TITLE, parts=parts, note="", sources={})
        return self.begun_anew(new)

    def on_plastic(self, name: str) -> Draft:
        """The same colours in another plastic."""
        return self.with_recipe(replace(self.recipe, plastic=name))

    def undone(self) -> Draft:
        """What stood before the latest change."""
        if not self.past:
            return self
        return replace(self, recipe=self.past[-1], past=self.past[:-1]).moved(0)

    def with_other_tail(self) -> Draft:
        """The tail kept instead of cut, or cut instead of kept; nothing changes where there is no core."""
        if not self.recipe.build.has_core:
            return self
        other = Tail.KEPT if self.recipe.tail is Tail.CUT else Tail.CUT
        return self.with_recipe(replace(self.recipe, tail=other))

    def with_next_build(self) -> Draft:
        """The next build; every cup that it has too keeps its colour, and the others wait in the drawer."""
        builds = list(Build)
        build = builds[(builds.index(self.recipe.build) + 1) % len(builds)]
        drawer = {**self.drawer, **{_SLOTS[part]: cup for part, cup in self.recipe.parts.items()}}
        parts = {part: replace(drawer.get(_SLOTS[part], PartRecipe()), share_pct=100.0) for part in PARTS[build]}
        shares = {_SLOTS[part]: part for part in parts if part is not Part.CORE}
        if len(shares) > 1:
            parts |= {part: replace(parts[part], share_pct=share) for part, share in _shares(drawer, shares)}
        tail = self.recipe.tail if build.has_core else Tail.KEPT
        recipe = replace(self.recipe, build=build, parts=parts, tail=tail, sources={})
        return replace(self.with_recipe(recipe), drawer=drawer)


def _shares(drawer: Mapping[Slot, PartRecipe], shares: Mapping[Slot, Part]) -> Iterator[tuple[Part, float]]:
    """The shares that the two sides had when they last were two, halves otherwise."""
    before = {slot: drawer[slot].share_pct for slot in shares if slot in drawer}
    fits = len(before) == len(shares) and math.isclose(sum(before.values()), 100.0)
    for slot, part in shares.items():
        yield part, before[slot] if fits else 50.0


def _places(recipe: Recipe) -> Iterator[Place]:
    for part in PARTS[recipe.build]:
        for number in range(len(recipe.parts[part].doses)):
            yield Place(part=part, dose=number)
        yield Place(part=part)


def stepped(load_pct: float, steps: int) -> float:
    """A load so many fine steps further on a ladder of two significant digits: 0.22, 0.23; 0.99, 1; 1, 1.1.

    A load that stands between two rungs goes to the next one first.
    """
    rung = _rung(load_pct)
    start = math.floor(rung + 1e-9) if steps > 0 else math.ceil(rung - 1e-9)
    return min(MOST_PCT, max(LEAST_PCT, _load(start + steps)))


def _rung(load_pct: float) -> float:
    """The place of a load on the ladder of 90 rungs to the decade, 0 at 1 %."""
    decade = math.floor(math.log10(load_pct) + 1e-12)
    return 90 * decade + (load_pct / 10.0**decade - 1) * 10


def _load(rung: int) -> float:
    decade, tenths = divmod(rung, 90)
    return float(f"{(1 + tenths / 10) * 10.0**decade:.2g}")


def slug(title: str) -> str:
    """A name for files made of a title: small letters, digits, hyphens, at most sixty; empty when none is left.
    An accented letter gives the letter under its accent."""
    parted = unicodedata.normalize("NFKD", title.casefold())
    letters = (character for character in parted if not unicodedata.combining(character))
    kept = "".join(letter if letter.isascii() and letter.isalnum() else " " for letter in letters)
    return "-".join(kept.split())[:60].strip("-")


def ready_to_save(draft: Draft, title: str) -> Recipe:
    """The recipe under that title and a name made of it. A source stays with the figures that it is the source
    of; parts that were changed here say so."""
    recipe = draft.recipe
    first = draft.origin
    kept = {key: source for key, source in recipe.sources.items() if not key.endswith(".doses")}
    for part in recipe.parts:
        key = f"parts.{part}.doses"
        same = part in first.parts and first.parts[part].doses == recipe.parts[part].doses
        if recipe.parts[part].doses:
            kept[key] = first.sources.get(key, SOURCE) if same else SOURCE
    return replace(recipe, name=slug(title), title=title, sources=kept)
