"""``pourbench work cooling``: how long to hold the plunger and when to open the mould."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from functools import partial
from typing import TYPE_CHECKING

from bench.cli.output import celsius, duration
from bench.cli.work_flags import add_calculation, add_plastic, add_quantity, add_rod, plastic_from, rod_from, show
from bench.errors import BenchError
from bench.physics.cooling import (
    GEL_C,
    OPEN_C,
    WALL_CONDUCTANCE_W_M2K,
    Cooling,
    Section,
    cool_core,
    cool_shell,
    cool_solid,
)
from bench.physics.substance import SOFT_PLASTISOL, STAINLESS, Substance
from bench.units import Celsius, Conductance, Millimetres

if TYPE_CHECKING:
    from bench.cli.work_flags import PlasticNamed, Verbs

SHOWN = ("hold_s", "body_s", "tail_s", "set_s", "mean_c")


def add(verbs: Verbs, *, plastic_named: PlasticNamed) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(
        verbs, "cooling", partial(run, plastic_named=plastic_named), about="hold and set times of a shot"
    )
    add_quantity(parser, "--body", Millimetres, "thickest diameter of the body", required=True)
    add_quantity(parser, "--rod", Millimetres, "diameter of the rod: shell round a rod, or core with --core")
    add_rod(parser)
    parser.add_argument("--core", action="store_true", help="the shot is the core inside its shell")
    add_quantity(parser, "--shell-temp", Celsius, "temperature of the shell when the core is shot")
    add_quantity(parser, "--tail", Millimetres, "thickness of the tail, when it is part of the shot")
    add_quantity(parser, "--gate", Millimetres, "diameter of the gate", required=True)
    add_quantity(parser, "--shot", Celsius, "temperature of the plastic as it is shot", required=True)
    add_quantity(parser, "--mould-temp", Celsius, "temperature of the mould", required=True)
    add_quantity(parser, "--open", Celsius, "hottest point at which to open", default=OPEN_C)
    add_quantity(parser, "--gel", Celsius, "gel point", default=GEL_C)
    add_quantity(
        parser,
        "--wall-conductance",
        Conductance,
        "conductance from plastic to mould",
        default=WALL_CONDUCTANCE_W_M2K,
    )
    parser.add_argument("--plastic", metavar="NAME", help="take k, rho and c from this profile where not said")
    add_plastic(parser)


def run(args: argparse.Namespace, *, plastic_named: PlasticNamed) -> int:
    """Prints the times; 0. Raises BenchError as the physics does."""
    base = plastic_named(args.plastic).substance if args.plastic else SOFT_PLASTISOL
    cooling = _cool(args, plastic_from(args, base))
    data = {key: value for key, value in asdict(cooling).items() if key in SHOWN}
    tail = "" if cooling.tail_s is None else f", tail {duration(cooling.tail_s)}"
    return show(
        args,
        data,
        f"Hold the plunger for {duration(cooling.hold_s)}, until the gate has gelled.",
        f"Open after {duration(cooling.set_s)} (body {duration(cooling.body_s)}{tail}).",
        f"The body is then at {celsius(cooling.mean_c)} on average.",
        "An estimate: correct it by what the first baits show.",
    )


def _cool(args: argparse.Namespace, plastic: Substance) -> Cooling:
    section = Section(
        body_mm=args.body, rod_mm=args.rod, rod=rod_from(args, STAINLESS), tail_mm=args.tail, gate_mm=args.gate
    )
    if args.core:
        if args.rod is None or args.shell_temp is None:
            raise BenchError("--core needs --rod, the diameter of the core, and --shell-temp")
        return cool_core(
            section,
            plastic,
            shot_c=args.shot,
            shell_c=args.shell_temp,
            mould_c=args.mould_temp,
            open_c=args.open,
            gel_c=args.gel,
            wall_conductance_w_m2k=args.wall_conductance,
        )
    if args.shell_temp is not None:
        raise BenchError("--shell-temp is for a core in its shell: add --core")
    cool = cool_solid if args.rod is None else cool_shell
    return cool(
        section,
        plastic,
        shot_c=args.shot,
        mould_c=args.mould_temp,
        open_c=args.open,
        gel_c=args.gel,
        wall_conductance_w_m2k=args.wall_conductance,
    )
