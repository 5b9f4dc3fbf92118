"""``pourbench work heat-spent``: what heat has used up of a cup of plastic."""

from __future__ import annotations

import argparse
from functools import partial
from typing import TYPE_CHECKING

from bench.cli.output import celsius
from bench.cli.work_flags import (
    add_calculation,
    add_quantity,
    add_scorch,
    scorch_limit_c,
    scorch_warning,
    show,
)
from bench.errors import BenchError
from bench.physics.heat_spent import REFERENCE_C, minutes_at_160, spent_pct
from bench.units import Celsius, Seconds

if TYPE_CHECKING:
    from bench.cli.work_flags import PlasticNamed, Verbs


def add(verbs: Verbs, *, plastic_named: PlasticNamed) -> None:
    """Adds the calculation to ``work``."""
    about = "equivalent minutes at 160 degC; repeat --at and --for in pairs"
    parser = add_calculation(verbs, "heat-spent", partial(run, plastic_named=plastic_named), about=about)
    add_quantity(parser, "--at", Celsius, "temperature the plastic was held at", required=True, repeated=True)
    add_quantity(parser, "--for", Seconds, "how long it was held there", required=True, repeated=True)
    add_scorch(parser)


def run(args: argparse.Namespace, *, plastic_named: PlasticNamed) -> int:
    """Prints the count and the share of the limit; 0. Raises BenchError for flags that do not pair up."""
    temperatures_c, times_s = args.at, vars(args)["for"]
    if len(temperatures_c) != len(times_s):
        raise BenchError(
            f"--at and --for go in pairs: found {len(temperatures_c)} temperatures and {len(times_s)} times"
        )
    spent = sum(
        minutes_at_160(at_c=at_c, minutes=seconds / 60)
        for at_c, seconds in zip(temperatures_c, times_s, strict=True)
    )
    share_pct = spent_pct(equivalent_minutes=spent)
    plastic = plastic_named(args.plastic) if args.plastic else None
    warning = scorch_warning(max(temperatures_c), scorch_limit_c(args, plastic))
    return show(
        args,
        {"minutes_at_160": spent, "spent_pct": share_pct, "warning": warning},
        *([warning] if warning else []),
        f"As much as {spent:.0f} min at {celsius(REFERENCE_C)}: {share_pct:.0f} % of what is counted on.",
        "A rule of thumb: colour, smell and smoke decide."
        if warning is None
        else "That share does not make it sound: throw away what smells, smokes or has changed colour.",
    )
