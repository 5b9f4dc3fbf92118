"""How a recipe will look in a mould, before anything is melted: views, what the core does, and the load window.

The section comes from the mould: the body's thickness, the rod's diameter (the rest is wall), the tail's
thickness. Each side of a laminate is looked at where its colour goes all through, as on a flank above or below the
seam; a laminate without a core also with its half, by its share of the depth, in front of the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from bench.colour.flake import Flaked
from bench.colour.layers import Medium, film
from bench.colour.mix import Loaded
from bench.colour.views import BACKGROUND, CoreViews, Section, Seen, contrast_ratio, look, seen, through
from bench.colour.window import TOLD_FROM_LIGHTNESS, Window, load_window
from bench.model.colourant import Colourant
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import PARTS, Part, Recipe, Tail
from bench.plan.flakes import flake_notes
from bench.plan.look_records import (
    LoadAt,
    LoadWindow,
    Place,
    RecipeLook,
    SideLook,
    SwatchFit,
    View,
    ViewName,
)
from bench.plan.look_words import advice, why_empty
from bench.plan.scope import check_mould
from bench.plan.strengths import PartColour, base_of, part_colour, tinting

if TYPE_CHECKING:
    from bench.plan.records import Plan

NO_CUPS: Mapping[Part, float] = {}


def look_at(
    *,
    recipe: Recipe,
    mould: Mould,
    plastic: Plastic,
    colourants: Mapping[str, Colourant],
    tail: Tail | None = None,
    cups_g: Mapping[Part, float] = NO_CUPS,
    moving: str = "",
) -> RecipeLook:
    """The look of a recipe in a mould. ``tail`` None leaves it to the recipe.

    ``cups_g`` is what each part's planned cup holds, colour included, so that the window can be told in grams and
    drops. The window is that of ``moving`` in every shell that holds it, else of the shell's greatest load, the
    other colours held. Colourants that nobody has read are said to be unknown and make nothing fail. Raises
    BenchError for a recipe that does not go with the mould, and for a colourant that is not among ``colourants``.
    """
    chosen = recipe.tail if tail is None else tail
    check_mould(recipe, mould, chosen)
    colours = {
        part: part_colour(recipe.parts[part], colourants=colourants, plastic=plastic)
        for part in PARTS[recipe.build]
    }
    cored, section = recipe.build.has_core, section_of(mould, with_core=recipe.build.has_core)
    tails = (chosen if cored else Tail.KEPT) if section.tail_mm > 0 else None
    bait = _Bait(recipe, section, base_of(plastic), colours, tails, cups_g, moving)
    return RecipeLook(
        recipe=recipe.name,
        recipe_title=recipe.title,
        mould=mould.name,
        mould_title=mould.title,
        build=recipe.build,
        tail=chosen if cored else None,
        section=section,
        sides=tuple(bait.side(part) for part in colours if part is not Part.CORE),
        core_views=tuple(bait.core_views()),
        unknown=_once(sentence for colour in colours.values() for sentence in colour.unknown),
        notes=_once((*_notes(colours), *flake_notes(recipe, section, colourants, plastic))),
        fits=tuple(_fits(recipe, colourants, plastic)),
    )


def cups_g_of(plan: Plan) -> dict[Part, float]:
    """What each part's first cup holds by a plan, colour included, g."""
    return {part.part: part.melts[0].mass_g for part in plan.parts}


def section_of(mould: Mould, *, with_core: bool) -> Section:
    """A bait of that mould cut across, with its core or without."""
    return Section(
        body_mm=mould.section.body_mm,
        core_mm=mould.rods.diameter_mm if with_core and mould.rods is not None else 0.0,
        tail_mm=mould.section.tail_mm or 0.0,
    )


