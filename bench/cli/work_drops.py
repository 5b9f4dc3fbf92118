"""``pourbench work drops``: the mass of a drop, and a dose in %, grams, drops and spoons."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from bench.cli.work_flags import add_calculation, add_quantity, show
from bench.colour.doses import STARTING_DROP_G, Spoon, drop_g, drops, grams, grams_of_drops, load_pct, spoons
from bench.errors import BenchError
from bench.units import Density, Grams, Percent, figure

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs


def add(verbs: Verbs) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(verbs, "drops", run, about="the mass of a drop, and a dose in every measure")
    add_quantity(parser, "--weighed", Grams, "some drops weighed together, best twenty")
    parser.add_argument("--drops", type=int, metavar="N", help="how many drops were weighed, 20 unless said")
    add_quantity(parser, "--drop", Grams, "the mass of one drop, where it is known")
    add_quantity(parser, "--cup", Grams, "the whole cup, colour included: reckons a dose for it")
    dose = parser.add_mutually_exclusive_group()
    add_quantity(dose, "--load", Percent, "the dose as a share of the cup")
    add_quantity(dose, "--grams", Grams, "the dose as a mass")
    dose.add_argument("--count", type=float, metavar="N", help="the dose as drops")
    add_quantity(parser, "--rho", Density, "how the colour lies in a spoon, air included: tells spoons as well")


def run(args: argparse.Namespace) -> int:
    """Prints the drop and, with a cup, the dose; 0. Raises BenchError for flags that do not go together."""
    one_g, whence = _one_drop_g(args)
    data: dict[str, object] = {"drop_g": one_g}
    lines = [f"One drop is {one_g:.4f} g, {whence}: {1 / one_g:.0f} to the gram."]
    dose_g = _dose_g(args, one_g)
    if dose_g is not None:
        data |= {
            "load_pct": load_pct(dose_g, cup_g=args.cup),
            "g": dose_g,
            "drops": drops(dose_g, one_drop_g=one_g),
        }
        lines.append(
            f"{data['load_pct']:.3g} % of {figure(args.cup)} g is {dose_g:.3f} g, about {data['drops']:.0f} drops."
        )
    if dose_g is not None and args.rho is not None:
        measures = {spoon: spoons(dose_g, spoon=spoon, bulk_g_ml=args.rho / 1000) for spoon in Spoon}
        data |= {f"{spoon.value.replace(' ', '_')}s": number for spoon, number in measures.items()}
        lines.append(f"That is {measures[Spoon.TEASPOON]:.3f} level US teaspoons.")
    return show(args, data, *lines, "Weigh first: drops and spoons are hints.")


def _one_drop_g(args: argparse.Namespace) -> tuple[float, str]:
    """The mass of a drop and where it comes from."""
    if args.weighed is not None:
        if args.drop is not None:
            raise BenchError("--weighed and --drop both say what a drop weighs: give one of them")
        number = 20 if args.drops is None else args.drops
        return drop_g(weighed_g=args.weighed, drops=number), f"from {number} weighed together"
    if args.drops is not None:
        raise BenchError("--drops says how many were weighed: give --weighed with it")
    if args.drop is not None:
        return args.drop, "as you say"
    return STARTING_DROP_G, "a starting value until you weigh twenty"


def _dose_g(args: argparse.Namespace, one_g: float) -> float | None:
    """The dose that was asked for, g; None without one."""
    asked = [each for each in (args.load, args.grams, args.count) if each is not None]
    if not asked and args.cup is None:
        if args.rho is not None:
            raise BenchError("--rho tells spoons of a dose: give --cup with --load, --grams or --count")
        return None
    if not asked or args.cup is None:
        raise BenchError("a dose is a share of a cup: give --cup with one of --load, --grams and --count")
    if args.load is not None:
        return grams(args.load, cup_g=args.cup)
    if args.grams is not None:
        found: float = args.grams
        return found
    if not args.count > 0:
        raise BenchError(f"--count: found {args.count:g}; give more than 0 drops")
    return grams_of_drops(args.count, one_drop_g=one_g)
