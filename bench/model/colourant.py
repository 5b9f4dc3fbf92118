"""A colourant, as it is weighed or dropped into the cup."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from bench.errors import Fault
from bench.model.swatch import FlakeCut, Swatch, Vanishing
from bench.units import Grams, Usual


class ColourantKind(StrEnum):
    """What sort of colour it is; it decides how it is dosed and what it does to light."""

    DYE = "dye"
    PIGMENT = "pigment"
    PEARL = "pearl"
    HIGHLIGHT = "highlight"
    FLUORESCENT = "fluorescent"
    FLAKE = "flake"


@dataclass(frozen=True, kw_only=True, slots=True)
class Colourant:
    """``drop_g`` is the mass of one drop (weigh twenty once); None for powders, which have no drops.

    ``swatch`` holds films read on card, ``vanishing`` the one-number way of hiding, ``flake`` what a flake is cut
    from. A colourant without any of them can be planned with; only its look is unknown.
    """

    name: str
    title: str
    kind: ColourantKind
    drop_g: Annotated[Grams, Usual(example="0.03 g")] | None = None
    swatch: tuple[Swatch, ...] = ()
    vanishing: Vanishing | None = None
    flake: FlakeCut | None = None
    sources: Mapping[str, str] = field(default_factory=dict)

    def faults(self) -> Iterator[Fault]:
        """What these values say about each other that cannot be."""
        for place, swatch in enumerate(self.swatch):
            yield from swatch.faults(f"swatch[{place}]")
        if self.vanishing is not None:
            yield from self.vanishing.faults("vanishing", has_swatch=bool(self.swatch))
        if self.flake is not None:
            yield from self.flake.faults("flake")
        yield from self._kind_faults()

    def _kind_faults(self) -> Iterator[Fault]:
        if self.kind is not ColourantKind.FLAKE and self.flake is not None:
            yield Fault(key="flake", found=f"a flake's size for a {self.kind}", wanted='kind = "flake"')
        if self.kind is ColourantKind.FLAKE and (self.swatch or self.vanishing is not None):
            key = "swatch" if self.swatch else "vanishing"
            yield Fault(key=key, found="films of a flake", wanted="[flake] with size and colour: flake is no film")
