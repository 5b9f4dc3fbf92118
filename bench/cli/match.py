"""``pourbench match``: how much of which colourants brings a bait nearest to a wanted colour."""

from __future__ import annotations

import argparse
import textwrap
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from bench.cli.chips import Chip, chip_here
from bench.cli.look import WIDTH
from bench.cli.output import emit_json, emit_lines
from bench.cli.pour import percent
from bench.cli.work_flags import add_quantity
from bench.colour.layers import Medium
from bench.colour.target import MOST_TOTAL_PCT
from bench.errors import BenchError
from bench.model.library import Library, nearest
from bench.model.plastic import Plastic
from bench.model.recipe import Dose, Part, PartRecipe
from bench.plan.cores import ALONE_PCT
from bench.plan.matching import Addition, Match, match_colour
from bench.plan.strengths import part_colour
from bench.units import Grams, Percent, parse, quoted, unit_of

if TYPE_CHECKING:
    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]

LEAST_G = 0.01
"""What a bench balance still shows."""

WEIGH_FIRST = "Weigh first: drops are a hint. Colour is added, never taken out, so add less and look again."


def add_match_parser(subparsers: Verbs, *, library: Callable[[argparse.Namespace], Library]) -> None:
    """Adds the verb ``match``. ``library`` loads the profiles once the arguments are known."""
    about = "doses of colourants that bring a bait nearest to a wanted colour"
    parser = subparsers.add_parser("match", help=about, description=about, allow_abbrev=False)
    _add_options(parser)

    def run(args: argparse.Namespace) -> int:
        shelf = library(args)
        plastic = _plastic(args, shelf)
        match = match_colour(
            args.colour,
            names=_names(args.names),
            mould=shelf.mould(args.mould),
            plastic=plastic,
            colourants=shelf.colourants,
            core=_core(args.over_core, shelf, plastic),
            already_pct=loads_from(args.already, "--already"),
            cup_g=args.cup,
            most_total_pct=args.most,
        )
        if args.json:
            emit_json(
                {**as_json(match), "mould": args.mould, "plastic": plastic.name, "over_core": args.over_core}
            )
        else:
            emit_lines(as_lines(match, chip_here()))
        return 0

    parser.set_defaults(run=run)


