"""What a vessel takes."""

from __future__ import annotations

from bench.model.plastic import Plastic
from bench.model.station import Vessel
from bench.physics.feeding import density_kg_m3
from bench.units import Grams


def vessel_room_g(vessel: Vessel, plastic: Plastic) -> Grams:
    """What a vessel takes of a plastic, g: as full as it may be, and as thin as heat makes the plastic."""
    hot_kg_m3 = density_kg_m3(
        rho_20_kg_m3=plastic.density_kg_m3, beta_per_k=plastic.expansion_per_k, at_c=plastic.shot_c
    )
    return vessel.usable_ml * hot_kg_m3 / 1000
