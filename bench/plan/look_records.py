"""What a predicted look is: frozen records, ready to be shown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from bench.colour.lab import Lab
from bench.colour.views import Section
from bench.colour.window import TINT_AT_LEAST, TOLD_FROM_LIGHTNESS, VISIBLE_AT_LEAST, Opener
from bench.model.recipe import Build, Part, Tail
from bench.units import Grams, Percent


class ViewName(StrEnum):
    """Ways to look at a bait. ``BODY`` is a bait without a core, all through; ``OVER_OTHER`` a laminate's half in
    front of the other one; ``CORE_IN_CLEAR`` the core in walls of bare plastic, which is what tint counts from."""

    CUP = "in the cup"
    BODY = "whole body"
    OVER_OTHER = "over the other side"
    SHELL_ALONE = "shell alone"
    OVER_CORE = "over the core"
    CORE_ALONE = "core alone"
    CORE_IN_CLEAR = "core in clear walls"
    TAIL = "tail"


@dataclass(frozen=True, kw_only=True, slots=True)
class View:
    """One view. ``side`` is the part whose colour it is. ``hex`` is the nearest that a screen can show,
    ``clipped`` when that is not quite the colour of ``lab``."""

    name: ViewName
    side: Part
    hex: str
    lab: Lab
    clipped: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class LoadAt:
    """A load of the main colourant; ``mass_g`` and ``drops`` for the planned cup, None without one."""

    load_pct: Percent
    mass_g: Grams | None = None
    drops: float | None = None


class Place(StrEnum):
    """Where the recipe stands to its load window."""

    INSIDE = "inside"
    BELOW = "below"
    ABOVE = "above"
    EMPTY = "no window"


class Near(StrEnum):
    """Which end of its window a load lies near to."""

    THIN = "thin end"
    DENSE = "dense end"
    BOTH = "both ends"


NEAR = 0.15
"""Share of an end's load within which a load is said to lie near it; starting value, about what weighing, stirring
and the prediction itself may be off."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LoadWindow:
    """The loads at which a shell tints and its core still shows, told by its main colourant.

    Only the load of that colourant moves; ``others`` says that the shell has more, which are held. ``low`` and
    ``high`` are None when there is no window; ``why_empty`` then says why in words, ``openers`` what would open
    it, ``opening_wall_mm`` the thickest wall that does and ``opening_load_pct`` the load for it, ``together`` by
    how many times all of the shell's colours would have to be scaled. ``bounded_low`` and ``bounded_high`` are
    False where an end is merely that of the loads looked at; ``high_too_dark`` says that at the high end nobody
    would tell the core from the shell, so dark are both.
    """

    place: Place
    colourant: str
    title: str
    others: bool
    now: LoadAt
    low: LoadAt | None = None
    high: LoadAt | None = None
    bounded_low: bool = False
    bounded_high: bool = False
    why_empty: str | None = None
    openers: tuple[Opener, ...] = ()
    opening_wall_mm: float | None = None
    opening_load_pct: Percent | None = None
    together: tuple[float, float] | None = None
    high_too_dark: bool = False

    @property
    def near(self) -> Near | None:
        """The end that the present load lies near to; None in the open, and outside."""
        if self.place is not Place.INSIDE or self.low is None or self.high is None:
            return None
        thin = self.bounded_low and self.now.load_pct <= self.low.load_pct * (1 + NEAR)
        dense = self.bounded_high and self.now.load_pct >= self.high.load_pct * (1 - NEAR)
        if thin and dense:
            return Near.BOTH
        return Near.DENSE if dense else Near.THIN if thin else None


_COMPARED = (ViewName.SHELL_ALONE, ViewName.OVER_CORE)
"""What a core's showing is the difference of."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SideLook:
    """One side of a bait; plain baits and simple shells have one, laminates two.

    Differences are CIEDE2000 and None without a core. Whatever needs a colour that is not known is None or left
    out of ``views``; ``unknown`` says why, a sentence for each colourant. ``advice`` is one sentence.
    """

    side: Part
    views: tuple[View, ...]
    core_visibility: float | None
    shell_tint: float | None
    third_colour: float | None
    contrast_ratio: float | None
    window: LoadWindow | None
    unknown: tuple[str, ...]
    advice: str

    @property
    def seen(self) -> View | None:
        """The view that comes nearest to what one will see of this side; None where its colour is not known."""
        views = {view.name: view for view in self.views}
        names = (ViewName.OVER_CORE, ViewName.OVER_OTHER, ViewName.BODY)
        return next((views[name] for name in names if name in views), None)

    @property
    def is_too_dark(self) -> bool:
        """Whether shell and core are so dark that nobody tells at a bench whether the core shows."""
        compared = [view.lab.lightness for view in self.views if view.name in _COMPARED]
        return len(compared) == len(_COMPARED) and max(compared) < TOLD_FROM_LIGHTNESS

    @property
    def margin(self) -> float | None:
        """By how much the worse of tint and visibility passes its threshold; None where there is none."""
        if self.core_visibility is None or self.shell_tint is None:
            return None
        return min(self.shell_tint - TINT_AT_LEAST, self.core_visibility - VISIBLE_AT_LEAST)


@dataclass(frozen=True, kw_only=True, slots=True)
class SwatchFit:
    """How well a colourant's swatches agree: the CIEDE2000 by which the fit misses them in the mean; None where
    its look rests on a vanishing line alone."""

    colourant: str
    title: str
    films: int
    agreement: float | None


@dataclass(frozen=True, kw_only=True, slots=True)
class RecipeLook:
    """How a recipe will look in a mould. ``tail`` is None without a core; ``core_views`` the core's own.

    ``notes`` are sentences about what the prediction leaves out.
    """

    recipe: str
    recipe_title: str
    mould: str
    mould_title: str
    build: Build
    tail: Tail | None
    section: Section
    sides: tuple[SideLook, ...]
    core_views: tuple[View, ...]
    unknown: tuple[str, ...]
    notes: tuple[str, ...]
    fits: tuple[SwatchFit, ...]

    @property
    def views(self) -> Iterator[View]:
        """Every view, side by side, the core's last."""
        for side in self.sides:
            yield from side.views
        yield from self.core_views

    @property
    def worst(self) -> SideLook:
        """The side that stands worst to its thresholds: what holds for a bait holds for it. The first side where
        no side can be judged."""
        judged = [(side.margin, place) for place, side in enumerate(self.sides) if side.margin is not None]
        return self.sides[min(judged)[1]] if judged else self.sides[0]

    @property
    def advice(self) -> str:
        """One sentence: of a side that needs something done, else that a side is not known, else of the first."""
        astray = self.worst.margin is not None and self.worst.margin < 0
        unknown = next((side for side in self.sides if side.unknown), None)
        said = self.worst if astray or unknown is None else unknown
        return said.advice if len(self.sides) == 1 else f"{said.side.words}: {said.advice}"

    @property
    def advices(self) -> tuple[str, ...]:
        """A sentence for every side, or one for both where both need the same."""
        if len({side.advice for side in self.sides}) > 1:
            return tuple(f"{side.side.words}: {side.advice}" for side in self.sides)
        whose = "both sides: " if len(self.sides) > 1 else ""
        return (f"{whose}{self.sides[0].advice}",)
