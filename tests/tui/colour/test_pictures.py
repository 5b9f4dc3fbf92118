"""Pictures of baits: exactly the cells asked for, each region in its colour, and everything in words as well."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.model.recipe import Tail
from bench.tui.colour.bait import Bait, Tint
from bench.tui.colour.cells import Cell, Grid
from bench.tui.colour.depth import Depth, sent
from bench.tui.colour.pictures import (
    cross_section,
    cross_section_words,
    side_view,
    side_view_words,
    swatch,
    tint_words,
)
from tests.tui.colour import baits
from tests.tui.colour.baits import CORED, FLAKED, LAMINATE_CORE, PLAIN, TAILLESS

BAITS = st.sampled_from([CORED, PLAIN, LAMINATE_CORE, FLAKED, TAILLESS])
SIZES = st.tuples(st.integers(1, 90), st.integers(1, 40))


def colours(cell: Cell) -> set[str]:
    """The colours that can be seen in a cell."""
    return {colour for colour in (cell.fore, cell.ground) if colour is not None}


def colours_of(grid: Grid) -> set[str]:
    """The colours that can be seen in a picture."""
    return {colour for row in grid for cell in row for colour in colours(cell)}


@given(BAITS, SIZES, st.sampled_from(list(Depth)))
def test_every_size_yields_exactly_the_cells_asked_for(bait: Bait, size: tuple[int, int], depth: Depth) -> None:
    width, height = size
    for grid in (
        cross_section(bait, width, height, depth),
        side_view(bait, width, height, depth),
        side_view(bait, width, height, depth, tail=Tail.CUT),
        swatch(Tint(hex="#123456"), width, height, depth),
    ):
        assert len(grid) == height
        assert all(len(row) == width for row in grid)
        assert all(len(cell.char) == 1 for row in grid for cell in row)


@pytest.mark.parametrize(("width", "height"), [(12, 6), (24, 12), (48, 24)])
def test_the_core_is_in_the_middle_and_the_shell_round_it(width: int, height: int) -> None:
    grid = cross_section(CORED, width, height)
    middle = grid[height // 2][width // 2]
    assert colours(middle) == {baits.CORE}
    assert colours(grid[height // 2][0]) == {baits.ALONE}
    assert colours(grid[height // 2][width - 1]) == {baits.ALONE}
    assert colours(grid[0][width // 2]) == {baits.ALONE}
    assert not colours(grid[0][0]), "outside the round there is nothing"


def test_the_core_takes_its_share_of_the_face() -> None:
    grid = cross_section(CORED, 80, 40)
    seen = Counter(colour for row in grid for cell in row for colour in colours(cell))
    assert seen[baits.CORE] / (seen[baits.CORE] + seen[baits.ALONE]) == pytest.approx(0.16, abs=0.02), (
        "a rod of 4 mm in a body of 10 mm: (4/10)^2 of the face"
    )


def test_the_tail_has_the_shells_colour_when_kept_and_the_cores_when_cut() -> None:
    kept, cut = side_view(CORED, 44, 6, tail=Tail.KEPT), side_view(CORED, 44, 6, tail=Tail.CUT)
    assert {colour for row in kept for cell in row[38:] for colour in colours(cell)} == {baits.KEPT}
    assert {colour for row in cut for cell in row[38:] for colour in colours(cell)} == {baits.CUT}
    for grid in (kept, cut):
        assert colours(grid[3][14]) == {baits.OVER} or baits.OVER in colours(grid[3][14])
        assert colours(grid[1][14]) == {baits.ALONE}, "above the rod there is only shell"


def test_a_laminates_halves_lie_one_above_the_other() -> None:
    face = cross_section(LAMINATE_CORE, 24, 12)
    assert colours(face[2][12]) == {baits.ALONE}
    assert colours(face[9][12]) == {baits.ALONE_B}
    flank = colours_of(side_view(LAMINATE_CORE, 60, 10))
    assert flank == {baits.ALONE, baits.ALONE_B, baits.OVER, baits.OVER_B, baits.KEPT, baits.KEPT_B}


def test_a_bait_without_core_or_tail_shows_none() -> None:
    assert colours_of(cross_section(PLAIN, 20, 10)) == {baits.ALONE}
    assert colours_of(side_view(PLAIN, 40, 8)) == {baits.ALONE, baits.KEPT}
    assert colours_of(side_view(TAILLESS, 40, 8)) == {baits.ALONE, baits.OVER}


def test_flake_covers_the_share_that_was_reckoned_and_only_the_shell() -> None:
    grid = cross_section(FLAKED, 120, 60)
    dots = Counter(colour for row in grid for cell in row for colour in _two(cell))
    assert dots[baits.FLAKE] / (dots[baits.FLAKE] + dots[baits.ALONE]) == pytest.approx(0.3, abs=0.02)
    assert colours(grid[30][60]) == {baits.CORE}
    assert side_view(FLAKED, 60, 10) == side_view(FLAKED, 60, 10), "the flakes lie still from frame to frame"


def _two(cell: Cell) -> tuple[str | None, str | None]:
    """The colours of a cell's two dots."""
    if cell.char == "▄":
        return cell.ground, cell.fore
    return (cell.fore, cell.ground) if cell.char == "▀" else (cell.ground, cell.ground)


@pytest.mark.parametrize("depth", [Depth.MANY, Depth.FEW])
def test_fewer_colours_are_the_nearest_ones(depth: Depth) -> None:
    true = colours_of(side_view(CORED, 44, 6))
    assert colours_of(side_view(CORED, 44, 6, depth)) == {sent(colour, depth) for colour in true}


def test_without_colours_every_region_has_a_texture_of_its_own() -> None:
    face = cross_section(CORED, 24, 12, Depth.NONE)
    assert not colours_of(face)
    assert face[6][12].char == "█"
    assert face[6][0].char == "▒"
    view = side_view(CORED, 44, 6, Depth.NONE, tail=Tail.KEPT)
    assert {cell.char for row in view for cell in row} == {" ", "▒", "▓"}


def test_the_words_carry_everything_that_the_pictures_show() -> None:
    for tail in Tail:
        words = "\n".join(side_view_words(LAMINATE_CORE, tail))
        for colour in colours_of(side_view(LAMINATE_CORE, 60, 12, tail=tail)):
            assert colour in words
    words = "\n".join(cross_section_words(FLAKED))
    for said in (baits.ALONE, baits.CORE, baits.FLAKE, "3 mm thick", "4 mm across", "30 %"):
        assert said in words


def test_a_colour_no_screen_can_show_is_said_to_be_one() -> None:
    assert "than a screen can show" in tint_words(Tint(hex="#00ff00", clipped=True))
    assert "screen" not in tint_words(Tint(hex="#00ff00"))
