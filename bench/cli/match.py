"""``pourbench match``: how much of which colourants brings a bait nearest to a wanted colour."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from bench.cli.chips import Chip, chip_here
from bench.cli.output import emit_json, emit_lines, mass, wrapped
from bench.cli.pour import percent
from bench.cli.work_flags import add_quantity
from bench.colour.layers import Medium
from bench.colour.target import MOST_TOTAL_PCT
from bench.colour.window import VISIBLE_AT_LEAST
from bench.errors import BenchError, quoted
from bench.model.library import Library, nearest
from bench.model.plastic import Plastic
from bench.model.recipe import Dose, Part, PartRecipe
from bench.model.settings import UnitSystem
from bench.plan.cores import ALONE_PCT
from bench.plan.look_words import LEAST_WEIGHED_G, NEAREST_ON_SCREEN, drops_words, load_words, shown
from bench.plan.matching import Match, match_colour
from bench.plan.shelf_match import MOST_BOTTLES, shelf_choice, shelf_names
from bench.plan.strengths import part_colour
from bench.plan.thinning import SAME_BELOW, Addition, Thinned
from bench.plan.vessel import vessel_room_g
from bench.units import Grams, Percent, parse, unit_of

if TYPE_CHECKING:
    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]

WEIGH_FIRST = (
    "Weigh first: drops and spoons are hints. Colour is added, never taken out, so add less and look again."
)


def add_match_parser(subparsers: Verbs, *, library: Callable[[argparse.Namespace], Library]) -> None:
    """Adds the verb ``match``. ``library`` loads the profiles once the arguments are known."""
    about = "doses of colourants that bring a bait nearest to a wanted colour"
    parser = subparsers.add_parser("match", help=about, description=about, allow_abbrev=False)
    _add_options(parser)

    def run(args: argparse.Namespace) -> int:
        shelf = library(args)
        plastic = _plastic(args, shelf)
        match = _match(args, shelf, plastic)
        if args.json:
            emit_json(
                {**as_json(match), "mould": args.mould, "plastic": plastic.name, "over_core": args.over_core}
            )
        else:
            emit_lines(as_lines(match, chip_here(), shelf.settings.units))
            if args.plastic is None and args.over_core not in shelf.recipes:
                emit_lines(wrapped(taken_plastic(plastic, shelf)))
        return 0

    parser.set_defaults(run=run)


def _match(args: argparse.Namespace, shelf: Library, plastic: Plastic) -> Match:
    already = loads_from(args.already, "--already")
    if args.cup is not None and args.cup > MOST_CUP_G:
        raise BenchError(f"--cup: found {args.cup / 1000:.3g} kg, wanted at most {MOST_CUP_G / 1000:g} kg")
    reckon = partial(
        match_colour,
        args.colour,
        mould=shelf.mould(args.mould),
        plastic=plastic,
        colourants=shelf.colourants,
        core=_core(args.over_core, shelf, plastic),
        already_pct=already,
        most_total_pct=args.most,
    )
    names = _names(args.names)
    if args.names is None:
        known = shelf_names(shelf.colourants, plastic)
        there = [name for name in already if name in known]
        # More of a colour that the cup holds too much of already is no way to save it.
        if there and reckon(names=there, cup_g=args.cup).thinned is not None:
            there = []
        names = [
            *shelf_choice(
                lambda some: _weighed_off(reckon(names=some, cup_g=args.cup)),
                names=[name for name in known if name not in already],
                there=there,
            )
        ]
    return reckon(names=names, cup_g=args.cup, room_g=_room_g(args, shelf, plastic))


def _weighed_off(match: Match) -> float:
    """How far off a match is that leaves out what no scale shows."""
    return match.off if match.off_as_weighed is None else match.off_as_weighed


def _room_g(args: argparse.Namespace, shelf: Library, plastic: Plastic) -> float | None:
    """What the station's vessel takes; None where neither is known."""
    if args.station is None and shelf.settings.station not in shelf.stations:
        return None
    return vessel_room_g(shelf.station(args.station).vessel, plastic)


MOST_CUP_G = 100_000.0
"""A larger cup is taken for a slip of the finger."""


