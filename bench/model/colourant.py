"""A colourant, as it is weighed or dropped into the cup."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from bench.errors import Fault
from bench.units import Grams


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
    """``drop_g`` is the mass of one drop (weigh twenty once); None for powders, which have no drops."""

    name: str
    title: str
    kind: ColourantKind
    drop_g: Grams | None = None
    sources: Mapping[str, str] = field(default_factory=dict)

    def faults(self) -> Iterator[Fault]:
        """Nothing here contradicts anything else."""
        yield from ()
