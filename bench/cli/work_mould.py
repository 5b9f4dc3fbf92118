"""``pourbench work mould``: how the mould warms from shot to shot."""

from __future__ import annotations

import argparse
import math
from typing import TYPE_CHECKING

from bench.cli.output import celsius, duration
from bench.cli.work_flags import add_calculation, add_quantity, show
from bench.errors import BenchError
from bench.physics.cooling import OPEN_C
from bench.physics.mould import BARE_LOSS_W_M2K, Block, beat_s, rounds_c, shot_heat_j, steady_c
from bench.physics.substance import ALUMINIUM_6061, SOFT_PLASTISOL
from bench.units import Celsius, Conductance, Grams, HeatCapacity, Seconds, SquareMetres

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs

MOST_ROUNDS = 1000

WARMEST_C = 60.0
"""Starting value of the window's upper end. Common practice, no source: 40 to 60 degC is a sensible start."""


def add(verbs: Verbs) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(verbs, "mould", run, about="temperature of the mould before each shot")
    add_quantity(parser, "--mould-mass", Grams, "mass of the mould", required=True)
    add_quantity(parser, "--mould-c", HeatCapacity, "specific heat of the mould", default=ALUMINIUM_6061.c_j_kgk)
    add_quantity(parser, "--shot-mass", Grams, "plastic in a shot", required=True)
    add_quantity(parser, "--shot", Celsius, "temperature of the plastic as it is shot", required=True)
    add_quantity(parser, "--mean-open", Celsius, "mean temperature of the baits on opening", required=True)
    add_quantity(parser, "--open", Celsius, "hottest point of the baits at which to open", default=OPEN_C)
    add_quantity(parser, "--cycle", Seconds, "time from shot to shot", required=True)
    parser.add_argument("--rounds", type=int, required=True, metavar="N", help="how many shots")
    add_quantity(parser, "--start", Celsius, "temperature of the mould before the first shot", required=True)
    add_quantity(parser, "--warmest", Celsius, "upper end of the mould's window", default=WARMEST_C)
    add_quantity(parser, "--room", Celsius, "temperature of the room", required=True)
    add_quantity(parser, "--area", SquareMetres, "outer area of the mould", required=True)
    add_quantity(parser, "--loss", Conductance, "loss of the mould to the room", default=BARE_LOSS_W_M2K)
    add_quantity(parser, "--c", HeatCapacity, "specific heat of the plastic", default=SOFT_PLASTISOL.c_j_kgk)


def run(args: argparse.Namespace) -> int:
    """Prints the temperature before each shot; 0. Raises BenchError as the physics does."""
    if not 1 <= args.rounds <= MOST_ROUNDS:
        raise BenchError(f"--rounds: found {args.rounds}, wanted a count from 1 to {MOST_ROUNDS}")
    block = Block(mass_g=args.mould_mass, area_m2=args.area, c_j_kgk=args.mould_c, loss_w_m2k=args.loss)
    heat_j = shot_heat_j(shot_mass_g=args.shot_mass, c_j_kgk=args.c, shot_c=args.shot, mean_open_c=args.mean_open)
    before_c = rounds_c(
        block, start_c=args.start, room_c=args.room, heat_j=heat_j, cycle_s=args.cycle, rounds=args.rounds
    )
    if not math.isfinite(before_c[-1]):
        raise ArithmeticError("a mould beyond all numbers")
    rounds = [{"round": number, "mould_c": each} for number, each in enumerate(before_c, start=1)]
    lines = [f"Before shot {each['round']:3}: {celsius(each['mould_c'])}" for each in rounds]
    warning = None
    if args.cycle > 0:
        settled_c = steady_c(block, room_c=args.room, heat_j=heat_j, cycle_s=args.cycle)
        lines.append(f"This rhythm settles at {celsius(settled_c)} before a shot.")
        warning = _never_sets(settled_c, args.open)
        lines += [warning] if warning else []
        lines += _window(args, block, heat_j, settled_c)
    lines.append("An estimate: a reading of the mould corrects it. Read a dark patch, bare metal reads low.")
    return show(args, {"rounds": rounds, "warning": warning}, *lines)


def _window(args: argparse.Namespace, block: Block, heat_j: float, settled_c: float) -> list[str]:
    """From which shot on the mould is over its window, and the beat that keeps it in; empty where it stays."""
    top_c = args.warmest
    before_c = rounds_c(
        block, start_c=args.start, room_c=args.room, heat_j=heat_j, cycle_s=args.cycle, rounds=MOST_ROUNDS
    )
    over = next((number for number, each in enumerate(before_c, start=1) if each > top_c), None)
    if settled_c <= top_c or over is None:
        return []
    first = f"Shot {over} is the first to meet it over {celsius(top_c)}, the upper end of its window."
    if top_c <= args.room:
        return [f"{first} A room of {celsius(args.room)} never cools it to that end."]
    beat = beat_s(block, room_c=args.room, heat_j=heat_j, most_c=top_c)
    return [f"{first} With {duration(beat)} from shot to shot it stays at or below {celsius(top_c)}."]


def _never_sets(settled_c: float, open_c: float) -> str | None:
    if settled_c < open_c:
        return None
    return (
        f"A mould at {celsius(settled_c)} is not below {celsius(open_c)}, at which baits open: in it they never "
        f"set. Wait longer between shots, or cool the mould."
    )
