"""The profiles that come with the program: whole, sourced, readable, and enough to show every build."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from typing import Any, get_args

import pytest

from bench.model.caution import Caution
from bench.model.colourant import ColourantKind
from bench.model.library import Library
from bench.model.recipe import Build, Tail
from bench.model.settings import Settings
from bench.model.step_kind import StepKind
from bench.store.files import read_table
from bench.store.keys import field_types, keys, without_none
from bench.store.paths import Home, shipped_profiles
from bench.store.shelf import RECORD_TYPES, load_library, toml_files
from bench.units import unit_of

SHIPPED = shipped_profiles()
README = (SHIPPED / "README.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    loaded, faults = load_library(Home(tmp_path_factory.mktemp("home")))
    assert faults == ()
    return loaded


def test_every_file_is_on_the_shelf(library: Library) -> None:
    for kind in RECORD_TYPES:
        assert len(getattr(library, kind)) == len(toml_files(SHIPPED / kind))


def test_files_are_called_as_their_profiles(library: Library) -> None:
    for kind in RECORD_TYPES:
        assert set(getattr(library, kind)) == {path.stem for path in toml_files(SHIPPED / kind)}


def test_every_build_and_both_tails_are_shown(library: Library) -> None:
    shown = {(recipe.build, recipe.tail) for recipe in library.recipes.values()}
    assert {build for build, _ in shown} == set(Build)
    for build in (Build.CORE, Build.LAMINATE_CORE):
        assert {tail for held, tail in shown if held is build} == set(Tail)


def test_another_core_can_be_chosen_for_the_demo(library: Library) -> None:
    demo = library.recipe("ember-under-peat")
    assert (demo.build, demo.tail) == (Build.CORE, Tail.CUT)
    others = [r for r in library.recipes.values() if r.build is Build.CORE and r.plastic == demo.plastic]
    assert len(others) >= 3


def test_every_kind_of_colourant_and_of_mould_is_shown(library: Library) -> None:
    assert {colourant.kind for colourant in library.colourants.values()} == set(ColourantKind)
    moulds = library.moulds.values()
    assert any(mould.rods and mould.drawn for mould in moulds)
    assert any(mould.weighed for mould in moulds)
    assert any(mould.rods is None for mould in moulds)
    demo = library.mould("ribbon-leech-4")
    assert demo.rods is not None
    assert (demo.cavities, demo.rods.count) == (4, 2), "each rod runs through two cavities"


def test_a_weighed_rod_agrees_with_its_size(library: Library) -> None:
    mould = library.mould("marsh-minnow-2")
    assert mould.rods is not None
    assert mould.volumes.rod_ml == pytest.approx(mould.rods.in_cavity_ml, rel=0.02)


@pytest.mark.parametrize("kind", ["plastics", "moulds", "stations", "colourants"])
def test_every_quantity_has_a_source(kind: str) -> None:
    for path in toml_files(SHIPPED / kind):
        table = read_table(path)
        quantities = set(_quantities(RECORD_TYPES[kind], table, ""))
        sources = {key for key, source in _flat(table.get("sources", {}), "") if source}
        assert quantities - sources == set(), path.name


def _quantities(record_type: type, table: Mapping[str, Any], path: str) -> Iterator[str]:
    names = keys(record_type)
    for name, annotation in field_types(record_type).items():
        held = without_none(annotation) or annotation
        if names[name] not in table:
            continue
        whole = f"{path}.{names[name]}" if path else names[name]
        if is_dataclass(held) and isinstance(held, type):
            yield from _quantities(held, table[names[name]], whole)
        elif held is float or unit_of(held) or any(unit_of(inner) for inner in get_args(held)):
            yield whole


def _flat(table: Mapping[str, Any], path: str) -> Iterator[tuple[str, str]]:
    for key, value in table.items():
        whole = f"{path}.{key}" if path else key
        if isinstance(value, Mapping):
            yield from _flat(value, whole)
        else:
            yield whole, value


def _documented(record_type: type, path: str) -> Iterator[str]:
    """Every key of a record and of those inside it, as the tables of README.md write them."""
    for name, annotation in field_types(record_type).items():
        held = without_none(annotation) or annotation
        whole = f"{path}{keys(record_type)[name]}"
        if is_dataclass(held) and isinstance(held, type):
            yield from _documented(held, f"{whole}.")
            continue
        yield whole
        inner = [part for part in get_args(held) if isinstance(part, type) and is_dataclass(part)]
        for part in inner:
            yield from _documented(part, f"{whole}.*." if whole == "parts" else f"{whole}[].")


@pytest.mark.parametrize("record_type", [*RECORD_TYPES.values(), Caution, Settings])
def test_readme_explains_every_key(record_type: type) -> None:
    explained = set(re.findall(r"^\| `([^`]+)` \|", README, re.MULTILINE)) | {"name", "title", "sources"}
    assert set(_documented(record_type, "")) - explained == set()


def test_readme_explains_no_key_that_is_not() -> None:
    known = {key for held in (*RECORD_TYPES.values(), Caution, Settings) for key in _documented(held, "")}
    assert set(re.findall(r"^\| `([^`]+)` \|", README, re.MULTILINE)) - known == set()


def test_readme_names_every_kind_of_step() -> None:
    assert [f"`{kind}`" for kind in StepKind if f"`{kind}`" not in README] == []


def test_cautions_fit_their_places_on_screen_and_say_who_says_so(library: Library) -> None:
    for caution in library.cautions:
        assert len(caution.words) <= 76, caution.name
        assert len(caution.more) <= 300, caution.name
        assert "\n" not in caution.words + caution.more
        assert caution.source


def test_opening_cautions_come_in_few_cards(library: Library) -> None:
    cards = dict.fromkeys(caution.group for caution in library.cautions if caution.at_start)
    assert list(cards) == ["air", "body", "heat", "fire and burns", "bench"]


@pytest.mark.parametrize(
    ("at", "words"),
    [
        # Published figures. OSHA, 29 CFR 1910.1000 Table Z-1: hydrogen chloride, ceiling 5 ppm. NIOSH letter of
        # 17 January 2008 (ANSI K13.1-1973): organic vapour with acid gas yellow, P100 magenta. ANZCOR Guideline
        # 9.1.3: running water for at least 20 minutes. NFPA 10: burning liquids are Class B.
        ("overheating", ["hydrogen chloride", "5 ppm", "29 CFR 1910.1000"]),
        ("respirator", ["organic vapour", "acid gas", "P100", "yellow", "magenta"]),
        ("burns", ["at least 20 minutes", "ANZCOR", "No ice", "doctor"]),
        ("extinguisher", ["Class B", "Never water"]),
        # Common practice, no source.
        ("scorched", ["Off the heat", "Ventilate", "leave the room"]),
        ("do-not-carry", ["Do not carry a smoking cup"]),
        ("keep-dry", ["wet", "damp"]),
        ("never-leave", ["Never leave the heat"]),
        ("sticks-to-skin", ["Never peel"]),
        ("no-acetal", ["acetal"]),
        ("blocked-nozzle", ["Never force a blocked nozzle"]),
        ("children-and-pets", ["Children and pets out"]),
        ("kept-for-plastic", ["Never again for food"]),
        ("gloves", ["gloves", "sleeves", "closed shoes"]),
        ("estimates", ["estimates", "Local codes", "licensed practice"]),
    ],
)
def test_the_usual_cautions_are_there(library: Library, at: str, words: list[str]) -> None:
    (caution,) = (caution for caution in library.cautions if caution.name == at)
    text = f"{caution.words} {caution.more} {caution.source}"
    assert [word for word in words if word not in text] == []


def test_air_is_looked_after_every_ten_minutes_and_scorched_plastic_interrupts(library: Library) -> None:
    assert {caution.name: caution.every_s for caution in library.cautions if caution.every_s} == {"fan-check": 600}
    assert {c.name for c in library.cautions if c.above_scorch} == {"scorched", "do-not-carry"}


@pytest.mark.parametrize("step", [StepKind.HEAT, StepKind.SHOT, StepKind.OPEN, StepKind.PURGE_AIR, StepKind.TRIM])
def test_steps_that_can_hurt_show_a_caution(library: Library, step: StepKind) -> None:
    assert any(step in caution.steps for caution in library.cautions)
