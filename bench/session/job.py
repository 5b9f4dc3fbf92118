"""Everything a session was made from, so that it can be resumed after every profile has changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from bench.model.caution import Caution
from bench.model.colourant import Colourant
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Part, PartRecipe, Recipe
from bench.model.station import Station
from bench.plan.look_records import ViewName
from bench.plan.records import Plan
from bench.session.astray import Astray
from bench.session.step import Step


@dataclass(frozen=True, kw_only=True, slots=True)
class PredictedView:
    """One way to look at the bait, and the colour it was predicted to have: ``hex`` as "#rrggbb"."""

    view: ViewName
    side: Part
    hex: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Job:
    """The snapshot: profiles, plan and script.

    ``cores`` are the core colours that may still be chosen when the shells are seen, by recipe name, the planned
    one among them, ``core_titles`` the titles of those recipes; both are empty for builds without a core.
    ``colourants`` are those that any of it uses. ``looks`` are the colours that were predicted for the bait,
    ``advice`` what was said of them, ``look_warnings`` which load is outside its window, a sentence each,
    ``astray`` the same by the cup that it is of; all are empty where a colourant's look is not known.
    ``last_time`` is what was said of that recipe in that mould before, a line each.
    """

    recipe: Recipe
    mould: Mould
    plastic: Plastic
    station: Station
    plan: Plan
    script: tuple[Step, ...]
    cautions: tuple[Caution, ...]
    colourants: Mapping[str, Colourant] = field(default_factory=dict)
    cores: Mapping[str, PartRecipe] = field(default_factory=dict)
    core_titles: Mapping[str, str] = field(default_factory=dict)
    looks: tuple[PredictedView, ...] = ()
    advice: str = ""
    look_warnings: tuple[str, ...] = ()
    last_time: tuple[str, ...] = ()
    astray: tuple[Astray, ...] = ()

    @property
    def opening_cautions(self) -> frozenset[str]:
        """Names of the cautions that must be acknowledged before anything is heated."""
        return frozenset(caution.name for caution in self.cautions if caution.at_start)

    def core_title(self, name: str) -> str:
        """The title of the recipe of that name whose core may be chosen; the name itself where it has none."""
        return self.core_titles.get(name, name)
