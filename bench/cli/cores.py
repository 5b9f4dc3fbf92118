"""``pourbench cores``: which cores from the shelf show best under a shell, and which read as a third colour."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from bench.cli.chips import WIDE, Chip, chip_here
from bench.cli.look import PREDICTION
from bench.cli.output import emit_json, emit_lines, wrapped
from bench.colour.cores import Ranking, Reads
from bench.colour.window import VISIBLE_AT_LEAST
from bench.model.library import Library
from bench.plan.cores import ALONE_PCT, CoreFound, CoresFound, SideCores, find_cores
from bench.plan.look_words import shown, started

if TYPE_CHECKING:
    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]


def add_cores_parser(subparsers: Verbs, *, library: Callable[[argparse.Namespace], Library]) -> None:
    """Adds the verb ``cores``. ``library`` loads the profiles once the arguments are known."""
    about = "which cores from the shelf show best under a recipe's shell, or make it read as a third colour"
    parser = subparsers.add_parser("cores", help=about, description=about, allow_abbrev=False)
    parser.add_argument("recipe", metavar="RECIPE", help="the recipe whose shell it is")
    parser.add_argument("--mould", required=True, metavar="M", help="name of a mould with rods")
    parser.add_argument(
        "--by",
        choices=[ranking.value for ranking in Ranking],
        default=Ranking.SHOWS.value,
        help="which comes first: the core that shows best (unless said), or the strongest third colour",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object, for programs")

    def run(args: argparse.Namespace) -> int:
        shelf = library(args)
        recipe = shelf.recipe(args.recipe)
        found = find_cores(
            recipe=recipe,
            mould=shelf.mould(args.mould),
            plastic=shelf.plastic(recipe.plastic),
            recipes=shelf.recipes,
            colourants=shelf.colourants,
            by=Ranking(args.by),
        )
        if args.json:
            emit_json({**as_json(found), "estimate": PREDICTION})
        else:
            emit_lines(as_lines(found, chip_here()))
        return 0

    parser.set_defaults(run=run)


def as_json(found: CoresFound) -> dict[str, object]:
    """The cores for programs: ``cores`` are those of the first side, ranked as ``by`` says."""
    return {
        "recipe": found.recipe,
        "mould": found.mould,
        "by": found.by.value,
        **_side_json(found.sides[0]),
        "sides": [_side_json(side) for side in found.sides],
        "left_out": list(found.left_out),
    }


def _side_json(side: SideCores) -> dict[str, object]:
    best = side.shows_best
    return {
        "side": side.side.value,
        "cores": [_core_json(core) for core in side.cores],
        "shows_best": None if best is None else best.core,
        "third": [core.core for core in side.third],
        "unknown": list(side.unknown),
    }


def _core_json(core: CoreFound) -> dict[str, object]:
    return {
        "core": core.core,
        "title": core.title,
        "alone_pct": ALONE_PCT if core.alone else None,
        "reads": core.reads.value,
        "core_hex": core.core_hex,
        "over_core_hex": core.over_core_hex,
        "core_visibility": core.core_visibility,
        "shell_tint": core.shell_tint,
        "third_colour": core.third_colour,
    }


def as_lines(found: CoresFound, chip: Chip) -> Iterator[str]:
    """The cores for people, 80 columns wide."""
    yield from wrapped(f"Cores under {found.recipe_title} in {found.mould_title}")
    for side in found.sides:
        yield ""
        yield from _side_lines(side, chip)
    yield from ("", *wrapped(_legend(found.by)))
    for sentence in found.left_out:
        yield from wrapped(sentence, bullet="  - ")
    yield ""
    yield from wrapped(PREDICTION)


def _side_lines(side: SideCores, chip: Chip) -> Iterator[str]:
    if side.unknown:
        for sentence in side.unknown:
            yield from wrapped(f"{started(side.side.words)}: {sentence}")
        return
    wide = 30 + (WIDE + 2 if chip("#000000") else 0)
    yield f"{started(side.side.words) + ' over':<{wide}}{'seen':<9}{'shows':>6}{'third':>6}  reads as"
    for core in side.cores:
        numbers = f"{shown(core.core_visibility, VISIBLE_AT_LEAST):>6}{core.third_colour:6.1f}  {core.reads}"
        yield f"  {chip(core.over_core_hex)}{_short(core.title):<28}{core.over_core_hex:<9}{numbers}"
    if side.shows_best is not None:
        yield f"Shows best: {side.shows_best.title}. {_third_words(side)}"


def _legend(by: Ranking) -> str:
    other = Ranking.THIRD if by is Ranking.SHOWS else Ranking.SHOWS
    return (
        f"shows: how far the core is seen, {VISIBLE_AT_LEAST:g} or more shows. third: how far off both "
        "the shell's and the core's own colour. A third colour has a hue of neither. "
        f"--by {other} ranks the other way."
    )


def _third_words(side: SideCores) -> str:
    if side.third:
        return f"Strongest third colour: {side.third[0].title}."
    hidden = all(core.reads is Reads.HIDDEN for core in side.cores)
    return "None shows through this shell." if hidden else "None reads as a third colour."


def _short(title: str, limit: int = 27) -> str:
    return title if len(title) <= limit else f"{title[: limit - 1]}…"
