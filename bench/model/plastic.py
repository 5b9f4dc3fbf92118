"""The plastic: what heat does to it, and where it may be poured."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated

from bench.errors import Fault
from bench.model.swatch import CardFilm
from bench.model.usual import Range, density_doubts, density_faults, doubts_of
from bench.units import Celsius, Conductivity, Density, HeatCapacity, PerKelvin, Seconds, Usual

_RANGES = (
    Range(key="conductivity", field="conductivity_w_mk", least=0.05, most=0.5, unit="W/m/K"),
    Range(key="heat_capacity", field="heat_capacity_j_kgk", least=800, most=2500, unit="J/kg/K"),
    Range(key="expansion", field="expansion_per_k", least=1e-4, most=1.5e-3, unit="1/K"),
    Range(key="open", field="open_c", least=30, most=100, unit="degC"),
    Range(key="band", field="shot_c", least=140, most=200, unit="degC", words="in its middle"),
    Range(key="heat_limit", field="heat_limit_s", least=10, most=1440, unit="min", factor=60),
)
"""Round the starting values of the shipped plastics, wide enough for any that is poured by hand: common practice,
no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Plastic:
    """A plastisol as poured.

    ``density_kg_m3`` is at 20 °C. ``band_c`` is the pouring band (low, high); above ``scorch_c`` the plastic
    comes off the heat at once. ``gel_c`` is where it stops flowing, ``open_c`` where it is firm enough to leave
    the mould, ``bond_c`` the contact temperature below which a second shot may peel. ``cure_s`` is the rest
    before packing. ``heat_limit_s`` is how long at 160 °C it is said to stand: a warning, never a ban. ``bare`` is
    a film of it without colour on card, None for a clear one that nobody has read. ``sources`` says, for each key,
    where its value comes from.
    """

    name: str
    title: str
    density_kg_m3: Density
    conductivity_w_mk: Conductivity
    heat_capacity_j_kgk: HeatCapacity
    expansion_per_k: PerKelvin
    band_c: tuple[Celsius, Celsius]
    scorch_c: Celsius
    gel_c: Celsius
    open_c: Celsius
    bond_c: Celsius
    cure_s: Annotated[Seconds, Usual(example="48 h")]
    heat_limit_s: Annotated[Seconds, Usual(example="240 min")] = 14400.0
    bare: CardFilm | None = None
    sources: Mapping[str, str] = field(default_factory=dict)

    @property
    def shot_c(self) -> float:
        """The temperature plans reckon a shot with: the middle of the band."""
        return (self.band_c[0] + self.band_c[1]) / 2

    def faults(self) -> Iterator[Fault]:
        """What these values say about each other that cannot be."""
        low, high = self.band_c
        if low >= high:
            yield Fault(
                key="band", found=f"{low:g} to {high:g} degC", wanted="the low end first, below the high end"
            )
        if high > self.scorch_c:
            yield Fault(
                key="band",
                found=f"a high end of {high:g} degC",
                wanted=f"at most the scorch limit, {self.scorch_c:g} degC",
            )
        if self.gel_c >= low:
            yield Fault(key="gel", found=f"{self.gel_c:g} degC", wanted=f"less than the band, {low:g} degC")
        if self.open_c > self.gel_c:
            yield Fault(key="open", found=f"{self.open_c:g} degC", wanted=f"at most gel, {self.gel_c:g} degC")
        if self.heat_limit_s <= 0:
            yield Fault(key="heat_limit", found=f"{self.heat_limit_s:g} s", wanted="more than 0 s")
        yield from density_faults("density", self.density_kg_m3)
        if self.bare is not None:
            yield from self.bare.faults("bare")

    def doubts(self) -> Iterator[Fault]:
        """What is unlikely, where nothing is wrong."""
        yield from density_doubts("density", self.density_kg_m3)
        yield from doubts_of(self, _RANGES)
