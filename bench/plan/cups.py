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
from bench.physics.melting import bursts_s
from bench.plan import pace
from bench.plan.records import Heating, Melt, PartPlan, Plan
from bench.units import Celsius, Seconds, Watts


@dataclass(frozen=True, kw_only=True, slots=True)
class WorkingCup:
    """One melt in its vessel. ``in_band_s`` is from the middle of the band to its low end, ``stir_s`` one stir and
    reading, ``cold_s`` the heating from cold without the last of them."""

    cup: Cup
    shot_c: Celsius
    room_c: Celsius
    power_w: Watts
    in_band_s: Seconds
    stir_s: Seconds
    cold_s: Seconds

    def reheat_s(self, stood_s: float, *, least_s: float) -> float:
        """What it takes to bring it back to the middle of its band once it has stood for so long, without the last
        stir; no less than ``least_s``."""
        fallen_c = temperature_after(self.cup, start_c=self.shot_c, seconds=stood_s, room_c=self.room_c)
        bursts = bursts_s(self.cup, start_c=fallen_c, to_c=self.shot_c, power_w=self.power_w)
        return max(least_s, sum(bursts) + self.stir_s * (len(bursts) - 1))


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
        cold_s=cold.total_s - cold.stir_s,
    )


def _from_cold(plan: Plan) -> Iterator[Heating]:
    shots = (shot for each in plan.rounds_table for shot in each.shots)
    heatings = (*plan.warm_up_heats, *(heating for shot in shots for heating in shot.heats))
    return (heating for heating in heatings if heating.from_cold)


def _warm_up_ml(plan: Plan, part: PartPlan) -> float:
    """What the warm-up shots of one mould take of that part: as much of each side as its rounds do."""
    sharing = [plan.part(each) for each in plan.rounds_table[0].shots[0].parts]
    if part not in sharing:
        return 0.0
    share = part.per_round_ml / sum(each.per_round_ml for each in sharing)
    whole_ml = plan.cavities * plan.volumes.bait_ml + plan.volumes.runner_ml
    return share * plan.warm_up_shots * whole_ml
