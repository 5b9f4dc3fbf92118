"""``pourbench work cup``: how long a cup stays hot."""

from __future__ import annotations

import argparse
import math
from typing import TYPE_CHECKING

from bench.cli.output import celsius, duration
from bench.cli.work_flags import add_calculation, add_filled_cup, add_quantity, cup_from, show
from bench.errors import BenchError
from bench.physics.cup import loss_w_m2k, seconds_until
from bench.units import Celsius, Millimetres, figure

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs

DENSITIES_G_ML = (1.0, 1.03)
"""Of soft plastisol, cold. Common practice, no source."""

RULER = 0.95
"""Starting value: so much of the height is told by a ruler in a cup."""


def add(verbs: Verbs) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(verbs, "cup", run, about="time until a cup of hot plastic has cooled")
    add_filled_cup(parser)
    add_quantity(parser, "--start", Celsius, "temperature of the cup now", required=True)
    add_quantity(parser, "--until", Celsius, "temperature to wait for", required=True)
    add_quantity(parser, "--room", Celsius, "temperature of the room", required=True)
    add_quantity(parser, "--diameter", Millimetres, "diameter of the cup", required=True)
    add_quantity(parser, "--height", Millimetres, "height of the plastic in it", required=True)


def run(args: argparse.Namespace) -> int:
    """Prints the time and the loss at the start; 0.

    Raises BenchError as the physics does, and for more plastic than stands in that height.
    """
    cup = cup_from(args, diameter_mm=args.diameter, height_mm=args.height)
    seconds = seconds_until(cup, start_c=args.start, until_c=args.until, room_c=args.room)
    loss = loss_w_m2k(cup, at_c=args.start, room_c=args.room)
    low_mm, high_mm = (_stands_mm(args.mass, args.diameter, g_ml) for g_ml in reversed(DENSITIES_G_ML))
    stands = f"{low_mm:.0f}" if f"{low_mm:.0f}" == f"{high_mm:.0f}" else f"{low_mm:.0f} to {high_mm:.0f}"
    if args.height < RULER * low_mm:
        raise BenchError(
            f"{figure(args.mass)} g of plastic stand {stands} mm high in a cup of "
            f"{figure(args.diameter)} mm, and --height says {figure(args.height)} mm: look at the three figures"
        )
    return show(
        args,
        {"seconds": seconds, "loss_w_m2k": loss},
        f"From {celsius(args.start)} to {celsius(args.until)}: {duration(seconds)}, stirred, in still air.",
        f"Loss at the start: {loss:.1f} W/m²K.",
        f"So much plastic stands {stands} mm high in it, cold.",
        "An estimate: two readings of the cup correct it.",
    )


def _stands_mm(mass_g: float, diameter_mm: float, g_ml: float) -> float:
    return 1e3 * mass_g / g_ml / (math.pi / 4 * diameter_mm**2)
