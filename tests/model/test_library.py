"""Finding profiles by name, and the nearest right word."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from bench.model.colourant import Colourant, ColourantKind
from bench.model.library import Library, nearest
from bench.model.recipe import Build, Dose, Part, PartRecipe, Recipe

PEAT = Colourant(name="peat-brown", title="Peat", kind=ColourantKind.DYE)
RECIPE = Recipe(
    name="plain-peat",
    title="Plain Peat",
    build=Build.PLAIN,
    plastic="soft",
    parts={Part.BODY: PartRecipe(doses=(Dose(colourant="peat-brown", load_pct=1.0),))},
)


def test_a_wrong_name_is_answered_with_the_nearest_or_with_what_there_is() -> None:
    library = Library(recipes={"plain-peat": RECIPE})
    assert library.recipe("plain-peat") is RECIPE
    with pytest.raises(BenchError, match=r'^no recipe is called "plain-paet"; did you mean "plain-peat"\?$'):
        library.recipe("plain-paet")
    with pytest.raises(BenchError, match=r'^no recipe is called "zzz"; on the shelf: plain-peat\.$'):
        library.recipe("zzz")
    with pytest.raises(BenchError, match=r"on the shelf: none\.$"):
        library.mould("zzz")


def test_nothing_near_is_no_hint() -> None:
    assert nearest("peet-brown", ["peat-brown", "soot"]) == '"peat-brown"'
    assert nearest("zzz", ["peat-brown"]) == ""
    assert nearest("x" * 100_000, ["peat-brown"]) == ""


@pytest.mark.parametrize(
    ("word", "near"),
    [
        ("leech", '"ribbon-leech-4"'),
        ("ribon", '"ribbon-leech-4"'),
        ("minow", '"marsh-minnow-2"'),
        ("long", ""),
        ("4", '"ribbon-leech-4"'),
        ("", ""),
        ("-", ""),
    ],
)
def test_a_part_of_one_name_is_near_it(word: str, near: str) -> None:
    assert nearest(word, ["ribbon-leech-4", "marsh-minnow-2", "long-reed-6", "long-fin-6"]) == near


def test_an_empty_station_is_not_the_one_of_the_settings() -> None:
    with pytest.raises(BenchError, match='no station is called ""'):
        Library().station("")


def test_names_that_nothing_answers_to_are_faults_of_the_recipe() -> None:
    keys = [fault.key for fault in Library(colourants={"peat-brown": PEAT}).reference_faults(RECIPE)]
    assert keys == ["plastic"]
    keys = [fault.key for fault in Library().reference_faults(RECIPE)]
    assert keys == ["plastic", "parts.body.doses[0].colourant"]
