"""The demo's colours: swatches that hang together, and a look that shows what the trade knows."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.colour.lab import Lab
from bench.model.colourant import ColourantKind
from bench.model.library import Library
from bench.model.recipe import Dose, Part, PartRecipe, Recipe, Tail
from bench.plan.look import look_at
from bench.plan.look_records import Place, RecipeLook, SideLook, View, ViewName
from bench.plan.strengths import CLEAR, tinting
from bench.store.paths import Home
from bench.store.shelf import load_library
from tests.colour.demo_colours import STRENGTHS, swatches


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    loaded, faults = load_library(Home(Path(tmp_path_factory.mktemp("home"))))
    assert faults == ()
    return loaded


def look(library: Library, recipe: str | Recipe, mould: str = "ribbon-leech-4") -> RecipeLook:
    chosen = library.recipe(recipe) if isinstance(recipe, str) else recipe
    return look_at(
        recipe=chosen,
        mould=library.mould(mould),
        plastic=library.plastic(chosen.plastic),
        colourants=library.colourants,
    )


def under(library: Library, shell: dict[str, float], core: dict[str, float]) -> SideLook:
    """The demo's cored bait with other colours."""

    def part(loads: dict[str, float]) -> PartRecipe:
        return PartRecipe(doses=tuple(Dose(colourant=name, load_pct=load) for name, load in loads.items()))

    demo = library.recipe("ember-under-peat")
    recipe = Recipe(
        name="trial",
        title="Trial",
        build=demo.build,
        plastic=demo.plastic,
        tail=Tail.KEPT,
        parts={Part.SHELL: part(shell), Part.CORE: part(core)},
    )
    return look(library, recipe).sides[0]


def view(side: SideLook, name: ViewName) -> View:
    return next(each for each in side.views if each.name is name)


def test_swatches_are_those_of_their_invented_colours(library: Library) -> None:
    for name in STRENGTHS:
        written = [
            (each.thickness_mm, each.load_pct, each.over_white, each.over_black)
            for each in library.colourants[name].swatch
        ]
        assert written == [
            (each.thickness_mm, each.load_pct, each.over_white, each.over_black) for each in swatches(name)
        ]
        assert "invented for the demo" in library.colourants[name].sources["swatch"]


def test_every_demo_colourant_has_a_look_and_its_films_agree(library: Library) -> None:
    for colourant in library.colourants.values():
        if colourant.kind is ColourantKind.FLAKE:
            assert colourant.flake is not None
            continue
        found = tinting(colourant, CLEAR)
        assert found.strength is not None, colourant.name
        assert found.agreement is not None
        assert found.agreement < 1.5, colourant.name


def test_kinds_do_to_light_what_they_are_called(library: Library) -> None:
    """Dyes absorb and hardly scatter, pearls and highlights scatter and hardly absorb."""
    for colourant in library.colourants.values():
        strength = tinting(colourant, CLEAR).strength
        if strength is None:
            continue
        most_k, mean_s = max(strength.k_per_mm_pct), sum(strength.s_per_mm_pct) / len(strength.s_per_mm_pct)
        if colourant.kind is ColourantKind.DYE:
            assert mean_s < 0.1 * most_k, colourant.name
        if colourant.kind in (ColourantKind.PEARL, ColourantKind.HIGHLIGHT):
            assert mean_s > 5 * most_k, colourant.name


@pytest.mark.parametrize("mould", ["ribbon-leech-4", "marsh-minnow-2"])
def test_the_demo_has_a_load_window_with_its_load_inside(library: Library, mould: str) -> None:
    found = look(library, "ember-under-peat", mould)
    window = found.sides[0].window
    assert window is not None
    assert window.low is not None
    assert window.high is not None
    assert window.place is Place.INSIDE
    assert window.colourant == "peat-brown"
    assert window.low.load_pct < 0.22 < window.high.load_pct
    assert window.high.load_pct < 2.0, "a window that a heavy hand can miss"


def test_every_demo_recipe_is_known_in_every_mould_it_goes_with(library: Library) -> None:
    for recipe in library.recipes.values():
        for mould in library.moulds.values():
            if recipe.build.has_core and mould.rods is None:
                continue
            found = look(library, recipe, mould.name)
            assert found.unknown == ()
            assert all(side.window is None or side.window.low for side in found.sides)


def test_pearl_hides_more_than_a_dye_of_equal_look_in_the_cup(library: Library) -> None:
    # Common practice, no source. Brown alone, and brown with pearl dosed to be as light in the cup.
    core = {"ember-red": 0.9, "chalk-white": 0.25}
    dye = under(library, {"peat-brown": 0.02}, core)
    wanted = view(dye, ViewName.CUP).lab.lightness
    low, high = 0.01, 5.0
    for _ in range(25):
        load = (low * high) ** 0.5
        lightness = view(under(library, {"peat-brown": load, "moonwater-pearl": 0.1}, core), ViewName.CUP).lab[0]
        low, high = (low, load) if lightness < wanted else (load, high)
    pearly = under(library, {"peat-brown": low, "moonwater-pearl": 0.1}, core)
    assert view(pearly, ViewName.CUP).lab.lightness == pytest.approx(wanted, abs=0.2)
    assert pearly.contrast_ratio is not None
    assert dye.contrast_ratio is not None
    assert pearly.contrast_ratio > dye.contrast_ratio + 0.2
    assert pearly.core_visibility is not None
    assert dye.core_visibility is not None
    assert pearly.core_visibility < dye.core_visibility


@pytest.mark.parametrize("shell", [{"peat-brown": 0.1}, {"peat-brown": 0.08, "reed-green": 0.03}], ids=str)
def test_blue_under_brown_or_olive_reads_greener_than_both(library: Library, shell: dict[str, float]) -> None:
    # Common practice, no source: a third colour, on the green side of the shell and of the core alike.
    core = {"mere-blue": 0.3, "chalk-white": 0.3}
    found = under(library, shell, core)
    over = view(found, ViewName.OVER_CORE).lab
    alone = view(under(library, {}, core), ViewName.OVER_CORE).lab
    assert found.third_colour is not None
    assert found.third_colour >= 5
    assert over.a < min(view(found, ViewName.SHELL_ALONE).lab.a, alone.a)
    assert _greenish(over)


def _greenish(lab: Lab) -> bool:
    """Left of grey: the hue of unique green is 164 degrees (CIECAM02, from memory)."""
    return lab.a < -3
