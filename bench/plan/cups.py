"""The cups while they are worked from: how long one stays in band, and what brings it back.

As in ``bench.plan.melts``, a cup is filled as it is on average over the rounds that it serves, and stirred to the
middle of its band at the end of every heating.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from bench.model.plastic import Plastic
from bench.model.recipe import Part
from bench.model.station import Station
from bench.physics.cup import Cup, seconds_until, temperature_after
from bench.physics.melting import LONGEST_MIDDLE_BURST_S, bursts_s
from bench.plan import pace
from bench.plan.records import Heating, Melt, PartPlan, Plan
from bench.plan.work import LEAST_ALONE_S, LEAST_HEAT_S, STILL_ALONE_S
from bench.units import Celsius, Seconds, Watts


@dataclass(frozen=True, kw_only=True, slots=True)
class HeatLengths:
    """A heating: ``alone_s`` of a first burst that needs no hands, 0 where it is too short for that, and
    ``finish_s`` of all that follows, stirs and readings included."""

    alone_s: Seconds
    finish_s: Seconds

    @property
    def total_s(self) -> float:
        """Both, without a wait between them."""
        return self.alone_s + self.finish_s


@dataclass(frozen=True, kw_only=True, slots=True)
class WorkingCup:
    """One melt in its vessel. ``in_band_s`` is from the middle of the band to its low end, ``stir_s`` one stir and
    reading, ``cold_s`` the bursts of its heating from cold."""

    cup: Cup
    shot_c: Celsius
    room_c: Celsius
    power_w: Watts
    in_band_s: Seconds
    stir_s: Seconds
    cold_s: tuple[Seconds, ...]

    def from_cold(self, *, waits_s: float = 0.0) -> HeatLengths:
        """The heating from room temperature, when it waits for so long after its first burst."""
        return self._lengths(self.cold_s, waits_s)

    def again(self, stood_s: float, *, waits_s: float = 0.0, before: HeatLengths | None = None) -> HeatLengths:
        """What brings it back to the middle of its band once it has stood for so long off the heat. If it left the
        hands free ``before`` it still does with a shorter first burst."""
        fallen_c = temperature_after(self.cup, start_c=self.shot_c, seconds=stood_s, room_c=self.room_c)
        least_s = STILL_ALONE_S if before is not None and before.alone_s else LEAST_ALONE_S
        return self._lengths(self._bursts_s(fallen_c), waits_s, least_s)

    def reheated(self, heat_s: float) -> HeatLengths:
        """A heating in which the heater is on for so long."""
        return self._lengths(self._bursts_s(self.shot_c - heat_s * self.power_w / self.cup.capacity_j_k), 0.0)

    def _bursts_s(self, start_c: float) -> tuple[float, ...]:
        bursts = tuple(bursts_s(self.cup, start_c=start_c, to_c=self.shot_c, power_w=self.power_w))
        return bursts if sum(bursts) >= LEAST_HEAT_S else (LEAST_HEAT_S,)

    def _lengths(
        self, bursts: tuple[float, ...], waits_s: float, least_alone_s: float = LEAST_ALONE_S
    ) -> HeatLengths:
        first, *later = bursts
        if first < least_alone_s:
            return HeatLengths(alone_s=0.0, finish_s=sum(bursts) + len(bursts) * self.stir_s)
        lost_s = self._lost_s(sum(later), waits_s)
        stirs = 1 + len(later) + math.ceil(lost_s / LONGEST_MIDDLE_BURST_S - _HARDLY)
        return HeatLengths(alone_s=first, finish_s=sum(later) + lost_s + stirs * self.stir_s)

    def _lost_s(self, later_s: float, waits_s: float) -> float:
        """What heats again what the cup loses while it waits for its later bursts."""
        s_per_k = self.cup.capacity_j_k / self.power_w
        hot_c = self.shot_c - later_s / s_per_k
        if waits_s <= 0 or hot_c <= self.room_c:
            return 0.0
        waited_c = temperature_after(self.cup, start_c=hot_c, seconds=waits_s, room_c=self.room_c)
        return (hot_c - waited_c) * s_per_k


_HARDLY = 0.2
"""Losses of so small a share of a burst go into the bursts there are."""


def working_cups(plan: Plan, *, plastic: Plastic, station: Station) -> Mapping[tuple[Part, int], WorkingCup]:
    """The cup of every melt of the plan, by part and number."""
    cold = {(heating.part, heating.melt): heating for heating in _from_cold(plan)}
    return {
        (melt.part, melt.number): _working(
            plan, part, melt, cold[melt.part, melt.number], plastic=plastic, station=station
        )
        for part in plan.parts
        for melt in part.melts
    }


def _working(
    plan: Plan, part: PartPlan, melt: Melt, cold: Heating, *, plastic: Plastic, station: Station
) -> WorkingCup:
    vessel, room_c = station.vessel, station.room.temperature_c
    gone_ml = part.per_round_ml * (melt.last_round - melt.first_round) / 2
    if melt.number == 1:
        gone_ml += _warm_up_ml(plan, part)
    left_ml = melt.volume_ml - gone_ml
    cup = Cup(
        mass_g=left_ml * melt.mass_g / melt.volume_ml,
        c_j_kgk=plastic.heat_capacity_j_kgk,
        diameter_mm=vessel.diameter_mm,
        height_mm=left_ml * 1000 / (math.pi / 4 * vessel.diameter_mm**2),
        vessel_mass_g=vessel.mass_g,
        vessel_c_j_kgk=vessel.heat_capacity_j_kgk,
    )
    return WorkingCup(
        cup=cup,
        shot_c=plastic.shot_c,
        room_c=room_c,
        power_w=station.heater.absorbed_w,
        in_band_s=seconds_until(cup, start_c=plastic.shot_c, until_c=plastic.band_c[0], room_c=room_c),
        stir_s=pace.stir_s(station.pace),
        cold_s=cold.bursts_s,
    )


def _from_cold(plan: Plan) -> Iterator[Heating]:
    shots = (shot for each in plan.rounds_table for shot in each.shots)
    heatings = (*plan.warm_up_heats, *(heating for shot in shots for heating in shot.heats))
    return (heating for heating in heatings if heating.from_cold)


def _warm_up_ml(plan: Plan, part: PartPlan) -> float:
    """What the warm-up shots of all moulds take of that part: as much of each side as its rounds do."""
    sharing = [plan.part(each) for each in plan.rounds_table[0].shots[0].parts]
    if part not in sharing:
        return 0.0
    share = part.per_round_ml / sum(each.per_round_ml for each in sharing)
    whole_ml = plan.cavities * plan.volumes.bait_ml + plan.volumes.runner_ml
    return share * plan.moulds * plan.warm_up_shots * whole_ml
