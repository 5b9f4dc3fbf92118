"""Warnings appear when their physics says so, and only then."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Build, Dose, Part, PartRecipe
from bench.model.station import Heater, Injector, Station, Vessel
from bench.plan.make import make_plan
from bench.plan.records import Ask
from bench.plan.scope import settle
from bench.plan.warnings import with_rounds
from tests.plan.bench_records import COLOURANTS, MOULD, PLASTIC, STATION, plan_of, recipe

ROOMY: Vessel = replace(STATION.vessel, volume_ml=4000.0)
CALM: Station = replace(STATION, vessel=ROOMY, pace=replace(STATION.pace, rod_in_s=1.0, shot_s=5.0))
WINDOW: Mould = replace(MOULD, warm_c=(30.0, 58.0), mass_g=6000.0, area_m2=0.08)


def said(
    words: str,
    *,
    build: Build = Build.CORE,
    station: Station = CALM,
    mould: Mould = WINDOW,
    plastic: Plastic = PLASTIC,
    count: int = 8,
) -> bool:
    plan = plan_of(build, station=station, mould=mould, plastic=plastic, count=count, warm_up_shots=0)
    return any(words in warning for warning in plan.warnings)


@pytest.mark.parametrize("build", [Build.PLAIN, Build.CORE])
def test_a_calm_job_is_not_warned_of(build: Build) -> None:
    assert plan_of(build, station=CALM, mould=WINDOW, count=8, warm_up_shots=0).warnings == ()


def test_an_injector_too_small_for_one_barrel() -> None:
    # A round takes about 33 ml: 20 ml of side A and 13 ml of side B, each from a barrel of its own.
    small = replace(CALM, injector=Injector(volume_ml=20.0, usable_pct=85.0, residue_ml=1.0))
    assert said("One shot of side A takes 20 ml", build=Build.LAMINATE, station=small)
    assert not said("One shot of side B", build=Build.LAMINATE, station=small)


def test_shells_that_lie_out_too_long() -> None:
    assert said("the shells lie out", station=replace(CALM, shell_out_s=60.0))
    assert not said("the shells lie out", build=Build.PLAIN, station=replace(CALM, shell_out_s=60.0))


def test_a_core_that_meets_its_shell_too_cold() -> None:
    # (170 + about 45) / 2 is about 107 degC.
    assert said("Core meets shell at about 10", plastic=replace(PLASTIC, bond_c=115.0))
    assert not said("Core meets shell", plastic=replace(PLASTIC, bond_c=95.0))


def test_a_mould_that_must_rest() -> None:
    assert said("The mould rests before", mould=MOULD, build=Build.PLAIN, count=40)
    assert not said("The mould rests before", build=Build.PLAIN)


def test_a_mould_that_falls_below_its_window() -> None:
    # Weak heating: the mould stands for half an hour before the first shot.
    weak = replace(CALM, heater=Heater(absorbed_w=40.0))
    assert said("below its window, in", station=weak, mould=MOULD)


def test_a_window_wider_than_the_plastic_allows() -> None:
    assert said("where the plastic hardly sets", mould=replace(WINDOW, warm_c=(30.0, 70.0)))


def test_more_warm_up_shots_than_the_mould_needs() -> None:
    warned = plan_of(Build.PLAIN, station=CALM, warm_up_shots=4, count=4)
    assert any("The last warm-up shot meets a mould at 5" in warning for warning in warned.warnings)
    fine = plan_of(Build.PLAIN, station=CALM, warm_up_shots=1, count=4)
    assert not any("warm-up" in warning for warning in fine.warnings)


def test_a_cup_that_falls_out_of_its_band_before_it_is_shot() -> None:
    slow = replace(CALM, pace=replace(CALM.pace, shot_s=200.0))
    assert said("The shell cup falls", station=slow)
    assert not said("The shell cup falls")


def test_more_than_one_cup() -> None:
    assert said("One cup does not hold all of shell: it takes 3 melts", station=STATION, count=64)


def test_a_part_without_colour() -> None:
    bare = replace(
        recipe(Build.CORE),
        parts={Part.SHELL: PartRecipe(), Part.CORE: PartRecipe(doses=(Dose(colourant="red", load_pct=1.0),))},
    )
    plan = make_plan(
        recipe=bare, mould=WINDOW, plastic=PLASTIC, station=CALM, colourants=COLOURANTS, ask=Ask(count=8)
    )
    colours = [warning for warning in plan.warnings if "colour" in warning]
    assert colours == ["No colour goes into shell: it is shot in bare plastic."]


@pytest.mark.parametrize("moulds", [1, 2])
def test_too_hot_a_mould_is_told_by_the_shot_that_it_is_too_hot_for(moulds: int) -> None:
    """The window ends at 50 degC, and what reads as 50 is in it."""
    scope = settle(
        recipe=recipe(Build.CORE), mould=MOULD, plastic=PLASTIC, station=STATION, ask=Ask(count=4, moulds=moulds)
    )
    (planned,) = plan_of(Build.CORE, count=4).rounds_table
    mould = "mould" if moulds == 1 else "a mould"

    def told(*mould_c: float) -> list[str]:
        shots = tuple(replace(shot, mould_c=at_c) for shot, at_c in zip(planned.shots, mould_c, strict=True))
        rounds = [replace(planned, shots=shots)]
        return list(with_rounds((), scope=scope, rounds=rounds, moulds=moulds))

    assert told(50.4, 50.4) == []
    (first,) = told(52.0, 45.0)
    assert f"{mould} is at 52 °C at its first shot, above its window, in round 1" in first.lower().replace(
        "°c", "°C"
    )
    (core,) = told(45.0, 52.0)
    assert "heat brings" in core
    assert "52 °C before the core shot, above its window, in round 1" in core
