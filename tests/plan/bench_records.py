"""A bench for the plan's tests, built by hand: round numbers, so that volumes can be checked on paper."""

from __future__ import annotations

from collections.abc import Mapping

from bench.model.colourant import Colourant, ColourantKind
from bench.model.mould import Drawn, Mould, Rods, Section
from bench.model.plastic import Plastic
from bench.model.recipe import PARTS, Build, Dose, Part, PartRecipe, Recipe, Tail
from bench.model.settings import UnitSystem
from bench.model.station import Fan, Heater, Injector, Pace, Room, Station, Vessel, Warming
from bench.plan.jobs import PlannedJob, plan_job
from bench.plan.make import make_plan
from bench.plan.records import Ask, Plan

PLASTIC = Plastic(
    name="soft",
    title="Soft",
    density_kg_m3=1030.0,
    conductivity_w_mk=0.16,
    heat_capacity_j_kgk=1800.0,
    expansion_per_k=6e-4,
    band_c=(165.0, 175.0),
    scorch_c=190.0,
    gel_c=75.0,
    open_c=60.0,
    bond_c=90.0,
    cure_s=172800.0,
)

RODS = Rods(
    count=4,
    diameter_mm=4.0,
    in_cavity_mm=60.0,
    conductivity_w_mk=16.2,
    density_kg_m3=8000.0,
    heat_capacity_j_kgk=500.0,
)

MOULD = Mould(
    name="leech",
    title="Leech",
    cavities=4,
    mass_g=1500.0,
    heat_capacity_j_kgk=896.0,
    area_m2=0.05,
    loss_w_m2k=8.0,
    wall_conductance_w_m2k=1000.0,
    warm_c=(40.0, 50.0),
    section=Section(body_mm=10.0, gate_mm=4.0, tail_mm=2.0),
    rods=RODS,
    drawn=Drawn(body_length_mm=80.0, runner_ml=5.0, tail_length_mm=30.0, tail_width_mm=10.0),
)

ROOM_C = 20.0

STATION = Station(
    name="bench",
    title="Bench",
    room=Room(volume_m3=40.0, temperature_c=ROOM_C, mixing=3.0),
    fan=Fan(flow_m3_h=400.0, check_s=600.0, left_pct=1.0),
    heater=Heater(absorbed_w=400.0),
    vessel=Vessel(
        volume_ml=500.0, fill_pct=50.0, diameter_mm=80.0, mass_g=180.0, heat_capacity_j_kgk=830.0, residue_ml=6.0
    ),
    injector=Injector(volume_ml=180.0, usable_pct=87.0, residue_ml=8.0),
    warming=Warming(absorbed_w=220.0),
    pace=Pace(
        ready_s=600.0,
        rod_in_s=12.0,
        shot_s=12.0,
        open_cavity_s=5.0,
        rod_out_s=8.0,
        look_s=20.0,
        trim_tail_s=5.0,
        shell_back_s=10.0,
        clean_s=600.0,
        lay_out_bait_s=6.0,
        stir_s=12.0,
    ),
    spares_pct=5.0,
    warm_up_shots=1,
    shell_out_s=600.0,
)

COLOURANTS: Mapping[str, Colourant] = {
    "red": Colourant(name="red", title="Red", kind=ColourantKind.PIGMENT, drop_g=0.03),
    "pearl": Colourant(name="pearl", title="Pearl", kind=ColourantKind.PEARL),
}

_SHARES = {Part.SIDE_A: 60.0, Part.SIDE_B: 40.0, Part.SHELL_A: 70.0, Part.SHELL_B: 30.0}


def recipe(build: Build, tail: Tail = Tail.KEPT, *, margin_pct: float = 5.0) -> Recipe:
    """A recipe of that build: 1 % red and 0.2 % pearl in every part, laminates shared unevenly."""
    doses = (Dose(colourant="red", load_pct=1.0), Dose(colourant="pearl", load_pct=0.2))
    return Recipe(
        name="ember",
        title="Ember",
        build=build,
        plastic="soft",
        tail=tail,
        parts={
            part: PartRecipe(doses=doses, share_pct=_SHARES.get(part, 100.0), margin_pct=margin_pct)
            for part in PARTS[build]
        },
    )


def plan_of(
    build: Build,
    *,
    count: int = 20,
    tail: Tail = Tail.KEPT,
    mould: Mould = MOULD,
    plastic: Plastic = PLASTIC,
    station: Station = STATION,
    spares_pct: float | None = None,
    warm_up_shots: int | None = None,
    margin_pct: float = 5.0,
    moulds: int = 1,
    units: UnitSystem = UnitSystem.METRIC,
) -> Plan:
    """The plan for a bait of that build on this bench."""
    return make_plan(
        recipe=recipe(build, tail, margin_pct=margin_pct),
        mould=mould,
        plastic=plastic,
        station=station,
        colourants=COLOURANTS,
        ask=Ask(count=count, spares_pct=spares_pct, warm_up_shots=warm_up_shots, moulds=moulds, units=units),
    )


def job_of(
    build: Build,
    *,
    count: int = 20,
    tail: Tail = Tail.KEPT,
    mould: Mould = MOULD,
    plastic: Plastic = PLASTIC,
    station: Station = STATION,
    moulds: int = 1,
) -> PlannedJob:
    """The job for a bait of that build on this bench, with up to so many moulds."""
    return plan_job(
        recipe=recipe(build, tail),
        mould=mould,
        plastic=plastic,
        station=station,
        colourants=COLOURANTS,
        ask=Ask(count=count, moulds=moulds),
    )
