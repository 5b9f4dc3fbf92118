"""A recipe put among the user's profiles: it loads again, and nothing is written over silently."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from bench.errors import BenchError, FaultyFiles
from bench.model.recipe import Dose, Part, Recipe
from bench.store.paths import Home
from bench.store.recipes import NameTaken, save_recipe
from bench.store.shelf import load_library
from tests.tui.at_the_bench import shelf


def recipe(name: str = "dusk-ember", title: str = "Dusk ember") -> Recipe:
    """A recipe with a name that nothing has."""
    return replace(shelf().recipes["ember-under-peat"], name=name, title=title)


def test_a_saved_recipe_stands_on_the_shelf_as_it_was(tmp_path: Path) -> None:
    home = Home(tmp_path)
    path = save_recipe(home, recipe())
    assert path == tmp_path / "profiles" / "recipes" / "dusk-ember.toml"
    assert path.read_text(encoding="utf-8").startswith("format = 1\n")
    library, faults = load_library(home)
    assert not faults
    assert library.recipes["dusk-ember"] == recipe()


def test_a_name_of_the_users_own_is_asked_about_and_kept_until_then(tmp_path: Path) -> None:
    home = Home(tmp_path)
    path = save_recipe(home, recipe())
    before = path.read_bytes()
    with pytest.raises(NameTaken) as refused:
        save_recipe(home, recipe(title="Another"))
    assert refused.value.own
    assert path.read_bytes() == before
    save_recipe(home, recipe(title="Another"), over=True)
    assert load_library(home)[0].recipes["dusk-ember"].title == "Another"


def test_a_shipped_name_is_asked_about_and_then_shadowed(tmp_path: Path) -> None:
    home, shipped = Home(tmp_path / "home"), tmp_path / "shipped"
    save_recipe(Home(tmp_path / "other"), recipe("peat-plain"), over=True)
    (tmp_path / "other" / "profiles").rename(shipped)
    before = (shipped / "recipes" / "peat-plain.toml").read_bytes()
    with pytest.raises(NameTaken) as refused:
        save_recipe(home, recipe("peat-plain"), shipped=shipped)
    assert not refused.value.own
    assert not home.profiles.exists()
    save_recipe(home, recipe("peat-plain"), over=True, shipped=shipped)
    assert (shipped / "recipes" / "peat-plain.toml").read_bytes() == before


def test_a_name_that_stands_in_a_file_called_otherwise_is_found(tmp_path: Path) -> None:
    home = Home(tmp_path)
    path = save_recipe(home, recipe())
    other = path.rename(path.with_name("mine.toml"))
    with pytest.raises(NameTaken) as refused:
        save_recipe(home, recipe())
    assert refused.value.path == other
    assert save_recipe(home, recipe(title="Anew"), over=True) == other, "two files of one name would hide both"
    assert not path.exists()


def test_a_file_that_does_not_load_is_never_written_over_unasked(tmp_path: Path) -> None:
    home = Home(tmp_path)
    broken = home.profiles / "recipes" / "dusk-ember.toml"
    broken.parent.mkdir(parents=True)
    broken.write_text("not toml at all [", encoding="utf-8")
    with pytest.raises(NameTaken):
        save_recipe(home, recipe())
    assert broken.read_text(encoding="utf-8") == "not toml at all ["


def test_what_would_not_load_is_not_written(tmp_path: Path) -> None:
    home = Home(tmp_path)
    doses = (Dose(colourant="ember-red", load_pct=60.0), Dose(colourant="peat-brown", load_pct=50.0))
    parts = {**recipe().parts, Part.SHELL: replace(recipe().parts[Part.SHELL], doses=doses)}
    for wrong in (replace(recipe(), parts=parts), recipe(name="../up"), recipe(title="tab\x07bell")):
        with pytest.raises(FaultyFiles):
            save_recipe(home, wrong)
    assert not home.root.exists() or not list(home.root.rglob("*.toml"))


def test_a_disk_that_refuses_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "profiles").write_text("a file where a folder belongs", encoding="utf-8")
    with pytest.raises(BenchError) as refused:
        save_recipe(Home(tmp_path), recipe(), shipped=tmp_path / "none")
    assert "\n" not in str(refused.value)
