"""What stood chosen the last time: kept, read back, and ignored where it is broken."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.model.recipe import Tail
from bench.store.last_choice import LastChoice, keep_last_choice, last_choice
from bench.store.paths import Home

CHOICE = LastChoice(recipe="peat", mould="leech", count=12, moulds=2, tail=Tail.KEPT)


def test_what_was_kept_is_read_back(tmp_path: Path) -> None:
    home = Home(tmp_path / "not there yet")
    assert last_choice(home) is None
    keep_last_choice(home, CHOICE)
    assert last_choice(home) == CHOICE


@pytest.mark.parametrize(
    "text",
    [
        "",
        "format = 2\n",
        "not toml",
        "format = 1\n",
        'format = 1\nrecipe = 3\nmould = "leech"\ncount = 1\nmoulds = 1\n',
        'format = 1\nrecipe = "peat"\nmould = "leech"\ncount = 0\nmoulds = 1\n',
        'format = 1\nrecipe = "peat"\nmould = "leech"\ncount = true\nmoulds = 1\n',
        'format = 1\nrecipe = "peat"\nmould = "leech"\ncount = 1\nmoulds = "two"\n',
        "\ufffe\x00",
    ],
)
def test_what_says_no_choice_is_as_if_it_were_not_there(text: str, tmp_path: Path) -> None:
    home = Home(tmp_path)
    home.last_choice.write_text(text)
    assert last_choice(home) is None


def test_a_tail_that_is_none_is_left_to_the_recipe(tmp_path: Path) -> None:
    home = Home(tmp_path)
    keep_last_choice(home, CHOICE)
    home.last_choice.write_text(home.last_choice.read_text().replace('"kept"', '"docked"'))
    found = last_choice(home)
    assert found is not None
    assert found.tail is None


def test_a_folder_in_its_place_is_no_choice(tmp_path: Path) -> None:
    Home(tmp_path).last_choice.mkdir()
    assert last_choice(Home(tmp_path)) is None
