"""The ten demo colourants as physics: invented K and S of each kind, and the swatches that their films would give.

The hex colours in ``profiles/colourants`` are what this module computes, so that the demo is consistent with
itself: dyes absorb and hardly scatter, pigments do both, pearls and highlights scatter and hardly absorb. No real
colourant was measured. ``python -m tests.colour.demo_colours`` prints the tables for the profiles.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterator
from dataclasses import dataclass

from bench.colour.bands import by_wavelength, flat
from bench.colour.lab import shown
from bench.colour.layers import film, over
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.saunderson import outside
from bench.plan.strengths import CLEAR
from tests.colour.media import edge, hump, strength

WHITE_CARD, BLACK_CARD = 0.85, 0.04


def _sum(*spectra: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(sum(bands) for bands in zip(*spectra, strict=True))


STRENGTHS: dict[str, Strength] = {
    # Dyes: a brown, a green and a blue, clear in thin film.
    "peat-brown": strength(by_wavelength(lambda nm: 0.06 + 1.6 * math.exp(-(nm - 400) / 95)), flat(0.015)),
    "reed-green": strength(_sum(hump(655, 65, 1.5, 0.12), hump(420, 65, 2.0)), flat(0.015)),
    "mere-blue": strength(_sum(hump(605, 75, 1.9, 0.1), hump(400, 40, 0.25)), flat(0.02)),
    # Pigments scatter as well.
    "ember-red": strength(edge(583, 14, 9.0, 0.02), flat(1.1)),
    "soot-black": strength(flat(6.0), flat(0.15)),
    "chalk-white": strength(flat(0.008), flat(9.0)),
    "lantern-orange": strength(edge(562, 9, 3.0, 0.01), flat(0.5)),
    # Platelets: little colour, much haze.
    "moonwater-pearl": strength(flat(0.02), flat(3.2)),
    "dawn-highlight": strength(hump(520, 70, 0.12, 0.02), hump(620, 120, 0.8, 1.4)),
}

FILMS: dict[str, tuple[tuple[float, float], ...]] = {
    "peat-brown": ((1.0, 1.0), (1.0, 0.25)),
    "reed-green": ((1.0, 0.5), (1.0, 0.15)),
    "mere-blue": ((1.0, 0.5), (1.0, 0.15)),
    "ember-red": ((0.5, 0.5), (0.5, 2.0)),
    "soot-black": ((0.5, 0.1), (0.5, 0.4)),
    "chalk-white": ((0.5, 0.1), (0.5, 0.4)),
    "lantern-orange": ((0.5, 0.5), (0.5, 2.0)),
    "moonwater-pearl": ((1.0, 0.1), (1.0, 0.4)),
    "dawn-highlight": ((1.0, 0.2), (1.0, 0.8)),
}
"""Thickness in mm and load in % of each colourant's films."""


@dataclass(frozen=True, kw_only=True)
class Invented:
    """A film as it would be read, in perfect light."""

    thickness_mm: float
    load_pct: float
    over_white: str
    over_black: str


def swatches(name: str) -> Iterator[Invented]:
    """The films of a demo colourant."""
    for thickness_mm, load_pct in FILMS[name]:
        coloured = film(mix(CLEAR, [Loaded(strength=STRENGTHS[name], load_pct=load_pct)]), thickness_mm)
        white, black = (shown(outside(over(coloured, flat(card)))).hex for card in (WHITE_CARD, BLACK_CARD))
        yield Invented(thickness_mm=thickness_mm, load_pct=load_pct, over_white=white, over_black=black)


def _tables(name: str) -> str:
    return "\n".join(
        f'[[swatch]]\nthickness = "{each.thickness_mm:g} mm"\nload = "{each.load_pct:g} %"\n'
        f'over_white = "{each.over_white}"\nover_black = "{each.over_black}"\n'
        for each in swatches(name)
    )


if __name__ == "__main__":
    for known in STRENGTHS:
        sys.stdout.write(f"# {known}\n{_tables(known)}\n")