class _Bait:
    """A recipe's colours in a section, looked at side by side. ``tails`` is None where there are none."""

    def __init__(
        self,
        recipe: Recipe,
        section: Section,
        base: Medium,
        colours: Mapping[Part, PartColour],
        tails: Tail | None,
        cups_g: Mapping[Part, float],
        moving: str,
    ) -> None:
        self._recipe = recipe
        self._section = section
        self._base = base
        self._colours = colours
        self._tails = tails
        self._cups_g = cups_g
        self._moving = moving
        self._core = colours.get(Part.CORE)

    def side(self, part: Part) -> SideLook:
        """The look of one side."""
        colour = self._colours[part]
        core = self._core.medium if self._core is not None else None
        doubts = (*colour.unknown, *(self._core.unknown if self._core is not None else ()))
        if colour.medium is None:
            return _judged(part, (), None, None, None, doubts)
        views = look(shell=colour.medium, base=self._base, section=self._section, core=core, flaked=colour.flaked)
        shown = [_view(ViewName.CUP, part, views.cup)]
        shown.append(_view(self._alone, part, views.shell_alone))
        other = self._over_other(part, colour.medium, colour.flaked)
        if other is not None:
            shown.append(_view(ViewName.OVER_OTHER, part, other))
        if views.core is not None:
            shown.append(_view(ViewName.OVER_CORE, part, views.core.over_core))
            shown.append(_view(ViewName.CORE_IN_CLEAR, part, views.core.core_in_base))
        if views.tail_kept is not None and self._tails is Tail.KEPT:
            shown.append(_view(ViewName.TAIL, part, views.tail_kept))
        window = None if core is None else self._window(part, colour, core)
        ratio = contrast_ratio(colour.medium, self._thickness_mm(part))
        return _judged(part, tuple(shown), views.core, window, ratio, doubts)

    def core_views(self) -> Iterator[View]:
        """The core by itself, and the tail where it fills it."""
        if self._core is None or self._core.medium is None:
            return
        alone = Section(body_mm=self._section.core_mm, tail_mm=self._section.tail_mm)
        views = look(shell=self._core.medium, base=self._base, section=alone)
        yield _view(ViewName.CUP, Part.CORE, views.cup)
        yield _view(ViewName.CORE_ALONE, Part.CORE, views.shell_alone)
        if views.tail_kept is not None and self._tails is Tail.CUT:
            yield _view(ViewName.TAIL, Part.CORE, views.tail_kept)

    @property
    def _alone(self) -> ViewName:
        return ViewName.BODY if self._core is None else ViewName.SHELL_ALONE

    def _thickness_mm(self, part: Part) -> float:
        """What a side has to hide with: its wall over the core, else its share of the body's depth."""
        if self._core is not None:
            return self._section.wall_mm
        return self._section.body_mm * self._recipe.parts[part].share_pct / 100

    def _over_other(self, part: Part, medium: Medium, flaked: Flaked | None) -> Seen | None:
        """A laminate's half in front of the other one; None without two, or when the other is not known."""
        behind = [each for each in self._colours if each not in (part, Part.CORE)]
        if self._core is not None or not behind:
            return None
        other, near_mm, far_mm = self._colours[behind[0]], self._thickness_mm(part), self._thickness_mm(behind[0])
        if other.medium is None or near_mm <= 0:
            return None
        far = through(other.medium, film(other.medium, far_mm), far_mm, BACKGROUND, other.flaked)
        return seen(through(medium, film(medium, near_mm), near_mm, far, flaked))

    def _window(self, part: Part, colour: PartColour, core: Medium) -> LoadWindow:
        main = _main(colour, self._moving)
        loads = [loaded for _, loaded in colour.doses]
        moving = [] if main is None else [loads[main]]
        held = [each for at, each in enumerate(loads) if at != main]
        found = self._found(moving, held, core, colour.flaked)
        outside = _place(found) is not Place.INSIDE
        together = self._found(loads, (), core, colour.flaked) if held and outside else None
        named = None if main is None else colour.doses[main][0]
        return _told(found, together, named, others=bool(held), cup_g=self._cups_g.get(part))

    def _found(
        self, doses: Sequence[Loaded], held: Sequence[Loaded], core: Medium, flaked: Flaked | None
    ) -> Window:
        return load_window(
            base=self._base, doses=doses, held=held, core=core, section=self._section, flaked=flaked
        )