def _some_percent(text: str) -> float:
    share = percent(text)
    if share == 0:
        raise argparse.ArgumentTypeError(f"found {quoted(text)}, wanted a share above 0 %")
    return share


def _add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("colour", metavar="HEX", help="the colour wanted of the bait, such as #7a4b2c")
    parser.add_argument("--mould", required=True, metavar="M", help="name of a mould: how thick the bait is")
    parser.add_argument(
        "--with",
        dest="names",
        metavar="A,B,C",
        help=f"colourants to use, up to six, by name; else those in the cup and the best {MOST_BOTTLES} of all",
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
        "--most",
        type=_some_percent,
        default=MOST_TOTAL_PCT,
        metavar="PERCENT",
        help=f"most colour together, in percent; starting value {MOST_TOTAL_PCT:g}",
    )
    parser.add_argument(
        "--station", metavar="S", help="whose vessel a thinned cup must fit, where not the one of your settings"
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


def _names(text: str | None) -> list[str]:
    return [name.strip() for name in (text or "").split(",") if name.strip()]


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


def taken_plastic(plastic: Plastic, shelf: Library) -> str:
    """Which plastic was taken where nobody named one, and how to name another; empty where there is no other."""
    others = sorted(set(shelf.plastics) - {plastic.name})
    if not others:
        return ""
    more = f" {others[0]}" if len(others) == 1 else f", {others[0]} or another"
    first = "It is the first plastic on the shelf"
    return f"Reckoned in {plastic.name}. {first}; if yours is{more}, say so with --plastic."


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
        "doses": [_addition_json(each) for each in match.additions],
        "de00_as_weighed": match.off_as_weighed,
        "is_capped": match.is_capped,
        "core_visibility": match.core_visibility,
        "thinned": None if match.thinned is None else _thinned_json(match.thinned),
        "notes": list(match.notes),
    }


def _addition_json(each: Addition) -> dict[str, object]:
    return {
        "colourant": each.colourant,
        "load_pct": each.load_pct,
        "added_pct": each.added_pct,
        "g": each.mass_g,
        "drops": each.drops,
        "teaspoons": each.teaspoons,
    }


def _thinned_json(thinned: Thinned) -> dict[str, object]:
    return {
        "share": thinned.share,
        "clear_g": thinned.clear_g,
        "cup_g": thinned.cup_g,
        "vessel_g": thinned.room_g,
        "part_g": thinned.part_g,
        "hex": thinned.hex,
        "clipped": thinned.clipped,
        "lab": list(thinned.lab),
        "de00": thinned.off,
        "misses": list(thinned.misses),
        "core_visibility": thinned.core_visibility,
        "doses": [_addition_json(each) for each in thinned.additions],
    }


def as_lines(match: Match, chip: Chip, units: UnitSystem = UnitSystem.METRIC) -> Iterator[str]:
    """The match for people, 80 columns wide; for a cup that holds too much, the better way first. Plastic is in
    the maker's units, colour in grams, as the fine scale shows them."""
    yield f"Wanted   {chip(match.target_hex)}{match.target_hex}"
    if match.thinned is not None:
        yield from ("", *_thinned_lines(match.thinned, chip, units), "", "Or, without clear plastic:")
    yield from _added_lines(match, chip, units)
    yield ""
    for sentence in (*match.notes, WEIGH_FIRST):
        yield from wrapped(sentence)


def _added_lines(match: Match, chip: Chip, units: UnitSystem) -> Iterator[str]:
    """What colour alone brings."""
    yield from _nearest_lines("Nearest", match, chip)
    yield ""
    yield from _dose_lines(match.additions, units, cup_g=match.cup_g)
    if match.off_as_weighed is not None:
        yield f"  Without what is too little to weigh it is {match.off_as_weighed:.1f} off."
    if match.cup_g is not None:
        yield from ("", f"The cup then holds {mass(match.cup_g, units)}, colour included.")
    if match.is_capped:
        yield from wrapped(
            f"It stops at {match.most_total_pct:g} % colour together: more would hardly help, costs much and "
            "weakens the plastic. --most allows more.",
        )
    if match.core_visibility is not None:
        yield from wrapped(_core_words(match.core_visibility))


