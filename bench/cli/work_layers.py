"""``pourbench work layers``: what a layer of colour reflects over something."""

from __future__ import annotations

import argparse
import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from bench.cli.work_flags import add_calculation, add_quantity, show
from bench.colour.layers import reflectance, reflectance_infinite, transmittance
from bench.errors import BenchError, quoted
from bench.units import Millimetres, PerMillimetre, parse, unit_of

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs


def add(verbs: Verbs) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(verbs, "layers", run, about="reflectance of a layer of colour over a backing")
    parser.add_argument("--k", type=_per_mm("--k"), required=True, metavar="K", help="absorption per mm")
    parser.add_argument("--s", type=_per_mm("--s"), required=True, metavar="S", help="scattering per mm")
    add_quantity(parser, "--thickness", Millimetres, "thickness of the layer", required=True)
    parser.add_argument(
        "--backing", type=_share, required=True, metavar="R", help="reflectance of what lies behind, 0 to 1"
    )


def _per_mm(flag: str) -> Callable[[str], float]:
    """A coefficient: a plain number is per mm, as the flag says."""
    unit = unit_of(PerMillimetre)
    assert unit is not None, "a coefficient carries its unit"

    def read(text: str) -> float:
        try:
            return parse(f"{text} {unit.symbol}" if _is_number(text) else text, unit)
        except BenchError as error:
            raise BenchError(f"{flag}: {error}") from error

    return read


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _share(text: str) -> float:
    """A reflectance, "0.8" or "80 %"."""
    number = text.strip().removesuffix("%")
    try:
        value = float(number) / (100 if number != text.strip() else 1)
    except ValueError:
        value = math.nan
    if not 0 <= value <= 1:
        raise BenchError(f"--backing: found {quoted(text)}, wanted a reflectance from 0 to 1, or 0 to 100 %")
    return value


def run(args: argparse.Namespace) -> int:
    """Prints what comes back and what goes through; 0."""
    r = reflectance(k_per_mm=args.k, s_per_mm=args.s, thickness_mm=args.thickness, backing=args.backing)
    deep = reflectance_infinite(k_per_mm=args.k, s_per_mm=args.s)
    through = transmittance(k_per_mm=args.k, s_per_mm=args.s, thickness_mm=args.thickness)
    return show(
        args,
        {"r": r, "r_infinite": deep, "transmitted": through},
        f"Over that backing it reflects {100 * r:.1f} %.",
        f"Too thick to see through it would reflect {100 * deep:.1f} %.",
        f"It lets {100 * through:.1f} % through.",
        "Inside the plastic: what is seen from outside has passed the surface as well.",
    )
