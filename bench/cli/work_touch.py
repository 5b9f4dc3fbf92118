"""``pourbench work touch``: when a bait can be handled."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from typing import TYPE_CHECKING

from bench.cli.output import celsius, duration
from bench.cli.work_flags import add_calculation, add_plastic, add_quantity, plastic_from, show
from bench.physics.touch import AIR_FILM_W_M2K, BARE_C, BRIEF_C, WATER_FILM_W_M2K, time_to_touch
from bench.units import Celsius, Conductance, Millimetres

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs

FILM_W_M2K = {"air": AIR_FILM_W_M2K, "water": WATER_FILM_W_M2K}


def add(verbs: Verbs) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(verbs, "touch", run, about="time until a bait can be handled")
    add_quantity(parser, "--body", Millimetres, "thickest diameter of the body", required=True)
    add_quantity(parser, "--start", Celsius, "temperature of the bait out of the mould", required=True)
    parser.add_argument(
        "--in", dest="medium", choices=sorted(FILM_W_M2K), required=True, help="what the bait cools in"
    )
    add_quantity(parser, "--around", Celsius, "temperature of the air or water", required=True)
    add_quantity(parser, "--film", Conductance, "film coefficient, 10 W/m2/K in air and 500 in water unless said")
    add_plastic(parser)


def run(args: argparse.Namespace) -> int:
    """Prints both times; 0. Raises BenchError as the physics does."""
    touch = time_to_touch(
        plastic_from(args),
        body_mm=args.body,
        start_c=args.start,
        around_c=args.around,
        film_w_m2k=FILM_W_M2K[args.medium] if args.film is None else args.film,
    )
    return show(
        args,
        asdict(touch),
        f"Brief handling, hottest point at {celsius(BRIEF_C)}: after {duration(touch.brief_s)}.",
        f"Bare hands, hottest point at {celsius(BARE_C)}: after {duration(touch.bare_s)}.",
        "An estimate, not a safe limit: test before you trust. Hot plastic sticks to skin.",
    )
