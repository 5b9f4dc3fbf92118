"""Amounts of colour: % of the cup's mass, grams, drops and spoons. Weigh first; drops and spoons are hints."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from bench.errors import BenchError

WATER_DROP_G = 0.050
"""Middle of the 45 to 55 mg that a medicine dropper of 3 mm gives of water, USP <1101>."""

STARTING_DROP_G = 0.025
"""Starting value for a drop of colour in plasticiser: 40 to 50 drops to the ml (Tate's law with a surface tension
of 30 to 33 mN/m against water's 72; from memory). The trade's own figures spread by 60 %: weigh twenty drops once.
"""


class Spoon(StrEnum):
    """Kitchen measures."""

    TEASPOON = "teaspoon"
    TABLESPOON = "tablespoon"
    FLUID_OUNCE = "fluid ounce"
    CUP = "cup"


SPOON_ML: Mapping[Spoon, float] = MappingProxyType(
    {
        Spoon.TEASPOON: 4.92892159375,
        Spoon.TABLESPOON: 14.78676478125,
        Spoon.FLUID_OUNCE: 29.5735295625,
        Spoon.CUP: 236.5882365,
    }
)
"""US customary, exact: a gallon is 231 cubic inches (NIST SP 811, appendix B). Kitchen spoons of 5 and 15 ml hold
1.4 % more."""


STARTING_LIQUID_G_ML = 1.1
"""Starting value for colour in plasticiser: a little denser than the plasticiser; common practice, no source."""

STARTING_POWDER_G_ML = 0.4
"""Starting value for a dry pigment or pearl as it lies in a spoon, air included; common practice, no source."""


def _positive(field: str, value: float, unit: str) -> None:
    if not value > 0:
        raise BenchError(f"{field}: found {value:g} {unit}; give more than 0")


def grams(load_pct: float, *, cup_g: float) -> float:
    """Mass of colour for a load, g; both by the mass of the whole cup, colour included."""
    _positive("cup", cup_g, "g")
    if not 0 <= load_pct <= 100:
        raise BenchError(f"load: {load_pct:g} % of the cup is not possible; give 0 to 100 %")
    return load_pct / 100 * cup_g


def load_pct(colour_g: float, *, cup_g: float) -> float:
    """Load of a mass of colour, % of the whole cup's mass."""
    _positive("cup", cup_g, "g")
    if not 0 <= colour_g <= cup_g:
        raise BenchError(f"colour: {colour_g:g} g does not fit into a cup of {cup_g:g} g; give 0 to {cup_g:g} g")
    return 100 * colour_g / cup_g


def drop_g(*, weighed_g: float, drops: int) -> float:
    """Mass of one drop from some drops weighed together, g. Twenty make the balance's last digit harmless."""
    _positive("weighed", weighed_g, "g")
    if drops < 1:
        raise BenchError(f"drops: found {drops}; weigh at least one, better twenty")
    return weighed_g / drops


def drops(colour_g: float, *, one_drop_g: float) -> float:
    """Number of drops of a mass of colour, not rounded."""
    _positive("drop", one_drop_g, "g")
    return colour_g / one_drop_g


def grams_of_drops(count: float, *, one_drop_g: float) -> float:
    """Mass of some drops, g."""
    _positive("drop", one_drop_g, "g")
    return count * one_drop_g


def spoons(colour_g: float, *, spoon: Spoon, bulk_g_ml: float) -> float:
    """Number of level spoons of a mass of colour. ``bulk_g_ml`` is how it lies in the spoon, air included."""
    _positive("density", bulk_g_ml, "g/ml")
    return colour_g / (bulk_g_ml * SPOON_ML[spoon])


def grams_of_spoons(count: float, *, spoon: Spoon, bulk_g_ml: float) -> float:
    """Mass of some level spoons, g."""
    _positive("density", bulk_g_ml, "g/ml")
    return count * SPOON_ML[spoon] * bulk_g_ml


def addition_g(*, from_pct: float, to_pct: float, cup_g: float) -> float:
    """Colour to add to a cup that already holds some, to bring its load up, g: the cup grows by what is added.

    Raises BenchError when the load should fall: colour is added, never taken out.
    """
    _positive("cup", cup_g, "g")
    if to_pct < from_pct:
        raise BenchError(
            f"load: {to_pct:g} % is less than the {from_pct:g} % already in; colour is added, never taken out"
        )
    if not to_pct < 100:
        raise BenchError(f"load: {to_pct:g} % leaves no plastic; give less than 100 %")
    return cup_g * (to_pct - from_pct) / (100 - to_pct)
