"""What a recipe says must fit its build."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import PARTS, Build, Dose, Part, PartRecipe, Recipe, Tail

HALF = PartRecipe(share_pct=50.0)
WHOLE = PartRecipe()


def _recipe(build: Build, tail: Tail = Tail.KEPT) -> Recipe:
    laminate = build in (Build.LAMINATE, Build.LAMINATE_CORE)
    parts = {part: WHOLE if part is Part.CORE or not laminate else HALF for part in PARTS[build]}
    return Recipe(name="x", title="X", build=build, plastic="soft", parts=parts, tail=tail)


@pytest.mark.parametrize("build", Build)
def test_every_build_has_a_sound_recipe(build: Build) -> None:
    assert list(_recipe(build).faults()) == []


@pytest.mark.parametrize("build", Build)
def test_only_core_work_may_cut_the_tail(build: Build) -> None:
    keys = [fault.key for fault in _recipe(build, Tail.CUT).faults()]
    assert keys == ([] if build.has_core else ["tail"])


def test_the_core_is_shot_last_and_shares_nothing() -> None:
    assert PARTS[Build.LAMINATE_CORE][-1] is Part.CORE
    recipe = _recipe(Build.LAMINATE_CORE)
    thirds = replace(recipe, parts={**recipe.parts, Part.SHELL_A: PartRecipe(share_pct=30.0)})
    assert [fault.key for fault in thirds.faults()] == ["parts.shell_a.share and parts.shell_b.share"]


def test_the_loads_of_a_cup_stay_below_the_whole_of_it() -> None:
    doses = (Dose(colourant="a", load_pct=60.0), Dose(colourant="b", load_pct=40.0))
    recipe = replace(_recipe(Build.PLAIN), parts={Part.BODY: PartRecipe(doses=doses)})
    assert [fault.found for fault in recipe.faults()] == ["100 % in all"]
