"""What a maker reads off a colour: films on white and black card, a line that vanishes, a flake's size.

Colours are hex as a camera or an eye gives them, "#7a4b2c", none corrected by hand: the bare cards in the same
photograph make them comparable.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from bench.colour.flake import FILM_MM, POLYESTER_G_ML
from bench.colour.lab import lab_from_hex
from bench.colour.swatch import LIGHTER_AT_MOST
from bench.errors import BenchError, Fault, quoted
from bench.units import Density, Millimetres, Percent, Usual

WHITE_CARD = "#ededed"
"""Starting value for the bare white card: 85 % reflectance read true; common practice, no source."""

BLACK_CARD = "#383838"
"""Starting value for the bare black card: 4 % reflectance read true; common practice, no source."""

_CARDS = ("white_card", "black_card")
_READINGS = ("over_white", "over_black", *_CARDS)


@dataclass(frozen=True, kw_only=True, slots=True)
class CardFilm:
    """A film pressed on white and on black card, and the bare cards in the same light."""

    thickness_mm: Millimetres
    over_white: str
    over_black: str
    white_card: str = WHITE_CARD
    black_card: str = BLACK_CARD

    def faults(self, key: str) -> Iterator[Fault]:
        """What no film can show, beyond a camera's noise. ``key`` is where the film stands in its file."""
        texts = {name: getattr(self, name) for name in _READINGS}
        wrong = [fault for name, text in texts.items() for fault in colour_faults(f"{key}.{name}", text)]
        if wrong:
            yield from wrong
            return
        light = {name: lab_from_hex(text).lightness for name, text in texts.items()}
        if light["black_card"] >= light["white_card"] - LIGHTER_AT_MOST:
            yield _read(key, "black_card", self.black_card, f"darker than the white card, {self.white_card}")
        elif light["over_white"] > light["white_card"] + LIGHTER_AT_MOST:
            yield _read(
                key, "over_white", self.over_white, f"no lighter than the bare white card, {self.white_card}"
            )
        if light["over_black"] > light["over_white"] + LIGHTER_AT_MOST:
            yield _read(key, "over_black", self.over_black, f"no lighter than over white, {self.over_white}")


@dataclass(frozen=True, kw_only=True, slots=True)
class Swatch(CardFilm):
    """A film of coloured plastic; ``load_pct`` is the colourant's, by mass of the cup."""

    load_pct: Percent

    def faults(self, key: str) -> Iterator[Fault]:
        """What no film can show, and a film without colour."""
        if self.load_pct == 0:
            yield Fault(key=f"{key}.load", found="0 %", wanted="more than 0 %: a swatch holds colour")
        yield from CardFilm.faults(self, key)


@dataclass(frozen=True, kw_only=True, slots=True)
class Vanishing:
    """The thickness of film, at that load, in which a black line printed on white card is just lost.

    ``deep_colour`` is the colour where it is too deep to see through, as in a full cup. Swatches make it needless.
    """

    thickness_mm: Millimetres
    load_pct: Percent
    deep_colour: str | None = None

    def faults(self, key: str, *, has_swatch: bool) -> Iterator[Fault]:
        """What cannot be, and what is missing where no swatch tells the hue."""
        if self.load_pct == 0:
            yield Fault(
                key=f"{key}.load", found="0 %", wanted="more than 0 %: it is the colour that hides the line"
            )
        if self.deep_colour is not None:
            yield from colour_faults(f"{key}.deep_colour", self.deep_colour)
        elif not has_swatch:
            yield Fault(
                key=f"{key}.deep_colour",
                found="nothing",
                wanted='a colour such as "#7a4b2c": without a swatch nothing else tells the hue',
            )


@dataclass(frozen=True, kw_only=True, slots=True)
class FlakeCut:
    """A flake: its size across flats, the film that it is cut from, and the colour of its face."""

    size_mm: Millimetres
    colour: str
    film_mm: Annotated[Millimetres, Usual(example="0.025 mm")] = FILM_MM
    density_kg_m3: Density = 1000 * POLYESTER_G_ML

    def faults(self, key: str) -> Iterator[Fault]:
        """What is no flake."""
        yield from colour_faults(f"{key}.colour", self.colour)
        if self.film_mm >= self.size_mm:
            yield Fault(
                key=f"{key}.film", found=f"{self.film_mm:g} mm", wanted=f"less than its size, {self.size_mm:g} mm"
            )


def colour_faults(key: str, text: str) -> Iterator[Fault]:
    """A fault where a text is not a hex colour."""
    try:
        lab_from_hex(text)
    except BenchError:
        yield Fault(key=key, found=quoted(text), wanted='a colour in six hex digits such as "#7a4b2c"')


def _read(key: str, name: str, found: str, wanted: str) -> Fault:
    return Fault(key=f"{key}.{name}", found=f'"{found}"', wanted=wanted)
