"""Melts: shared out to fit the vessel, weighed, and timed on the heater."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.errors import BenchError
from bench.model.recipe import Build, Part, Tail
from bench.model.station import Vessel
from bench.physics.cup import Cup, temperature_after
from bench.plan.amounts import PartAmount
from bench.plan.melts import in_band_s, make_melts, split_rounds, with_reheats
from bench.plan.records import Ask, Melt
from bench.plan.scope import Scope, settle
from tests.plan.bench_records import COLOURANTS, MOULD, PLASTIC, STATION, plan_of, recipe

HOT_G_PER_ML = 1.030 / (1 + 6e-4 * 150)


def amount(per_round_ml: float = 40.0, warm_up_ml: float = 0.0, margin: float = 0.0) -> PartAmount:
    return PartAmount(
        part=Part.BODY,
        per_round_ml=per_round_ml,
        warm_up_ml=warm_up_ml,
        residue_ml=10.0,
        margin=margin,
        trimmed_ml=0.0,
    )


def scope_of(*, count: int = 8) -> Scope:
    return settle(
        recipe=recipe(Build.PLAIN),
        mould=MOULD,
        plastic=PLASTIC,
        station=STATION,
        ask=Ask(count=count, spares_pct=0.0),
    )


@pytest.mark.parametrize(
    ("rounds", "warm_up_ml", "counts"),
    [
        (1, 0.0, (1,)),
        (6, 0.0, (6,)),  # 6 x 40 + 10 is exactly the vessel's 250 ml
        (7, 0.0, (4, 3)),  # not 6 and 1
        (13, 0.0, (4, 5, 4)),
        (7, 80.0, (2, 5)),  # the warm-up shots count as two rounds
        (5, 80.0, (2, 3)),
        (4, 80.0, (4,)),
    ],
)
def test_few_melts_about_equally_full(rounds: int, warm_up_ml: float, counts: tuple[int, ...]) -> None:
    split = split_rounds(amount(warm_up_ml=warm_up_ml), rounds=rounds, usable_ml=250.0)
    assert sum(split) == rounds
    assert sorted(split[1:]) == sorted(counts[1:])
    assert split[0] == counts[0]


@given(
    rounds=st.integers(1, 400),
    per_round_ml=st.floats(1.0, 90.0),
    warm_up_ml=st.floats(0.0, 90.0),
    margin=st.floats(0.0, 0.3),
)
def test_every_melt_fits_and_fewer_would_not(
    rounds: int, per_round_ml: float, warm_up_ml: float, margin: float
) -> None:
    usable_ml = 250.0
    part = amount(per_round_ml, warm_up_ml, margin)
    counts = split_rounds(part, rounds=rounds, usable_ml=usable_ml)
    assert sum(counts) == rounds
    assert min(counts) >= 1
    volumes = [part.melt_ml(count, first=place == 0) for place, count in enumerate(counts)]
    assert max(volumes) <= usable_ml * (1 + 1e-6)
    needed_ml = (rounds * per_round_ml + warm_up_ml) * (1 + margin)
    fewest = math.ceil(needed_ml / (usable_ml - part.residue_ml) - 1e-6)
    if len(counts) > fewest:
        # Rounds are never split between cups: one cup fewer could not take so many whole rounds.
        room_ml = (usable_ml - part.residue_ml) / (1 + margin)
        whole = math.floor((room_ml - warm_up_ml) / per_round_ml + 1e-9) + (len(counts) - 2) * math.floor(
            room_ml / per_round_ml + 1e-9
        )
        assert whole < rounds


@given(
    count=st.integers(1, 300),
    spares_pct=st.floats(0.0, 100.0),
    warm_up_shots=st.integers(0, 3),
    vessel_ml=st.floats(320.0, 3000.0),
    build=st.sampled_from(list(Build)),
)
@settings(max_examples=40, deadline=None)
def test_the_melts_of_any_plan_fit_its_vessel_and_serve_every_round_once(
    count: int, spares_pct: float, warm_up_shots: int, vessel_ml: float, build: Build
) -> None:
    vessel = replace(STATION.vessel, volume_ml=vessel_ml)
    plan = plan_of(
        build,
        count=count,
        spares_pct=spares_pct,
        warm_up_shots=warm_up_shots,
        station=replace(STATION, vessel=vessel),
        tail=Tail.CUT if build.has_core else Tail.KEPT,
    )
    for part in plan.parts:
        assert max(melt.volume_ml for melt in part.melts) <= vessel.usable_ml * (1 + 1e-6)
        served = [n for melt in part.melts for n in range(melt.first_round, melt.last_round + 1)]
        assert served == list(range(1, plan.rounds + 1))
        assert [melt.number for melt in part.melts] == list(range(1, len(part.melts) + 1))


def test_a_round_that_does_not_fit_says_what_it_needs() -> None:
    with pytest.raises(BenchError, match=r"one round of body needs a melt of 250 ml.* takes 249 ml"):
        split_rounds(amount(240.0), rounds=3, usable_ml=249.0)


def test_warm_up_shots_that_crowd_out_the_first_round_are_named() -> None:
    with pytest.raises(BenchError, match=r"warm-up shots and one round of body need a melt of 270 ml"):
        split_rounds(amount(60.0, warm_up_ml=200.0), rounds=3, usable_ml=250.0)


def test_a_melt_is_weighed_hot_and_adds_up() -> None:
    (melt,) = make_melts(scope_of(), amount(), colourants=COLOURANTS)
    assert melt.volume_ml == pytest.approx(90.0)
    assert melt.mass_g == pytest.approx(90.0 * HOT_G_PER_ML)
    assert melt.base_g + sum(dose.mass_g for dose in melt.doses) == pytest.approx(melt.mass_g)
    assert [dose.mass_g for dose in melt.doses] == pytest.approx([0.01 * melt.mass_g, 0.002 * melt.mass_g])


def test_heating_counts_plastic_and_vessel() -> None:
    (melt,) = make_melts(scope_of(), amount(), colourants=COLOURANTS)
    joules = (melt.mass_g * 1.8 + 180.0 * 0.83) * (170.0 - 20.0)
    assert melt.heat_s == pytest.approx(joules / 400.0)


def test_a_cup_of_250_g_heats_in_165_s() -> None:
    # Common practice, no source: about 66 kJ, 165 s at 400 W absorbed, in a cup that counts for nothing.
    weightless = replace(STATION.vessel, volume_ml=1000.0, mass_g=1e-6)
    scope = replace(scope_of(), station=replace(STATION, vessel=weightless))
    (melt,) = make_melts(scope, amount(per_round_ml=(250.0 / HOT_G_PER_ML - 10.0) / 2), colourants=COLOURANTS)
    assert melt.mass_g == pytest.approx(250.0)
    assert melt.heat_s == pytest.approx(165.0, rel=0.05)


def reheated(cycle_s: float) -> Melt:
    scope = scope_of()
    melts = make_melts(scope, amount(), colourants=COLOURANTS)
    return with_reheats(scope, amount(), melts, cycle_s=cycle_s)[0]


def test_a_reheat_gives_back_what_the_cup_has_lost() -> None:
    # Two rounds of 40 ml and 10 ml that cling: on average 70 ml stand in the cup.
    mean_g = 70.0 * HOT_G_PER_ML
    cup = Cup(
        mass_g=mean_g,
        c_j_kgk=1800.0,
        diameter_mm=80.0,
        height_mm=70_000 / (math.pi / 4 * 80**2),
        vessel_mass_g=180.0,
        vessel_c_j_kgk=830.0,
    )
    fallen_c = temperature_after(cup, start_c=170.0, seconds=300.0, room_c=20.0)
    joules = (mean_g * 1.8 + 180.0 * 0.83) * (170.0 - fallen_c)
    assert reheated(300.0).reheat_s == pytest.approx(joules / 400.0)


def test_a_longer_wait_takes_a_longer_reheat_never_longer_than_from_cold() -> None:
    waits = [reheated(seconds).reheat_s for seconds in (0.0, 60.0, 300.0, 1200.0, 1e6)]
    assert waits == sorted(waits)
    assert waits[0] == 0.0
    assert waits[-1] <= reheated(0.0).heat_s


def test_a_fuller_cup_stays_longer_in_its_band() -> None:
    scope = scope_of(count=20)
    full, low = amount(45.0), amount(15.0)
    lasting = [in_band_s(scope, part, make_melts(scope, part, colourants=COLOURANTS)[0]) for part in (full, low)]
    assert lasting[0] > lasting[1] > 0


def test_the_vessel_is_filled_to_its_share_only() -> None:
    vessel = Vessel(
        volume_ml=500.0, fill_pct=50.0, diameter_mm=80.0, mass_g=180.0, heat_capacity_j_kgk=830.0, residue_ml=6.0
    )
    plan = plan_of(Build.PLAIN, count=60, station=replace(STATION, vessel=vessel))
    assert len(plan.part(Part.BODY).melts) > 1
    assert all(melt.volume_ml <= 250.0 for melt in plan.part(Part.BODY).melts)
