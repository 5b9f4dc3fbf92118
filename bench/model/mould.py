"""The mould: its cavities, rods and metal, described by dimensions or by weighed samples."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated

from bench.errors import Fault
from bench.model.mould_sense import mould_doubts, size_faults
from bench.units import (
    Celsius,
    Conductance,
    Conductivity,
    Density,
    Grams,
    HeatCapacity,
    Millilitres,
    Millimetres,
    Percent,
    SquareMetres,
    Usual,
    figure,
)

MM3_PER_ML = 1000.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Section:
    """What callipers say of one bait: body diameter, tail thickness (None: no tail) and gate diameter.

    ``passage_mm`` is the thinnest way that plastic must flow through, from face to face; None where it follows
    from the others.
    """

    body_mm: Millimetres
    gate_mm: Millimetres
    tail_mm: Millimetres | None = None
    passage_mm: Millimetres | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Rods:
    """The core rods. A rod may run through several cavities, so rods and cavities are counted apart.

    ``in_cavity_mm`` is the length of rod inside one cavity. The metal's properties say how fast it warms.
    """

    count: int
    diameter_mm: Millimetres
    in_cavity_mm: Millimetres
    conductivity_w_mk: Conductivity
    density_kg_m3: Density
    heat_capacity_j_kgk: HeatCapacity

    @property
    def in_cavity_ml(self) -> float:
        """The volume that the rod takes up in one cavity."""
        return math.pi / 4 * self.diameter_mm**2 * self.in_cavity_mm / MM3_PER_ML


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn:
    """Volumes from a drawing. The body is a cylinder of the section's diameter, filled to ``fullness_pct``."""

    body_length_mm: Millimetres
    runner_ml: Millilitres
    fullness_pct: Percent = 100.0
    tail_length_mm: Millimetres | None = None
    tail_width_mm: Millimetres | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Weighed:
    """Volumes from a scale: one whole bait, one shell, one tail, one runner, of plastic of this density at 20 °C.

    ``shrink_pct`` is how much less room they take cold than the cavity they filled: an expansion of 6e-4 /K from
    room temperature to the 130 °C or so that a bait has on average when its gate closes.
    """

    bait_g: Grams
    runner_g: Grams
    density_kg_m3: Density
    shrink_pct: Percent = 6.5
    shell_g: Grams | None = None
    tail_g: Grams | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Volumes:
    """What the mould holds: per cavity the whole bait (its tail included), its tail and the rod in it; per mould
    the gate and runner. All in ml."""

    bait_ml: Millilitres
    tail_ml: Millilitres
    rod_ml: Millilitres
    runner_ml: Millilitres


