"""The station: the room, its fan, the heater, the vessel, the injector and the maker's own pace."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from bench.errors import Fault
from bench.units import (
    Celsius,
    Conductance,
    CubicMetres,
    CubicMetresPerHour,
    Grams,
    HeatCapacity,
    Millilitres,
    Millimetres,
    Percent,
    Seconds,
    Usual,
    Watts,
)

POWER_KEY = "heater.absorbed"
"""The heater's power among the sources of a station."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Room:
    """``mixing`` is the factor by which real air clears slower than perfectly mixed air (1 to 10)."""

    volume_m3: CubicMetres
    temperature_c: Celsius
    mixing: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Fan:
    """``check_s`` is how often the maker is reminded of it, ``left_pct`` the share of the
    fume that is left when the purge ends."""

    flow_m3_h: CubicMetresPerHour
    check_s: Annotated[Seconds, Usual(example="10 min")]
    left_pct: Percent


@dataclass(frozen=True, kw_only=True, slots=True)
class Heater:
    """``absorbed_w`` is what plastic and vessel take up together, not what the rating plate says."""

    absorbed_w: Watts


@dataclass(frozen=True, kw_only=True, slots=True)
class Vessel:
    """A heating cup. ``fill_pct`` is how full it may be, ``residue_ml`` what clings to it."""

    volume_ml: Millilitres
    fill_pct: Percent
    diameter_mm: Millimetres
    mass_g: Annotated[Grams, Usual(example="350 g")]
    heat_capacity_j_kgk: HeatCapacity
    residue_ml: Millilitres

    @property
    def usable_ml(self) -> float:
        """The largest melt it takes."""
        return self.volume_ml * self.fill_pct / 100


@dataclass(frozen=True, kw_only=True, slots=True)
class Injector:
    """``usable_pct`` of ``volume_ml`` goes into the mould at one filling; ``residue_ml`` stays behind."""

    volume_ml: Millilitres
    usable_pct: Percent
    residue_ml: Millilitres

    @property
    def usable_ml(self) -> float:
        """What one filling shoots."""
        return self.volume_ml * self.usable_pct / 100


class WarmedBy(StrEnum):
    """What brings a mould from room temperature into its window before the first round."""

    PLATE = "plate"
    AIR = "air"
    SHOTS = "shots"


@dataclass(frozen=True, kw_only=True, slots=True)
class Warming:
    """How moulds are warmed: on a hot plate of ``plate_c`` (None: nobody knows), from which each takes up
    ``absorbed_w`` on its way into its window; in a blast of air at ``air_c`` with a film coefficient of
    ``film_w_m2k``; or by nothing but scrap shots."""

    absorbed_w: Watts | None = None
    by: WarmedBy = WarmedBy.PLATE
    air_c: Celsius = 90.0
    film_w_m2k: Conductance = 40.0
    plate_c: Celsius | None = None

    @property
    def source_c(self) -> Celsius | None:
        """The temperature of what warms them, which none passes however long it is left there; None where nobody
        knows it."""
        return {WarmedBy.PLATE: self.plate_c, WarmedBy.AIR: self.air_c}.get(self.by)


@dataclass(frozen=True, kw_only=True, slots=True)
class Pace:
    """How long this maker's hands take, for planning only: no step ends by it. ``stir_s`` is one stir and reading
    between two bursts of heat, ``weigh_s`` weighing base and colours of one melt, ``fill_s`` how long plastic
    flows in one push (None: the whole of ``shot_s``)."""

    ready_s: Seconds
    rod_in_s: Seconds
    shot_s: Seconds
    open_cavity_s: Seconds
    rod_out_s: Seconds
    look_s: Seconds
    trim_tail_s: Seconds
    shell_back_s: Seconds
    clean_s: Seconds
    lay_out_bait_s: Seconds
    stir_s: Seconds = 12.0
    weigh_s: Seconds = 60.0
    fill_s: Seconds | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Station:
    """The bench as it stands. ``spares_pct`` is how many baits are made beyond the count, ``warm_up_shots`` how
    many scrap shots a cold mould gets, ``shell_out_s`` how long a shell may lie out before its core."""

    name: str
    title: str
    room: Room
    fan: Fan
    heater: Heater
    vessel: Vessel
    injector: Injector
    warming: Warming
    pace: Pace
    spares_pct: Percent
    warm_up_shots: int
    shell_out_s: Annotated[Seconds, Usual(example="10 min")]
    sources: Mapping[str, str] = field(default_factory=dict)

    def faults(self) -> Iterator[Fault]:
        """What these values say about each other that cannot be."""
        if not 1 <= self.room.mixing <= 10:
            yield Fault(key="room.mixing", found=f"{self.room.mixing:g}", wanted="a factor from 1 to 10")
        if not 0 < self.fan.left_pct < 100:
            yield Fault(
                key="fan.left", found=f"{self.fan.left_pct:g} %", wanted="more than 0 % and less than 100 %"
            )
        if self.fan.check_s <= 0:
            yield Fault(key="fan.check", found=f"{self.fan.check_s:g} s", wanted="more than 0 s")
        if self.warming.by is WarmedBy.PLATE and self.warming.absorbed_w is None:
            yield Fault(key="warming.absorbed", found="nothing", wanted='a power where by = "plate"')
        plate_c = self.warming.plate_c
        if plate_c is not None and plate_c <= self.room.temperature_c:
            yield Fault(
                key="warming.plate",
                found=f"{plate_c:g} degC",
                wanted=f"more than the room, {self.room.temperature_c:g} degC",
            )
        if self.warm_up_shots < 0:
            yield Fault(key="warm_up_shots", found=str(self.warm_up_shots), wanted="0 or more")
        if self.vessel.usable_ml <= self.vessel.residue_ml:
            yield Fault(
                key="vessel.residue",
                found=f"{self.vessel.residue_ml:g} ml",
                wanted=f"less than the vessel takes, {self.vessel.usable_ml:g} ml",
            )
        if self.injector.usable_ml <= 0:
            yield Fault(key="injector.usable", found=f"{self.injector.usable_pct:g} %", wanted="more than 0 %")
