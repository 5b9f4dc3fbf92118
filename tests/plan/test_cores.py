"""Cores from the shelf: found, ranked by the colour package, and said to be what they are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.colour.lab import lab_from_hex
from bench.errors import BenchError
from bench.model.recipe import Build, Part, Recipe
from bench.plan.cores import CoresFound, Reads, find_cores
from tests.plan.bench_records import MOULD, PLASTIC
from tests.plan.looks import COLOURANTS, look_of, recipe_of

OWN = recipe_of(Build.CORE)
RECIPES = {
    "ember": OWN,
    "aaa-same-core": replace(OWN, name="aaa-same-core", title="Same core"),
    "pale": replace(recipe_of(Build.CORE, core={"white": 0.5}), name="pale", title="Pale"),
    "other": replace(recipe_of(Build.CORE, core={"blue": 0.5}), name="other", title="Other", plastic="firm"),
    "plain": replace(recipe_of(Build.PLAIN), name="plain", title="Plain"),
    "odd": replace(recipe_of(Build.CORE, core={"riddle": 0.5}), name="odd", title="Odd"),
}


def cores(recipe: Recipe = OWN) -> CoresFound:
    return find_cores(recipe=recipe, mould=MOULD, plastic=PLASTIC, recipes=RECIPES, colourants=COLOURANTS)


def test_each_different_core_on_the_same_plastic_and_each_colourant_alone() -> None:
    (side,) = cores().sides
    recipes = {core.core for core in side.cores if not core.alone}
    alone = {core.core for core in side.cores if core.alone}
    assert recipes == {"ember", "pale"}, "its own first, no core twice, none of another plastic"
    assert alone == {"brown", "green", "blue", "red", "white", "pearl", "glow"}
    assert cores().left_out == (
        "The look of Riddle is unknown: it has no swatch; pour a film and read it over white and over black card.",
    )


def test_the_numbers_are_those_of_the_look() -> None:
    found = {core.core: core for core in cores().sides[0].cores}
    look = look_of(Build.CORE).sides[0]
    own = found["ember"]
    assert (own.core_visibility, own.shell_tint, own.third_colour) == (
        look.core_visibility,
        look.shell_tint,
        look.third_colour,
    )
    pale = look_of(Build.CORE, core={"white": 0.5}).sides[0]
    assert found["pale"].core_visibility == pale.core_visibility


def test_ranked_by_third_colour_and_told_apart() -> None:
    (side,) = cores().sides
    thirds = [core.third_colour for core in side.cores]
    assert thirds == sorted(thirds, reverse=True)
    assert side.shows_best is not None
    assert side.shows_best.core_visibility == max(core.core_visibility for core in side.cores)
    for core in side.cores:
        hidden, third = core.core_visibility < 5, core.third_colour >= 5
        assert core.reads is (Reads.HIDDEN if hidden else Reads.THIRD if third else Reads.OWN)
    assert all(core.reads is Reads.THIRD for core in side.third)


def test_a_pearly_shell_hides_them_and_a_faint_one_leaves_them_their_own_colour() -> None:
    (pearly,) = cores(recipe_of(Build.CORE, shell={"pearl": 3.0})).sides
    assert {core.reads for core in pearly.cores} == {Reads.HIDDEN}
    assert pearly.third == ()
    (faint,) = cores(recipe_of(Build.CORE, shell={"brown": 0.001})).sides
    assert Reads.OWN in {core.reads for core in faint.cores}


def test_a_blue_core_under_a_brown_shell_reads_greener_than_both() -> None:
    # Common practice, no source.
    (side,) = cores(recipe_of(Build.CORE, shell={"brown": 0.15})).sides
    blue = next(core for core in side.cores if core.core == "blue")
    shell = next(view for view in look_of(Build.CORE, shell={"brown": 0.15}).views if view.name == "shell alone")
    assert blue.reads is Reads.THIRD
    assert lab_from_hex(blue.over_core_hex).a < min(shell.lab.a, lab_from_hex(blue.core_hex).a)


def test_sides_of_a_laminate_and_bodies_serve_as_shells() -> None:
    both = cores(recipe_of(Build.LAMINATE_CORE, shell_b={"riddle": 0.1}))
    assert [side.side for side in both.sides] == [Part.SHELL_A, Part.SHELL_B]
    assert both.sides[1].cores == ()
    assert both.sides[1].shows_best is None
    assert "Riddle" in both.sides[1].unknown[0]
    body = cores(recipe_of(Build.PLAIN)).sides[0]
    assert {core.core: core.core_visibility for core in body.cores} == {
        core.core: core.core_visibility for core in cores().sides[0].cores
    }


def test_a_mould_without_rods_is_refused() -> None:
    with pytest.raises(BenchError, match="Leech has no core rods"):
        find_cores(
            recipe=OWN,
            mould=replace(MOULD, rods=None),
            plastic=PLASTIC,
            recipes=RECIPES,
            colourants=COLOURANTS,
        )
