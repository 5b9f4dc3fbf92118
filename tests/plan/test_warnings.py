"""Warnings appear when their physics says so, and only then."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from bench.errors import BenchError
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Build, Dose, Part, PartRecipe
from bench.model.settings import UnitSystem
from bench.model.station import Heater, Injector, Station, Vessel, WarmedBy
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
    scope = replace(scope, units=UnitSystem.US)
    assert "is at 126 °F at its first shot" in told(52.0, 45.0)[0]
    scope = replace(scope, units=UnitSystem.METRIC)
    assert f"{mould} is at 52 °C at its first shot, above its window, in round 1" in first.lower().replace(
        "°c", "°C"
    )
    (core,) = told(45.0, 52.0)
    assert "heat brings" in core
    assert "52 °C before the core shot, above its window, in round 1" in core


SHOT_WARMED: Station = replace(STATION, warming=replace(STATION.warming, by=WarmedBy.SHOTS))
WITH_FIGURES: dict[str, tuple[Build, dict[str, Any]]] = {
    "an injector": (Build.PLAIN, {"station": replace(CALM, injector=replace(CALM.injector, volume_ml=20.0))}),
    "a bond": (Build.CORE, {"plastic": replace(PLASTIC, bond_c=160.0)}),
    "a window": (Build.CORE, {"mould": replace(WINDOW, warm_c=(30.0, 70.0))}),
    "warm-up shots": (Build.PLAIN, {"station": CALM, "warm_up_shots": 4, "count": 4}),
    "nothing but shots": (Build.PLAIN, {"station": SHOT_WARMED, "warm_up_shots": 1, "count": 4}),
    "a cold mould": (Build.CORE, {"station": replace(CALM, heater=Heater(absorbed_w=40.0))}),
}
_FIGURE = re.compile(r"(-?[\d.]+) (°[CF]|ml|fl oz)")


@pytest.mark.parametrize("what", WITH_FIGURES)
def test_sentences_are_in_the_units_of_the_maker(what: str) -> None:
    """An US fluid ounce is 29.5735295625 ml (NIST Handbook 44, appendix C), 0 and 100 degC are 32 and 212 degF."""
    build, asked = WITH_FIGURES[what]
    metric = " ".join(plan_of(build, **asked).warnings)
    us = " ".join(plan_of(build, **asked, units=UnitSystem.US).warnings)
    assert _FIGURE.sub("", us) == _FIGURE.sub("", metric)
    figures = list(zip(_FIGURE.findall(metric), _FIGURE.findall(us), strict=True))
    assert figures
    for (shown, unit), (shown_us, unit_us) in figures:
        is_hot, value, value_us = unit == "°C", float(shown), float(shown_us)
        assert unit_us == ("°F" if is_hot else "fl oz")
        wanted = pytest.approx(32 + 1.8 * value, abs=1.5) if is_hot else pytest.approx(value / 29.57353, abs=0.03)
        assert value_us == wanted


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"mould": replace(MOULD, warm_c=(70.0, 80.0))}, "begins at 158 °F, .* leaves the mould at 140 °F"),
        ({"mould": replace(MOULD, warm_c=(15.0, 50.0))}, "the room at 68 °F is not below .*, 59 °F to 122 °F"),
        (
            {"station": replace(STATION, vessel=replace(STATION.vessel, volume_ml=30.0))},
            r"\d fl oz, .*\d fl oz: use",
        ),
    ],
)
def test_so_are_refusals(asked: dict[str, Any], says: str) -> None:
    with pytest.raises(BenchError, match=says):
        plan_of(Build.CORE, **asked, units=UnitSystem.US)
