"""A shell whose load lies outside its window, to be said where its cup is weighed: what is weighed less of or more
can still be changed then."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bench.colour.window import VISIBLE_AT_LEAST
from bench.model.recipe import Part
from bench.plan.look_records import Place, RecipeLook
from bench.units import Percent


@dataclass(frozen=True, kw_only=True, slots=True)
class Astray:
    """The cup of ``part``, by the load of its main colourant. ``hides`` says that the core will not show through
    it, else the shell hardly tints. ``limit_pct`` is the end of its window on that side, None where there is no
    window."""

    part: Part
    title: str
    place: Place
    hides: bool
    limit_pct: Percent | None = None


def astray_in(look: RecipeLook) -> Iterator[Astray]:
    """Every shell of the recipe whose load lies outside its window; none whose look is not known, nor one that is
    meant to be clear."""
    for side in look.sides:
        window = side.window
        if window is None or not window.colourant or side.unknown or window.place is Place.INSIDE:
            continue
        end = window.low if window.place is Place.BELOW else window.high
        yield Astray(
            part=side.side,
            title=window.title,
            place=window.place,
            hides=window.place is not Place.BELOW and (side.core_visibility or 0.0) < VISIBLE_AT_LEAST,
            limit_pct=None if end is None or window.place is Place.EMPTY else end.load_pct,
        )