def _main(colour: PartColour, moving: str) -> int | None:
    """Which dose the window is told by: that of ``moving``, else the greatest; None without any."""
    loads = [loaded.load_pct for _, loaded in colour.doses]
    named = [at for at, (each, _) in enumerate(colour.doses) if each.name == moving]
    return max(named or range(len(loads)), key=lambda at: loads[at], default=None)


def _told(
    window: Window, together: Window | None, main: Colourant | None, *, others: bool, cup_g: float | None
) -> LoadWindow:
    """The window by its main colourant, in the planned cup's grams and drops. ``together`` is that of all of the
    shell's colours, looked for where the main one's does not hold the recipe."""

    def at(load_pct: float | None) -> LoadAt | None:
        if load_pct is None:
            return None
        mass_g = None if cup_g is None else cup_g * load_pct / 100
        drop_g = None if main is None else main.drop_g
        return LoadAt(
            load_pct=load_pct,
            mass_g=mass_g,
            drops=None if mass_g is None or drop_g is None else mass_g / drop_g,
        )

    now = at(window.main_load_pct)
    assert now is not None, "the present load is a number, nought at least"
    return LoadWindow(
        place=_place(window),
        colourant="" if main is None else main.name,
        title="" if main is None else main.title,
        others=others,
        now=now,
        low=at(window.low_pct),
        high=at(window.high_pct),
        bounded_low=window.bounded_low,
        bounded_high=window.bounded_high,
        why_empty=why_empty(window.cause),
        openers=window.openers,
        opening_wall_mm=window.opening_wall_mm,
        opening_load_pct=None if window.opening_factor is None else window.opening_factor * window.main_load_pct,
        together=None if together is None else _factors(together),
        high_too_dark=window.high_lightness is not None and window.high_lightness < TOLD_FROM_LIGHTNESS,
    )


def _factors(window: Window) -> tuple[float, float] | None:
    if window.low_factor is None or window.high_factor is None:
        return None
    return window.low_factor, window.high_factor


def _place(window: Window) -> Place:
    if window.low_factor is None or window.high_factor is None:
        return Place.EMPTY
    if window.low_factor > 1:
        return Place.BELOW
    return Place.ABOVE if window.high_factor < 1 else Place.INSIDE


def _judged(
    part: Part,
    views: tuple[View, ...],
    core: CoreViews | None,
    window: LoadWindow | None,
    ratio: float | None,
    unknown: tuple[str, ...],
) -> SideLook:
    visibility, tint = (None, None) if core is None else (core.visibility, core.tint)
    return SideLook(
        side=part,
        views=views,
        core_visibility=visibility,
        shell_tint=tint,
        third_colour=None if core is None else core.third_colour,
        contrast_ratio=ratio,
        window=window,
        unknown=unknown,
        advice=advice(window=window, visibility=visibility, tint=tint, contrast_ratio=ratio, unknown=unknown),
    )


def _view(name: ViewName, side: Part, shown: Seen) -> View:
    return View(name=name, side=side, hex=shown.hex, lab=shown.lab, clipped=shown.clipped)


def _notes(colours: Mapping[Part, PartColour]) -> Iterator[str]:
    for colour in colours.values():
        yield from colour.notes


def _once(sentences: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(sentences))


def _fits(recipe: Recipe, colourants: Mapping[str, Colourant], plastic: Plastic) -> Iterator[SwatchFit]:
    used = dict.fromkeys(dose.colourant for part in PARTS[recipe.build] for dose in recipe.parts[part].doses)
    for name in used:
        colourant = colourants[name]
        found = tinting(colourant, base_of(plastic))
        if found.strength is not None:
            yield SwatchFit(
                colourant=name, title=colourant.title, films=len(colourant.swatch), agreement=found.agreement
            )
