"""Spare baits: whole ones beyond the count.

A share of a bait cannot be poured, so it opens no round: 5 % of 8 baits would otherwise fill a mould of four for
four tenths of one. What full rounds make beyond the count is to spare in any case.
"""

from __future__ import annotations

import math

from bench.units import Percent

_ROUNDING = 1e-9
"""Keeps 7 % of 100 baits at seven whole ones, though in binary a product may be a hair less."""


def spare_baits(count: int, spares_pct: Percent) -> int:
    """How many spare baits are asked for."""
    return math.floor(count * spares_pct / 100 + _ROUNDING)


def rounds_for(baits: int, cavities: int) -> int:
    """How many full rounds make so many baits."""
    return -(-baits // cavities)
