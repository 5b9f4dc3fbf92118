"""``pourbench work flake``: how much flake hides."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from typing import TYPE_CHECKING

from bench.cli.work_flags import add_calculation, add_quantity, show
from bench.colour.flake import FILM_MM, POLYESTER_G_ML, coverage
from bench.physics.substance import SOFT_PLASTISOL
from bench.units import Density, Grams, Millimetres

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs


def add(verbs: Verbs) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(verbs, "flake", run, about="flakes a gram, and how much of the core they cover")
    add_quantity(parser, "--grams", Grams, "flake in the cup", required=True)
    add_quantity(parser, "--size", Millimetres, "size of a flake across flats", required=True)
    add_quantity(parser, "--film", Millimetres, "thickness of the film it is cut from", default=FILM_MM)
    add_quantity(parser, "--plastic", Grams, "plastic in the cup", required=True)
    add_quantity(parser, "--wall", Millimetres, "thickness of the wall looked through", required=True)
    add_quantity(parser, "--rho", Density, "density of the plastic", default=SOFT_PLASTISOL.rho_kg_m3)
    add_quantity(parser, "--film-density", Density, "density of the film", default=1000 * POLYESTER_G_ML)


def run(args: argparse.Namespace) -> int:
    """Prints count and coverage; 0. Raises BenchError for what is no flake."""
    found = coverage(
        flake_g=args.grams,
        across_flats_mm=args.size,
        plastic_ml=1000 * args.plastic / args.rho,
        wall_mm=args.wall,
        film_mm=args.film,
        density_g_ml=args.film_density / 1000,
    )
    return show(
        args,
        asdict(found),
        f"About {found.count_per_g:,.0f} flakes to the gram, {found.count_per_g * args.grams:,.0f} in this cup.",
        f"They cover {100 * found.covered:.1f} % of what lies behind {args.wall:g} mm of wall "
        f"(their shadows add up to {found.eta:.3f} of it).",
        "Strewn at random: stir before each filling, flake sinks.",
    )
