"""``pourbench work flake``: how much flake hides, and how much flake it takes for what is wanted."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from typing import TYPE_CHECKING

from bench.cli.work_flags import add_calculation, add_quantity, show
from bench.colour.flake import FILM_MM, POLYESTER_G_ML, coverage, flake_g_for_count, flake_g_for_cover
from bench.errors import BenchError
from bench.physics.substance import SOFT_PLASTISOL
from bench.units import Density, Grams, Millimetres, Percent, figure

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs


def add(verbs: Verbs) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(
        verbs, "flake", run, about="flakes a gram, what they cover of the core, and how much flake that takes"
    )
    wanted = parser.add_mutually_exclusive_group(required=True)
    add_quantity(wanted, "--grams", Grams, "flake in the cup")
    add_quantity(wanted, "--cover", Percent, "how much of what lies behind the wall they should cover")
    wanted.add_argument("--sparkles", type=float, metavar="N", help="flakes wanted in each bait: needs --bait")
    add_quantity(parser, "--bait", Grams, "what one bait weighs: tells flake for each bait as well")
    add_quantity(parser, "--size", Millimetres, "size of a flake across flats", required=True)
    add_quantity(parser, "--film", Millimetres, "thickness of the film it is cut from", default=FILM_MM)
    add_quantity(parser, "--plastic", Grams, "plastic in the cup", required=True)
    add_quantity(parser, "--wall", Millimetres, "thickness of the wall looked through", required=True)
    add_quantity(parser, "--rho", Density, "density of the plastic", default=SOFT_PLASTISOL.rho_kg_m3)
    add_quantity(parser, "--film-density", Density, "density of the film", default=1000 * POLYESTER_G_ML)


def run(args: argparse.Namespace) -> int:
    """Prints the flake, its count and its coverage; 0. Raises BenchError for what is no flake."""
    flake_g = _flake_g(args)
    found = coverage(
        flake_g=flake_g,
        across_flats_mm=args.size,
        plastic_ml=_plastic_ml(args),
        wall_mm=args.wall,
        film_mm=args.film,
        density_g_ml=args.film_density / 1000,
    )
    data = {**asdict(found), "grams": flake_g, "load_pct": 100 * flake_g / (flake_g + args.plastic)}
    lines = (
        [f"{flake_g:.2f} g of flake for the cup, {data['load_pct']:.2g} % of it."] if args.grams is None else []
    )
    lines.append(
        f"About {found.count_per_g:,.0f} flakes to the gram, {found.count_per_g * flake_g:,.0f} in this cup."
    )
    if args.bait is not None:
        bait_g = args.bait * data["load_pct"] / 100
        data |= {"bait_g": bait_g, "bait_count": bait_g * found.count_per_g}
        lines.append(
            f"In a bait of {figure(args.bait)} g: {1000 * bait_g:.3g} mg, about {data['bait_count']:,.0f} flakes."
        )
    data["visibility_factor"] = 1 - found.covered
    return show(
        args,
        data,
        *lines,
        f"They cover {100 * found.covered:.1f} % of what lies behind {figure(args.wall)} mm of wall "
        f"(their shadows add up to {found.eta:.3f} of it).",
        f"A core behind it shows by about {1 - found.covered:.2f} of what it would without flake.",
        "Strewn at random: stir before each filling, flake sinks.",
    )


def _plastic_ml(args: argparse.Namespace) -> float:
    found: float = 1000 * args.plastic / args.rho
    return found


def _flake_g(args: argparse.Namespace) -> float:
    """The flake in the cup: as given, or what the coverage or the count that is wanted takes."""
    density_g_ml = args.film_density / 1000
    if args.grams is not None:
        given: float = args.grams
        return given
    if args.cover is not None:
        return flake_g_for_cover(
            args.cover / 100,
            plastic_ml=_plastic_ml(args),
            wall_mm=args.wall,
            film_mm=args.film,
            density_g_ml=density_g_ml,
        )
    if args.bait is None:
        raise BenchError("--sparkles is wanted of each bait: say with --bait what one weighs")
    return flake_g_for_count(
        args.sparkles,
        bait_g=args.bait,
        plastic_g=args.plastic,
        across_flats_mm=args.size,
        film_mm=args.film,
        density_g_ml=density_g_ml,
    )
