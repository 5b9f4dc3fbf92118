"""``pourbench work melt``: how long to heat a cup, in bursts."""

from __future__ import annotations

import argparse
from functools import partial
from typing import TYPE_CHECKING

from bench.cli.output import duration
from bench.cli.work_flags import (
    add_calculation,
    add_filled_cup,
    add_quantity,
    add_scorch,
    cup_from,
    scorch_limit_c,
    scorch_warning,
    show,
)
from bench.errors import BenchError
from bench.physics.melting import bursts_s, melt_s
from bench.physics.substance import SOFT_PLASTISOL
from bench.units import Celsius, Watts

if TYPE_CHECKING:
    from bench.cli.work_flags import PlasticNamed, Verbs

LONGEST_S = 3600.0
"""Starting value: plastic that is heated for longer is spent, or a figure is wrong. Common practice, no source."""


def add(verbs: Verbs, *, plastic_named: PlasticNamed) -> None:
    """Adds the calculation to ``work``."""
    handler = partial(run, plastic_named=plastic_named)
    parser = add_calculation(verbs, "melt", handler, about="heating time of a cup, in bursts")
    add_filled_cup(parser)
    add_quantity(parser, "--start", Celsius, "temperature of the cup now", required=True)
    add_quantity(parser, "--to", Celsius, "temperature wanted", required=True)
    add_quantity(parser, "--power", Watts, "power the cup absorbs, from a run of your own", required=True)
    add_scorch(parser)


def run(args: argparse.Namespace, *, plastic_named: PlasticNamed) -> int:
    """Prints the whole time and the bursts; 0. Raises BenchError as the physics does, and for over an hour."""
    plastic = plastic_named(args.plastic) if args.plastic else None
    # heating needs the cup's heat only; its size is left at any value
    cup = cup_from(
        args, diameter_mm=80.0, height_mm=80.0, plastic=plastic.substance if plastic else SOFT_PLASTISOL
    )
    total = melt_s(cup, start_c=args.start, to_c=args.to, power_w=args.power)
    if total > LONGEST_S:
        raise BenchError(
            f"{args.power:g} W would take {duration(total)}, and no cup is heated for over an hour: look at "
            f"the mass and at the power, which is what a cup of yours took up"
        )
    bursts = bursts_s(cup, start_c=args.start, to_c=args.to, power_w=args.power)
    limit_c = scorch_limit_c(args, plastic)
    warning = scorch_warning(max(args.to, args.start), limit_c)
    if not bursts:
        lines = ["The cup is hot enough."]
    elif args.to >= limit_c:
        lines = ["No bursts are told for that."]
    else:
        lines = [
            f"{duration(total)} of heating in all, in bursts of {', '.join(duration(burst) for burst in bursts)}.",
            "Stir and take a reading after each; stop at the first smoke. Heat with the fan running.",
            "An estimate: what an oven is rated for overstates what a small cup absorbs.",
        ]
    if warning:
        lines.insert(0, warning)
    return show(args, {"total_s": total, "bursts": bursts, "warning": warning}, *lines)
