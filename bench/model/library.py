"""All profiles together, and whether what they name exists."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from bench.errors import BenchError, Fault, quoted
from bench.model.caution import Caution
from bench.model.colourant import Colourant
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Recipe
from bench.model.settings import Settings
from bench.model.station import Station

_Record = TypeVar("_Record")

MOST_LISTED = 12
"""Names in one sentence."""


def nearest(word: str, words: Collection[str]) -> str:
    """The word of ``words`` that ``word`` was probably meant to be, quoted; empty when none is near, or a part of
    a name such as "leech" is near several."""
    close = difflib.get_close_matches(word[:80], sorted(words), n=1, cutoff=0.6)
    if not close:
        close = [name for name in words if _is_part(word[:80], name)]
    return f'"{close[0]}"' if len(close) == 1 else ""


def _is_part(word: str, name: str) -> bool:
    parts = name.split("-")
    return len(parts) > 1 and bool(difflib.get_close_matches(word, parts, n=1, cutoff=0.8))


@dataclass(frozen=True, kw_only=True, slots=True)
class Library:
    """Every profile by name, shipped ones and the user's own."""

    plastics: Mapping[str, Plastic] = field(default_factory=dict)
    moulds: Mapping[str, Mould] = field(default_factory=dict)
    colourants: Mapping[str, Colourant] = field(default_factory=dict)
    recipes: Mapping[str, Recipe] = field(default_factory=dict)
    stations: Mapping[str, Station] = field(default_factory=dict)
    cautions: tuple[Caution, ...] = ()
    settings: Settings = field(default_factory=Settings)

    def recipe(self, name: str) -> Recipe:
        """The recipe of this name; BenchError with the nearest right word otherwise."""
        return _found(self.recipes, name, "recipe")

    def mould(self, name: str) -> Mould:
        """The mould of this name; BenchError with the nearest right word otherwise."""
        return _found(self.moulds, name, "mould")

    def plastic(self, name: str) -> Plastic:
        """The plastic of this name; BenchError with the nearest right word otherwise."""
        return _found(self.plastics, name, "plastic")

    def station(self, name: str | None = None) -> Station:
        """The station of this name, or the one the settings choose."""
        return _found(self.stations, self.settings.station if name is None else name, "station")

    def reference_faults(self, recipe: Recipe) -> Iterator[Fault]:
        """Names in a recipe that nothing on the shelf answers to."""
        if recipe.plastic not in self.plastics:
            yield _unknown("plastic", recipe.plastic, self.plastics, "a plastic")
        for part, colours in recipe.parts.items():
            for place, dose in enumerate(colours.doses):
                if dose.colourant not in self.colourants:
                    key = f"parts.{part}.doses[{place}].colourant"
                    yield _unknown(key, dose.colourant, self.colourants, "a colourant")

    def warm_faults(self, mould: Mould) -> Iterator[Fault]:
        """A window of the mould in which no plastic on the shelf sets, or in which one hardly does."""
        by_open = sorted(self.plastics.values(), key=lambda plastic: plastic.open_c)
        if not by_open:
            return
        first, last = by_open[0], by_open[-1]
        low_c, high_c = mould.warm_c
        found = f"{low_c:g} to {high_c:g} degC"
        if low_c >= last.open_c:
            wanted = f"below the {last.open_c:g} degC at which {last.title} opens, the highest on the shelf"
            yield Fault(key="warm", found=found, wanted=wanted)
        elif high_c >= first.open_c:
            usual = f"below the {first.open_c:g} degC at which {first.title} opens"
            yield Fault(key="warm", found=found, wanted=usual, doubt=True)


def _unknown(key: str, name: str, known: Collection[str], what: str) -> Fault:
    return Fault(key=key, found=quoted(name), wanted=f"the name of {what} on the shelf", hint=nearest(name, known))


def listed(names: Collection[str]) -> str:
    """The first of these names, in order; "none" where there are none."""
    return ", ".join(sorted(names)[:MOST_LISTED]) or "none"


def _found(records: Mapping[str, _Record], name: str, what: str) -> _Record:
    try:
        return records[name]
    except KeyError:
        near = nearest(name, records)
        hint = f"; did you mean {near}?" if near else f"; on the shelf: {listed(records)}."
        raise BenchError(f"no {what} is called {quoted(name)}{hint}") from None
