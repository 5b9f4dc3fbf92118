"""The cup on the bench against a wanted colour: what to add to it, and how far clear plastic thins it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bench.colour.difference import de2000
from bench.colour.doses import STARTING_LIQUID_G_ML, STARTING_POWDER_G_ML, Spoon, spoons
from bench.colour.lab import Lab, shown_lab
from bench.colour.layers import Medium
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.target import Doses, direction, doses_for, look_of
from bench.colour.views import Section, look
from bench.model.colourant import Colourant
from bench.plan.look_words import LEAST_WEIGHED_G
from bench.units import Grams, Percent


@dataclass(frozen=True, kw_only=True, slots=True)
class Addition:
    """One colourant: its load in the end, how much of that is new, and what to weigh. ``mass_g``, ``drops`` and
    ``teaspoons`` (level, US, by a starting density) are None without a cup; ``drops`` also for powders."""

    colourant: str
    title: str
    load_pct: Percent
    added_pct: Percent
    mass_g: float | None
    drops: float | None
    teaspoons: float | None

    @property
    def is_weighable(self) -> bool:
        """Whether there is anything to add that a scale shows; True while no cup is known."""
        return self.added_pct > 0 and (self.mass_g is None or self.mass_g >= LEAST_WEIGHED_G)


SAME_BELOW = 1.0
"""CIEDE2000 below which a match is as good as the same: about 1 is just seen side by side; common practice."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Thinned:
    """A cup that holds too much colour, thinned with clear plastic and then brought nearest to the target.

    ``share`` of the cup in the end is the cup as it stands; ``clear_g`` and ``cup_g`` are None where no cup was
    given. ``core_visibility`` is how far a core then shows, None without one. ``part_g`` is how much of the cup to
    take so that the new one fits the vessel of ``room_g``; None where the whole of it fits, or the vessel is not
    known.
    """

    share: float
    clear_g: Grams | None
    cup_g: Grams | None
    room_g: Grams | None
    part_g: Grams | None
    hex: str
    clipped: bool
    lab: Lab
    off: float
    misses: tuple[str, ...]
    core_visibility: float | None
    additions: tuple[Addition, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Sought:
    """What is sought, and what is in the cup by now: ``already`` of the chosen colourants, ``held`` of others."""

    target: Lab
    base: Medium
    chosen: Sequence[Colourant]
    strengths: Sequence[Strength]
    already: Sequence[float]
    held: Sequence[Loaded]
    section: Section
    core: Medium | None
    most_total_pct: float

    def nearest(self, share: float) -> Doses:
        """The nearest doses once the cup is that share of the one in the end, clear plastic the rest."""
        already = [share * each for each in self.already]
        return doses_for(
            self.target,
            base=self._base(share),
            colourants=self.strengths,
            section=self.section,
            core=self.core,
            already_pct=already,
            most_total_pct=max(self.most_total_pct, sum(already)),
        )

    def off(self, share: float) -> float:
        """How far the cup is off once it is thinned to that share, with nothing added but clear plastic."""
        medium = self.medium([share * each for each in self.already], share)
        return de2000(self.target, look_of(medium, self.section, self.core))

    def medium(self, loads_pct: Sequence[float], share: float = 1.0) -> Medium:
        """The cup with the chosen colourants at these loads, the others thinned to that share."""
        doses = [Loaded(strength=s, load_pct=x) for s, x in zip(self.strengths, loads_pct, strict=True)]
        return mix(self._base(share), doses)

    def additions(
        self, loads_pct: Sequence[float], *, start_g: float | None, end_g: float | None, share: float = 1.0
    ) -> tuple[Addition, ...]:
        """What to weigh so that the cup ends at these loads, that share of it being the cup as it stands."""
        return tuple(
            _addition(each, load_pct, before_pct, start_g=start_g, end_g=end_g, thinned=share)
            for each, load_pct, before_pct in zip(self.chosen, loads_pct, self.already, strict=True)
        )

    def core_visibility(self, loads_pct: Sequence[float], share: float = 1.0) -> float | None:
        """How far the core shows through the shell at these loads, CIEDE2000; None without a core."""
        views = look(
            shell=self.medium(loads_pct, share), base=self.base, section=self.section, core=self.core
        ).core
        return None if views is None else views.visibility

    def _base(self, share: float) -> Medium:
        return mix(
            self.base, [Loaded(strength=each.strength, load_pct=share * each.load_pct) for each in self.held]
        )


_THINNEST = 1 / 32
_THIN_WORTH = 1.0


def thinned(cup: Sought, off: float, cup_g: float | None, room_g: float | None) -> Thinned | None:
    """What clear plastic, and colour after it, would bring; None where it is not worth it."""
    share = _best_share(cup.off, steps_an_octave=4, thirds=24)
    alone = cup.off(share)
    loads: Sequence[float] = [share * each for each in cup.already]
    if alone >= SAME_BELOW:
        # A hue that is in the cup may have to be thinned further before another one can turn it.
        further = _best_share(lambda each: cup.nearest(each).off, steps_an_octave=1, thirds=4)
        doses = cup.nearest(further)
        if doses.off <= min(off, alone) - _THIN_WORTH:
            share, alone, loads = further, doses.off, doses.loads_pct
    if share > _HARDLY_THINNED or alone > off - _THIN_WORTH:
        return None
    return _thinned_to(cup, share, loads, cup_g, room_g)


_HARDLY_THINNED = 0.995


def _best_share(off: Callable[[float], float], *, steps_an_octave: int, thirds: int) -> float:
    """The share at which a cup is least off: the best of a ladder down from 1, then closer by thirds."""
    last = round(steps_an_octave * -math.log2(_THINNEST))
    ladder = [2 ** (-step / steps_an_octave) for step in range(last + 1)]
    best = min(range(len(ladder)), key=lambda at: off(ladder[at]))
    low, high = ladder[min(best + 1, last)], ladder[max(best - 1, 0)]
    for _ in range(thirds):
        one, other = low + (high - low) / 3, high - (high - low) / 3
        low, high = (low, other) if off(one) < off(other) else (one, high)
    return min((ladder[best], (low + high) / 2), key=off)


def _thinned_to(
    cup: Sought, share: float, loads_pct: Sequence[float], cup_g: float | None, room_g: float | None
) -> Thinned:
    end_g = None if cup_g is None else cup_g / share
    part_g = None
    if cup_g is not None and end_g is not None and room_g is not None and end_g > room_g:
        part_g, end_g = room_g * share, room_g
    start_g = cup_g if part_g is None else part_g
    additions = cup.additions(loads_pct, start_g=start_g, end_g=end_g, share=share)
    coloured_g = sum(each.mass_g or 0.0 for each in additions)
    lab = look_of(cup.medium(loads_pct, share), cup.section, cup.core)
    shown = shown_lab(lab)
    return Thinned(
        share=share,
        clear_g=None if end_g is None or start_g is None else end_g - start_g - coloured_g,
        cup_g=end_g,
        room_g=room_g,
        part_g=part_g,
        hex=shown.hex,
        clipped=shown.clipped,
        lab=lab,
        off=de2000(cup.target, lab),
        misses=direction(cup.target, lab),
        core_visibility=cup.core_visibility(loads_pct, share),
        additions=additions,
    )


def _addition(
    colourant: Colourant,
    load_pct: float,
    before_pct: float,
    *,
    start_g: float | None,
    end_g: float | None,
    thinned: float,
) -> Addition:
    mass_g = None
    if start_g is not None and end_g is not None:
        mass_g = max(0.0, end_g * load_pct / 100 - start_g * before_pct / 100)
    return Addition(
        colourant=colourant.name,
        title=colourant.title,
        load_pct=load_pct,
        added_pct=max(0.0, load_pct - thinned * before_pct),
        mass_g=mass_g,
        drops=None if mass_g is None or colourant.drop_g is None else mass_g / colourant.drop_g,
        teaspoons=None if mass_g is None else _teaspoons(colourant, mass_g),
    )


def _teaspoons(colourant: Colourant, mass_g: float) -> float:
    """By how such colour lies in a spoon: what has drops is liquid, the rest a powder."""
    bulk_g_ml = STARTING_POWDER_G_ML if colourant.drop_g is None else STARTING_LIQUID_G_ML
    return spoons(mass_g, spoon=Spoon.TEASPOON, bulk_g_ml=bulk_g_ml)
