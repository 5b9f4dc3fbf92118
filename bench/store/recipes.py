"""A recipe put among the user's own profiles."""

from __future__ import annotations

from pathlib import Path

import tomli_w

from bench.errors import BenchError
from bench.model.recipe import Recipe
from bench.store.atomic import replace_whole
from bench.store.decode import decode, encode
from bench.store.files import FORMAT
from bench.store.paths import Home, shipped_profiles
from bench.store.shelf import read_files, toml_files

FOLDER = "recipes"


class NameTaken(BenchError):
    """A recipe of that name is on the shelf. ``path`` is its file, ``own`` whether it is one of the user's."""

    def __init__(self, name: str, path: Path, *, own: bool) -> None:
        self.path = path
        self.own = own
        what = "one of yours" if own else "one that came with the program; yours would stand in its place"
        super().__init__(f'a recipe called "{name}" is on the shelf already, {what}')


def save_recipe(home: Home, recipe: Recipe, *, over: bool = False, shipped: Path | None = None) -> Path:
    """Write the recipe into the user's profiles, whole or not at all, and return its file.

    ``over`` allows a name that is taken: the user's own file of that name is replaced, a shipped one is left alone
    and shadowed. Raises NameTaken without it, FaultyFiles for a recipe that would not load, BenchError when the
    disk does not take it. ``shipped`` is for tests.
    """
    table = {"format": FORMAT, **encode(recipe)}
    folder = home.profiles / FOLDER
    path = folder / f"{recipe.name}.toml"
    decode(Recipe, encode(recipe), file=str(path))
    own = _file_of(recipe.name, folder)
    if not over:
        theirs = _file_of(recipe.name, (shipped or shipped_profiles()) / FOLDER)
        if own is not None or theirs is not None:
            raise NameTaken(recipe.name, own or theirs or path, own=own is not None)
    data = tomli_w.dumps(table).encode()
    try:
        replace_whole(own or path, data)
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise BenchError(f"{own or path} cannot be written: {why}") from error
    return own or path


def _file_of(name: str, folder: Path) -> Path | None:
    """The file in which a recipe of that name stands, loaded or not."""
    by_path = folder / f"{name}.toml"
    return read_files(Recipe, toml_files(folder)).places.get(name) or (by_path if by_path.exists() else None)