def _add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("colour", metavar="HEX", help="the colour wanted of the bait, such as #7a4b2c")
    parser.add_argument("--mould", required=True, metavar="M", help="name of a mould: how thick the bait is")
    parser.add_argument(
        "--with", dest="names", required=True, metavar="A,B,C", help="colourants to use, up to six, by name"
    )
    parser.add_argument(
        "--over-core",
        metavar="X",
        help=f"match a shell over a core: a recipe whose core it is, a colourant ({ALONE_PCT:g} %% of it), or "
        '"a=0.9 %%,b=0.2 %%"',
    )
    parser.add_argument(
        "--already", metavar='"A=0.2 %"', help="what the cup holds by now, with commas between several"
    )
    add_quantity(parser, "--cup", Grams, "the cup: as it stands with --already, else as you want it in the end")
    parser.add_argument(
        "--most", type=percent, default=MOST_TOTAL_PCT, metavar="PERCENT", help="most colour together, in percent"
    )
    parser.add_argument(
        "--plastic",
        metavar="P",
        help="name of a plastic; that of the core's recipe, or the shelf's first, unless said",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object, for programs")


def named_in(args: argparse.Namespace) -> list[str]:
    """Every profile that the command line speaks of, or may."""
    core = [] if args.over_core is None else [part.split("=")[0].strip() for part in args.over_core.split(",")]
    return [args.mould, *_names(args.names), *core, *([args.plastic] if args.plastic else [])]


def _names(text: str) -> list[str]:
    return [name.strip() for name in text.split(",") if name.strip()]


def loads_from(text: str | None, flag: str) -> dict[str, float]:
    """The loads of "a=0.2 %, b=0.1 %", in %; none for no text. Raises BenchError, naming the flag."""
    unit = unit_of(Percent)
    assert unit is not None, "a share carries its unit"
    found: dict[str, float] = {}
    for part in (text or "").split(","):
        if not part.strip():
            continue
        name, is_load, load = part.partition("=")
        if not is_load:
            raise BenchError(f'{flag}: found {quoted(part.strip())}, wanted a load such as "peat-brown=0.2 %"')
        try:
            found[name.strip()] = parse(load.strip(), unit)
        except BenchError as error:
            raise BenchError(f"{flag}: {name.strip()[:40]}: {error}") from error
    return found


def _plastic(args: argparse.Namespace, shelf: Library) -> Plastic:
    if args.plastic is not None:
        return shelf.plastic(args.plastic)
    if args.over_core in shelf.recipes:
        return shelf.plastic(shelf.recipes[args.over_core].plastic)
    if not shelf.plastics:
        raise BenchError("there is no plastic on the shelf; add one under profiles/plastics")
    return shelf.plastics[min(shelf.plastics)]


def _core(text: str | None, shelf: Library, plastic: Plastic) -> Medium | None:
    """The core that ``--over-core`` names. Raises BenchError for what is none, and for one that is not known."""
    if text is None:
        return None
    colour = part_colour(_core_cup(text, shelf), colourants=shelf.colourants, plastic=plastic)
    if colour.medium is None:
        raise BenchError(colour.unknown[0])
    return colour.medium


def _core_cup(text: str, shelf: Library) -> PartRecipe:
    if "=" in text:
        loads = loads_from(text, "--over-core")
        for name in loads:
            if name not in shelf.colourants:
                raise _no_core(name, list(shelf.colourants))
        return PartRecipe(doses=tuple(Dose(colourant=name, load_pct=load) for name, load in loads.items()))
    recipe = shelf.recipes.get(text)
    if recipe is not None and Part.CORE in recipe.parts:
        return recipe.parts[Part.CORE]
    if text in shelf.colourants:
        return PartRecipe(doses=(Dose(colourant=text, load_pct=ALONE_PCT),))
    cored = [name for name, each in shelf.recipes.items() if Part.CORE in each.parts]
    raise _no_core(text, [*cored, *shelf.colourants])


def _no_core(name: str, known: list[str]) -> BenchError:
    near = nearest(name, known)
    hint = f"; did you mean {near}?" if near else ""
    return BenchError(f"--over-core: {quoted(name)} is no recipe with a core and no colourant{hint}")


def as_json(match: Match) -> dict[str, object]:
    """The match for programs."""
    return {
        "target": {"hex": match.target_hex, "lab": list(match.target)},
        "hex": match.hex,
        "clipped": match.clipped,
        "lab": list(match.lab),
        "de00": match.off,
        "misses": list(match.misses),
        "cup_g": match.cup_g,
        "doses": [
            {
                "colourant": each.colourant,
                "load_pct": each.load_pct,
                "added_pct": each.added_pct,
                "g": each.mass_g,
                "drops": each.drops,
            }
            for each in match.additions
        ],
        "notes": list(match.notes),
    }


def as_lines(match: Match, chip: Chip) -> Iterator[str]:
    """The match for people, 80 columns wide."""
    yield f"Wanted   {chip(match.target_hex)}{match.target_hex}"
    yield f"Nearest  {chip(match.hex)}{match.hex}   {match.off:.1f} off{_misses(match)}"
    yield ""
    for each in match.additions:
        yield f"  {each.title:<24}{each.load_pct:8.3g} %{_to_weigh(each)}"
    yield ""
    if match.cup_g is not None:
        yield f"The cup then holds {match.cup_g:.1f} g, colour included."
    for sentence in (*match.notes, WEIGH_FIRST):
        yield from textwrap.wrap(sentence, WIDTH)


def _misses(match: Match) -> str:
    return f": {', '.join(match.misses)}" if match.misses else ""


def _to_weigh(each: Addition) -> str:
    if each.mass_g is None:
        return f", {each.added_pct:.3g} % of it new" if each.added_pct != each.load_pct else ""
    if 0 < each.mass_g < LEAST_G:
        return f"   less than {LEAST_G:g} g: hardly worth it"
    number = None if each.drops is None else round(each.drops)
    drops = "" if number is None else f", about {number} {'drop' if number == 1 else 'drops'}"
    return f"   add {each.mass_g:.2f} g{drops}"
