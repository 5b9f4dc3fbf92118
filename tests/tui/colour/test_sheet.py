"""The sheet of variants: what tells one from another is always to be read."""

from __future__ import annotations

import pytest

from bench.model.recipe import Tail
from bench.tui.colour.cells import text_of
from bench.tui.colour.depth import Depth
from bench.tui.colour.desk import Sheet
from bench.tui.colour.predict import variants
from bench.tui.colour.sheet import sheet_rows, short_title
from tests.tui.at_the_bench import shelf


@pytest.mark.parametrize(
    ("room", "said"),
    [
        (25, "×0.5 Moon between Banks"),
        (20, "×0.5 Moon … Banks"),
    ],
)
def test_names_are_shortened_before_they_are_cut(room: int, said: str) -> None:
    assert short_title("×0.5 Moon between Banks", room) == said


@pytest.mark.parametrize("width", [78, 98])
@pytest.mark.parametrize("name", ["ember-under-peat", "moon-between-banks", "lantern-under-soot"])
def test_no_demo_variant_is_cut_off(name: str, width: int) -> None:
    library = shelf()
    found = variants(library.recipes[name], library.moulds["ribbon-leech-4"], library)
    rows = sheet_rows(Sheet(found=found, tail=Tail.CUT), width, 20, Depth.TRUE)
    assert not [text_of(row) for row in rows if "…" in text_of(row).replace(" … ", "")]


def test_the_numbers_of_two_sides_say_whose_they_are() -> None:
    library = shelf()
    found = variants(library.recipes["moon-between-banks"], library.moulds["ribbon-leech-4"], library)
    text = "\n".join(text_of(row) for row in sheet_rows(Sheet(found=found, tail=Tail.CUT), 98, 20, Depth.TRUE))
    assert text.count("A shows ") + text.count("B shows ") == len(found)
