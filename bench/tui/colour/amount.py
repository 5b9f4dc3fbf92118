"""A dose that is typed: as a load, and for flake also as what it covers or how many a bait holds."""

from __future__ import annotations

import re
from enum import Enum

from bench.errors import BenchError, quoted
from bench.model.library import Library
from bench.model.recipe import Part
from bench.plan.flakes import FlakePlace, flake_place
from bench.plan.look import section_of
from bench.tui.colour.draft import LEAST_PCT, MOST_PCT, Draft

_THOUSANDS = re.compile(r",\d{3}(?!\d)")
"""A comma before three digits: of a number of flakes it is no decimal one."""


class By(Enum):
    """What the typed number counts."""

    LOAD = "% of the cup"
    COVER = "% of what lies behind it covered"
    COUNT = "flakes in each bait"


def ways(draft: Draft, library: Library) -> tuple[By, ...]:
    """What the dose under the cursor can be typed as. Flake in a core covers nothing that is reckoned."""
    if _flake(draft, library) is None:
        return (By.LOAD,)
    return (By.LOAD, By.COUNT) if draft.place.part is Part.CORE else (By.LOAD, By.COVER, By.COUNT)


def next_way(by: By, draft: Draft, library: Library) -> By:
    """The next of them."""
    found = ways(draft, library)
    return found[(found.index(by) + 1) % len(found)] if by in found else found[0]


def typed_load(text: str, by: By, draft: Draft, library: Library) -> float:
    """The load, %, that was typed. Raises BenchError for what is no amount, and for more or less than can be."""
    number = _number(text)
    if by is By.COUNT and _THOUSANDS.search(text):
        raise BenchError(f"found {quoted(text)}: write a thousand without a comma, 1000")
    place = _flake(draft, library)
    if place is None or by is By.LOAD:
        load_pct = number
    elif by is By.COVER:
        load_pct = place.load_for_cover(number / 100)
    else:
        load_pct = place.load_for_count(number)
    if not LEAST_PCT <= load_pct <= MOST_PCT:
        raise BenchError(f"that is {load_pct:.3g} %; a dose is {LEAST_PCT:g} to {MOST_PCT:g} % of its cup")
    return float(f"{load_pct:.4g}")


def flake_line(draft: Draft, library: Library) -> str:
    """What the flake under the cursor comes to; empty for a dose that is none."""
    place, dose = _flake(draft, library), draft.dose
    if place is None or dose is None:
        return ""
    many = f"About {place.count(dose.load_pct):,.0f} flakes in each bait"
    if draft.place.part is Part.CORE:
        return f"{many}."
    return f"{many}; they cover {100 * place.covers(dose.load_pct):.0f} % of what lies behind."


def _flake(draft: Draft, library: Library) -> FlakePlace | None:
    """The flake under the cursor where it goes; None for a dose that is none, and in a mould that does not fit."""
    dose, mould = draft.dose, library.moulds[draft.mould]
    cut = None if dose is None else library.colourants[dose.colourant].flake
    if cut is None or (draft.recipe.build.has_core and mould.rods is None):
        return None
    return flake_place(
        draft.recipe,
        draft.place.part,
        cut,
        mould=mould,
        section=section_of(mould, with_core=draft.recipe.build.has_core),
        plastic=library.plastic(draft.recipe.plastic),
    )


def _number(text: str) -> float:
    try:
        return float(text.strip().removesuffix("%").strip().replace(",", "."))
    except ValueError:
        raise BenchError(f"found {quoted(text)}, wanted a number such as 0.25") from None
