"""``pourbench work fill``: whether the thinnest passage stays open while the plastic flows."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from typing import TYPE_CHECKING

from bench.cli.output import celsius
from bench.cli.work_flags import add_calculation, add_plastic, add_quantity, plastic_from, show
from bench.physics.cooling import GEL_C
from bench.physics.filling import Filling, will_fill
from bench.units import Celsius, Millimetres, Seconds

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs

SHOWN = ("skin_mm", "open_fraction", "contact_c", "coldest_mould_c")


def add(verbs: Verbs) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(verbs, "fill", run, about="skin on the wall of an aluminium mould while it fills")
    add_quantity(parser, "--passage", Millimetres, "thinnest passage the plastic must pass", required=True)
    add_quantity(parser, "--fill-time", Seconds, "how long the shot takes", required=True)
    add_quantity(parser, "--shot", Celsius, "temperature of the plastic as it is shot", required=True)
    add_quantity(parser, "--mould-temp", Celsius, "temperature of the mould", required=True)
    add_quantity(parser, "--gel", Celsius, "gel point", default=GEL_C)
    add_plastic(parser)


def run(args: argparse.Namespace) -> int:
    """Prints the skin and what it leaves open; 0. Raises BenchError as the physics does."""
    filling = will_fill(
        plastic_from(args),
        passage_mm=args.passage,
        fill_s=args.fill_time,
        shot_c=args.shot,
        mould_c=args.mould_temp,
        gel_c=args.gel,
    )
    data = {key: value for key, value in asdict(filling).items() if key in SHOWN}
    return show(
        args,
        data,
        f"A skin of {filling.skin_mm:.2f} mm leaves {100 * filling.open_fraction:.0f} % of the passage open.",
        "That should fill."
        if filling.fills
        else "Less than half: expect short tails. Warm the mould or shoot faster.",
        _coldest(filling),
        f"The wall is at {celsius(filling.contact_c)} where it meets the plastic.",
        "An estimate: the first shots tell.",
    )


def _coldest(filling: Filling) -> str:
    # No mould is below freezing before a shot: there is nothing to warm it to.
    if filling.coldest_mould_c is None or filling.coldest_mould_c < 0:
        return "Any mould will do: none is too cold for this passage."
    return f"Coldest mould that leaves half of it open: {celsius(filling.coldest_mould_c)}."
