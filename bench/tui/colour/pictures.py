"""Pictures of a bait as cells, in as many colours as the terminal has, and each of them in words as well."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby

from bench.model.recipe import Tail
from bench.tui.colour.bait import Bait, Side, Tint
from bench.tui.colour.cells import Cell, Grid, two_dots
from bench.tui.colour.depth import Depth, sent
from bench.tui.colour.naming import colour_words
from bench.tui.colour.shapes import Dots, Region, cut_across, from_the_side

TEXTURES: Mapping[Region, str] = {
    Region.NOTHING: " ",
    Region.SHELL_A: "▒",
    Region.SHELL_B: "░",
    Region.CORE: "█",
    Region.OVER_A: "▓",
    Region.OVER_B: "▓",
    Region.TAIL_A: "▒",
    Region.TAIL_B: "░",
    Region.TAIL_CORE: "█",
    Region.FLAKE: "∙",
}
"""What stands for each region where there are no colours: the words beside it say what is what."""


def cross_section(bait: Bait, width: int, height: int, depth: Depth = Depth.TRUE) -> Grid:
    """The bait cut across, in exactly so many cells: a slice as thick as the bait itself."""
    return _painted(cut_across(bait.outline(), width, height), _inks(bait), depth)


def side_view(bait: Bait, width: int, height: int, depth: Depth = Depth.TRUE, *, tail: Tail | None = None) -> Grid:
    """The bait from its side, in exactly so many cells, with its own tail or that one."""
    return _painted(from_the_side(bait.outline(tail), width, height), _inks(bait), depth)


def swatch(tint: Tint, width: int, height: int, depth: Depth = Depth.TRUE) -> Grid:
    """A field of one colour; dots where there are no colours."""
    if depth is Depth.NONE:
        return ((Cell(char="▒"),) * width,) * height
    colour = sent(tint.hex, depth)
    return ((Cell(char="█", fore=colour, ground=colour),) * width,) * height


def _inks(bait: Bait) -> Mapping[Region, Tint]:
    """The colour of each region that this bait has."""
    above, below = bait.sides[0], bait.sides[-1]
    found: dict[Region, Tint | None] = {
        Region.SHELL_A: above.alone,
        Region.SHELL_B: below.alone,
        Region.OVER_A: above.over_core,
        Region.OVER_B: below.over_core,
        Region.TAIL_A: above.tail,
        Region.TAIL_B: below.tail,
        Region.FLAKE: bait.flake,
    }
    if bait.core is not None:
        found |= {Region.CORE: bait.core.alone, Region.TAIL_CORE: bait.core.tail or bait.core.alone}
    return {region: tint for region, tint in found.items() if tint is not None}


def _painted(dots: Dots, inks: Mapping[Region, Tint], depth: Depth) -> Grid:
    colours = {region: sent(tint.hex, depth) for region, tint in inks.items()}

    def cell(above: Region, below: Region) -> Cell:
        if depth is Depth.NONE:
            return Cell(char=TEXTURES[_plainer((above, below))])
        return two_dots(colours.get(above), colours.get(below))

    return tuple(
        tuple(each for pair, run in groupby(zip(*rows, strict=True)) for each in (cell(*pair),) * len(tuple(run)))
        for rows in zip(dots[::2], dots[1::2], strict=True)
    )


def _plainer(pair: tuple[Region, Region]) -> Region:
    """The one texture of two dots: whatever is there, before nothing."""
    return pair[1] if pair[0] is Region.NOTHING else pair[0]


# The same in words.


def cross_section_words(bait: Bait) -> tuple[str, ...]:
    """Everything that the cut face shows."""
    lines = [f"{_named(side, bait)}: {tint_words(side.alone)}" for side in bait.sides]
    if bait.core is not None:
        wall_mm = (bait.body_mm - bait.core_mm) / 2
        lines = [f"{line}, {wall_mm:.3g} mm thick" for line in lines]
        lines.append(f"core: {tint_words(bait.core.alone)}, {bait.core_mm:.3g} mm across")
    return (*lines, *_flake_words(bait))


def side_view_words(bait: Bait, tail: Tail | None = None) -> tuple[str, ...]:
    """Everything that the view from the side shows."""
    lines: list[str] = []
    for side in bait.sides:
        if side.over_core is not None:
            lines.append(f"{_named(side, bait)} over the core: {tint_words(side.over_core)}")
        lines.append(f"{_named(side, bait)} alone: {tint_words(side.alone)}")
    return (*lines, *_tail_words(bait, tail or bait.tail), *_flake_words(bait))


def tint_words(tint: Tint) -> str:
    """A colour's name and its hex, and whether the screen can show it."""
    beyond = ", brighter than a screen can show" if tint.clipped else ""
    return f"{colour_words(tint.hex)} {tint.hex}{beyond}"


def _named(side: Side, bait: Bait) -> str:
    place = ("above", "below")[bait.sides.index(side)] if len(bait.sides) > 1 else ""
    return f"{side.name} ({place})" if place else side.name


def _tail_words(bait: Bait, tail: Tail) -> Iterator[str]:
    if not bait.has_tail:
        return
    if tail is Tail.CUT and bait.core is not None:
        yield f"tail cut, filled with core: {tint_words(bait.core.tail or bait.core.alone)}"
        return
    for side in bait.sides:
        if side.tail is not None:
            kept = "tail kept" if bait.core is not None else "tail"
            yield f"{kept}, {side.name}: {tint_words(side.tail)}"


def _flake_words(bait: Bait) -> Iterator[str]:
    if bait.flake is not None and bait.covered > 0:
        yield f"flake hides {100 * bait.covered:.0f} % of the shell: {tint_words(bait.flake)}"
