"""The cups and moulds of a session as the physics wants them, with what has been learnt about their losses."""

from __future__ import annotations

import math
from functools import lru_cache

from bench.model.recipe import Part
from bench.physics.cup import Cup
from bench.physics.feeding import density_kg_m3
from bench.physics.mould import Block
from bench.physics.substance import Substance
from bench.session.choices import held_ml
from bench.session.heater import Power, fed_w
from bench.session.job import Job
from bench.session.session import Session

EMPTY_ML = 2.0
"""Below this a cup counts as empty: its own temperature no longer matters to any shot."""

_KEPT = 16
"""A moment asks for the few melts of a session again and again."""


def shot_g_per_ml(job: Job) -> float:
    """Density of the plastic at the temperature of a shot."""
    plastic = job.plastic
    hot_kg_m3 = density_kg_m3(
        rho_20_kg_m3=plastic.density_kg_m3, beta_per_k=plastic.expansion_per_k, at_c=plastic.shot_c
    )
    return hot_kg_m3 / 1000


def substance(job: Job) -> Substance:
    """The plastic as heat sees it."""
    plastic = job.plastic
    return Substance(
        k_w_mk=plastic.conductivity_w_mk, rho_kg_m3=plastic.density_kg_m3, c_j_kgk=plastic.heat_capacity_j_kgk
    )


@lru_cache(maxsize=_KEPT)
def held_of_melt_ml(session: Session, part: Part, number: int) -> float:
    """What is left for shooting of the part's melt of that number; 0 where there is none."""
    melt = next((melt for melt in session.job.plan.part(part).melts if melt.number == number), None)
    return held_ml(session, part, melt) if melt else 0.0


def cup_of(session: Session, part: Part, melt: int) -> Cup:
    """The part's cup with what is left of that melt."""
    return _cup(session.job, max(EMPTY_ML, held_of_melt_ml(session, part, melt)))


def first_cup(job: Job) -> Cup:
    """The fullest cup of the first part: what a maker would calibrate the heater with."""
    return _cup(job, job.plan.parts[0].melts[0].volume_ml)


def mould_block(session: Session) -> Block:
    """A mould of the session."""
    mould = session.job.mould
    return Block(
        mass_g=mould.mass_g,
        c_j_kgk=mould.heat_capacity_j_kgk,
        area_m2=mould.area_m2,
        loss_w_m2k=mould.loss_w_m2k * session.corrections.mould_loss_factor,
    )


def profile_fed_w(job: Job) -> float:
    """What the heater feeds when its first cup keeps the profile's absorbed power on the way to its band."""
    room_c = job.station.room.temperature_c
    return fed_w(
        first_cup(job),
        kept_w=job.station.heater.absorbed_w,
        start_c=room_c,
        to_c=job.plastic.shot_c,
        room_c=room_c,
    )


def heater_power(session: Session) -> Power:
    """The heater as far as it is known now."""
    corrections = session.corrections
    return Power(
        fed_w=profile_fed_w(session.job) if corrections.fed_w is None else corrections.fed_w,
        room_c=session.job.station.room.temperature_c,
        loss_factor=corrections.cup_loss_factor,
    )


def profile_power(job: Job) -> Power:
    """The heater and the losses as the profiles have them, whatever the session has shown."""
    return Power(fed_w=profile_fed_w(job), room_c=job.station.room.temperature_c)


def _cup(job: Job, volume_ml: float) -> Cup:
    vessel = job.station.vessel
    footprint_cm2 = math.pi / 4 * (vessel.diameter_mm / 10) ** 2
    return Cup(
        mass_g=volume_ml * shot_g_per_ml(job),
        c_j_kgk=job.plastic.heat_capacity_j_kgk,
        diameter_mm=vessel.diameter_mm,
        height_mm=volume_ml / footprint_cm2 * 10,
        vessel_mass_g=vessel.mass_g,
        vessel_c_j_kgk=vessel.heat_capacity_j_kgk,
    )
