"""Cores from the shelf: found, ranked by the colour package, and said to be what they are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.colour.cores import THIRD_AT_LEAST, Ranking, Reads
from bench.colour.lab import lab_from_hex
from bench.errors import BenchError
from bench.model.recipe import Build, Part, Recipe
from bench.plan.cores import CoresFound, find_cores, ranked
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


def cores(recipe: Recipe = OWN, by: Ranking = Ranking.SHOWS) -> CoresFound:
    return find_cores(recipe=recipe, mould=MOULD, plastic=PLASTIC, recipes=RECIPES, colourants=COLOURANTS, by=by)


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


def test_ranked_by_how_well_they_show_unless_asked_for_a_third_colour() -> None:
    (side,) = cores().sides
    shows = [core.core_visibility for core in side.cores]
    assert shows == sorted(shows, reverse=True)
    assert side.shows_best == side.cores[0]
    (other,) = cores(by=Ranking.THIRD).sides
    count = len(other.third)
    assert {core.core for core in other.cores} == {core.core for core in side.cores}
    assert other.cores[:count] == other.third == side.third
    for group in (other.cores[:count], other.cores[count:]):
        thirds = [core.third_colour for core in group]
        assert thirds == sorted(thirds, reverse=True)
    assert ranked(side.cores, Ranking.THIRD) == other.cores
    assert ranked(other.cores, Ranking.SHOWS) == side.cores


def test_only_a_core_that_turns_the_hue_is_a_third_colour() -> None:
    # A pale core only lightens, a core of the same dye only darkens, blue under brown turns. Common practice.
    (side,) = cores(recipe_of(Build.CORE, shell={"brown": 0.15})).sides
    reads = {core.core: core.reads for core in side.cores if core.alone}
    assert reads["white"] is Reads.LIGHTER
    assert reads["brown"] is not Reads.THIRD, "a core of the shell's own colour makes no third one"
    assert reads["blue"] is Reads.THIRD
    for core in side.third:
        assert core.core_visibility >= 5
        assert core.third_colour >= THIRD_AT_LEAST


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