def _nearest_lines(word: str, found: Match | Thinned, chip: Chip) -> Iterator[str]:
    misses = f": {', '.join(found.misses)}" if found.misses else ""
    said = f"{found.off:.1f} off{misses}" if found.off >= SAME_BELOW else "as good as the same"
    yield f"{word:<9}{chip(found.hex)}{found.hex}   {said}"
    if found.clipped:
        yield from wrapped(NEAREST_ON_SCREEN.format("This hex"))


def _core_words(visibility: float) -> str:
    if visibility >= VISIBLE_AT_LEAST:
        return f"The core still shows through it, by {shown(visibility, VISIBLE_AT_LEAST)}."
    return (
        f"The core does not show through it any more: {shown(visibility, VISIBLE_AT_LEAST)} off the shell alone, "
        f"{VISIBLE_AT_LEAST:g} or more shows. Use less, or colours that hide less."
    )


def _thinned_lines(thinned: Thinned, chip: Chip, units: UnitSystem) -> Iterator[str]:
    """How to save a cup that holds too much."""
    yield from wrapped(_thinned_words(thinned, units))
    if thinned.share < HARDLY_ANY:
        yield from wrapped("So little of the old cup is left in it that a fresh one is less work.")
    yield from _nearest_lines("Thinned", thinned, chip)
    if thinned.core_visibility is not None:
        yield from wrapped(_core_words(thinned.core_visibility))
    added = [each for each in thinned.additions if each.added_pct > 0]
    if added:
        yield "and then"
        yield from _dose_lines(added, units, cup_g=thinned.cup_g)


def _thinned_words(thinned: Thinned, units: UnitSystem) -> str:
    too_much = "The cup holds too much colour already"
    if thinned.clear_g is None or thinned.cup_g is None:
        each, unit = (10, "oz") if units is UnitSystem.US else (100, "g")
        clear = each * (1 / thinned.share - 1)
        return f"{too_much}: to each {each} {unit} of it add about {clear:.0f} {unit} of clear plastic."
    clear_words, cup = mass(thinned.clear_g, units, digits=0), mass(thinned.cup_g, units, digits=0)
    room = "" if thinned.room_g is None else mass(thinned.room_g, units, digits=0)
    if thinned.part_g is not None:
        return (
            f"{too_much}, and thinning all of it would overfill the vessel, which takes {room}: "
            f"pour {mass(thinned.part_g, units)} of it into another vessel, add {clear_words} of clear "
            f"plastic, and the new cup is {cup}."
        )
    fits = f", which fits the vessel (it takes {room})" if room else ""
    return f"{too_much}: add {clear_words} of clear plastic. The new cup is {cup}{fits}."


def _dose_lines(additions: Sequence[Addition], units: UnitSystem, *, cup_g: float | None) -> Iterator[str]:
    """What to add; a colourant of which nothing is needed is told only where there is no other."""
    needed = [each for each in additions if each.added_pct > 0]
    for each in needed:
        tiny = cup_g is None and each.added_pct / 100 * PLANNED_CUP_G < LEAST_WEIGHED_G
        scale = f"   no scale shows it in {mass(PLANNED_CUP_G, units, digits=0)}" if tiny else ""
        yield f"  {each.title:<24}{load_words(each.load_pct):>9}{_to_weigh(each)}{scale}"
    if not needed:
        yield "  Nothing to add."


def _to_weigh(each: Addition) -> str:
    if each.mass_g is None:
        return f", {load_words(each.added_pct)} of it new" if each.added_pct != each.load_pct else ""
    if not each.is_weighable:
        return "   too little to weigh: leave it out"
    spoon = "" if each.teaspoons is None or each.teaspoons < LEAST_SPOON else f", {each.teaspoons:.2g} tsp"
    return f"   add {each.mass_g:.2f} g{drops_words(each.drops)}{spoon}"


PLANNED_CUP_G = 100.0
"""The cup that a dose is judged for where none was given."""

HARDLY_ANY = 1 / 16
"""Share of the old cup below which a fresh one is the better advice; starting value."""

LEAST_SPOON = 0.06
"""The smallest measuring spoon there is, a sixteenth of a teaspoon; common practice, no source."""
