"""Which few of the shelf's colourants bring a bait nearest to a wanted colour, when nobody named any."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from bench.colour.target import MOST_COLOURANTS
from bench.errors import BenchError
from bench.model.colourant import Colourant, ColourantKind
from bench.model.plastic import Plastic
from bench.plan.strengths import base_of, tinting

MOST_BOTTLES = 3
"""Colourants that are looked for together: more bottles are more to weigh, and hardly nearer."""

WORTH_A_BOTTLE = 1.0
"""CIEDE2000 that one more colourant must bring: about what is just seen."""

_GOOD = 0.5
_KEPT = 3

Off = Callable[[Sequence[str]], float]


def shelf_choice(off: Off, *, names: Iterable[str], there: Sequence[str] = ()) -> tuple[str, ...]:
    """Those that are ``there`` already and up to three more of the names, few before many: the best one, then what
    betters the three best, and so on.

    ``off`` is how far a match with some of them is from what is wanted. What is in the cup can be topped up
    without another bottle, so it is always among them, as many as leave room for others. Raises BenchError where
    there is nothing to choose from.
    """
    shelf, begun = tuple(names), tuple(there)[: MOST_COLOURANTS - MOST_BOTTLES]
    if not (shelf or begun):
        raise BenchError("no colourant on the shelf has a look that is known; read swatches, or name them")
    first = [begun] if begun else [(name,) for name in shelf]
    found = sorted((off(some), some) for some in first)
    best_off, best = found[0]
    for _ in range(MOST_BOTTLES + len(begun) - len(best)):
        if best_off < _GOOD:
            break
        wider = {
            frozenset((*some, name)): (*some, name)
            for _, some in found[:_KEPT]
            for name in shelf
            if name not in some
        }
        found = sorted((off(some), some) for some in wider.values())
        if not found or found[0][0] > best_off - WORTH_A_BOTTLE:
            break
        best_off, best = found[0]
    return best


def ranked(tried: Mapping[tuple[str, ...], float], *, first: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """All that was tried, best first, by how far off each set is: one more colourant counts as far off as it must
    bring. ``first``, the choice, stays before them."""

    def rank(names: tuple[str, ...]) -> tuple[bool, float]:
        return names != first, tried[names] + WORTH_A_BOTTLE * len(names)

    return tuple(sorted(tried, key=rank))


def shelf_names(colourants: Mapping[str, Colourant], plastic: Plastic) -> tuple[str, ...]:
    """The colourants that a match can reckon with: their look is known, and no light of theirs is left out."""
    base = base_of(plastic)
    left_out = (ColourantKind.FLAKE, ColourantKind.FLUORESCENT, ColourantKind.HIGHLIGHT)
    return tuple(
        name
        for name, each in sorted(colourants.items())
        if each.kind not in left_out and tinting(each, base).strength is not None
    )