@dataclass(frozen=True, kw_only=True, slots=True)
class Mould:
    """An aluminium mould. ``mass_g`` and ``heat_capacity_j_kgk`` are its metal, ``area_m2`` its outside.

    ``warm_c`` is the window in which it is ready to shoot. Exactly one of ``drawn`` and ``weighed`` is given.
    """

    name: str
    title: str
    cavities: int
    mass_g: Annotated[Grams, Usual(example="1.5 kg")]
    heat_capacity_j_kgk: HeatCapacity
    area_m2: SquareMetres
    loss_w_m2k: Conductance
    wall_conductance_w_m2k: Conductance
    warm_c: tuple[Celsius, Celsius]
    section: Section
    rods: Rods | None = None
    drawn: Drawn | None = None
    weighed: Weighed | None = None
    sources: Mapping[str, str] = field(default_factory=dict)

    @property
    def volumes(self) -> Volumes:
        """The volumes, from whichever description the maker gave. Needs a mould without faults."""
        if self.weighed is not None:
            return self._weighed_volumes(self.weighed)
        assert self.drawn is not None, "a mould without volumes has faults and never gets here"
        return self._drawn_volumes(self.drawn)

    def passage_mm(self, *, rods: bool, tail: bool) -> float:
        """The thinnest way of a shot: as the section says it, else the thinnest of the wall round its rods and the
        tail, as far as the shot has them; the gate where it has neither."""
        section = self.section
        if section.passage_mm is not None:
            return section.passage_mm
        ways_mm = [section.tail_mm] if tail and section.tail_mm is not None else []
        if rods and self.rods is not None:
            ways_mm.append((section.body_mm - self.rods.diameter_mm) / 2)
        return min(ways_mm, default=section.gate_mm)

    def _drawn_volumes(self, drawn: Drawn) -> Volumes:
        body_ml = math.pi / 4 * self.section.body_mm**2 * drawn.body_length_mm / MM3_PER_ML
        tail_mm3 = (self.section.tail_mm or 0.0) * (drawn.tail_length_mm or 0.0) * (drawn.tail_width_mm or 0.0)
        tail_ml = tail_mm3 / MM3_PER_ML
        return Volumes(
            bait_ml=body_ml * drawn.fullness_pct / 100 + tail_ml,
            tail_ml=tail_ml,
            rod_ml=self.rods.in_cavity_ml if self.rods else 0.0,
            runner_ml=drawn.runner_ml,
        )

    def _weighed_volumes(self, weighed: Weighed) -> Volumes:
        g_per_ml = weighed.density_kg_m3 / 1000 * (1 - weighed.shrink_pct / 100)
        rod_ml = self.rods.in_cavity_ml if self.rods else 0.0
        if self.rods and weighed.shell_g is not None:
            rod_ml = (weighed.bait_g - weighed.shell_g) / g_per_ml
        return Volumes(
            bait_ml=weighed.bait_g / g_per_ml,
            tail_ml=(weighed.tail_g or 0.0) / g_per_ml,
            rod_ml=rod_ml,
            runner_ml=weighed.runner_g / g_per_ml,
        )

    def faults(self) -> Iterator[Fault]:
        """What these values say about each other that cannot be."""
        if self.cavities < 1:
            yield Fault(key="cavities", found=str(self.cavities), wanted="one or more")
        low, high = self.warm_c
        if low >= high:
            yield Fault(
                key="warm", found=f"{low:g} to {high:g} degC", wanted="the low end first, below the high end"
            )
        if self.section.gate_mm > self.section.body_mm:
            yield Fault(
                key="section.gate",
                found=f"{figure(self.section.gate_mm)} mm",
                wanted=f"at most the body, {figure(self.section.body_mm)} mm",
            )
        if self.section.passage_mm is not None and self.section.passage_mm > self.section.body_mm:
            yield Fault(
                key="section.passage",
                found=f"{figure(self.section.passage_mm)} mm",
                wanted=f"at most the body, {figure(self.section.body_mm)} mm",
            )
        if (self.drawn is None) == (self.weighed is None):
            found = "both drawn and weighed" if self.drawn else "neither drawn nor weighed"
            yield Fault(key="", found=found, wanted="one of them: dimensions or weighed samples")
            return
        contradictions = [*self._rod_faults(), *self._tail_faults(), *self._volume_faults()]
        yield from contradictions or size_faults(self)

    def doubts(self) -> Iterator[Fault]:
        """What is unlikely, where nothing is wrong."""
        yield from mould_doubts(self)

    def _rod_faults(self) -> Iterator[Fault]:
        if self.rods is None:
            return
        if self.rods.count < 1:
            yield Fault(key="rods.count", found=str(self.rods.count), wanted="one or more")
        if self.rods.diameter_mm >= self.section.body_mm:
            yield Fault(
                key="rods.diameter",
                found=f"{figure(self.rods.diameter_mm)} mm",
                wanted=f"less than the body, {figure(self.section.body_mm)} mm",
            )

    def _tail_faults(self) -> Iterator[Fault]:
        if self.drawn is None:
            return
        given = {
            "section.tail": self.section.tail_mm,
            "drawn.tail_length": self.drawn.tail_length_mm,
            "drawn.tail_width": self.drawn.tail_width_mm,
        }
        missing = [key for key, value in given.items() if value is None]
        if missing and len(missing) < len(given):
            yield Fault(
                key=missing[0], found="nothing", wanted="a length: a tail needs thickness, length and width"
            )

    def _volume_faults(self) -> Iterator[Fault]:
        if self.weighed is not None and self.weighed.shrink_pct >= 50:
            yield Fault(key="weighed.shrink", found=f"{self.weighed.shrink_pct:g} %", wanted="less than 50 %")
            return
        volumes = self.volumes
        if volumes.rod_ml < 0:
            yield Fault(key="weighed.shell", found="more than the bait", wanted="less than weighed.bait")
        if self.weighed is not None and volumes.tail_ml > 0 and self.section.tail_mm is None:
            yield Fault(
                key="section.tail", found="nothing", wanted="the tail's thickness, as the tail was weighed"
            )
        if volumes.tail_ml + volumes.rod_ml >= volumes.bait_ml:
            yield Fault(
                key="weighed.bait" if self.weighed else "drawn.body_length",
                found=f"a bait of {volumes.bait_ml:.2f} ml",
                wanted=f"more than its rod and tail, {volumes.tail_ml + volumes.rod_ml:.2f} ml",
            )
