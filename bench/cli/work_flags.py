"""Flags that take a quantity with its unit, shared by the calculations of ``pourbench work``."""

from __future__ import annotations

import argparse
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from bench.cli.output import celsius, emit_json, emit_lines
from bench.errors import BenchError, UnitError, reckonable
from bench.physics.cup import Cup
from bench.physics.substance import SOFT_PLASTISOL, Substance
from bench.units import Celsius, Conductivity, Density, Grams, HeatCapacity, Unit, parse, unit_of, written

if TYPE_CHECKING:
    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]

SCORCH_C = 190.0
"""Starting value, where no profile says another, the same as in the shipped plastics. No safe limit: unstabilised
PVC starts to break down at 160 degC or more. Common practice, no source."""

Run = Callable[[argparse.Namespace], int]


@dataclass(frozen=True, kw_only=True, slots=True)
class ShelfPlastic:
    """What a calculation takes of a plastic's profile."""

    substance: Substance
    scorch_c: float


PlasticNamed = Callable[[str], ShelfPlastic]
"""Finds a plastic on the shelf by its name; raises BenchError where there is none."""


def add_calculation(verbs: Verbs, name: str, run: Run, *, about: str) -> argparse.ArgumentParser:
    """A parser for one calculation, with ``--json`` and its handler; flags are never guessed from a prefix."""
    parser = verbs.add_parser(name, help=about, description=about, allow_abbrev=False)
    parser.add_argument("--json", action="store_true", help="print one JSON object, for programs")
    parser.set_defaults(run=partial(_reckon, run))
    return parser


def _reckon(run: Run, args: argparse.Namespace) -> int:
    with reckonable():
        return run(args)


def add_quantity(
    parser: argparse._ActionsContainer,
    flag: str,
    kind: object,
    about: str,
    *,
    required: bool = False,
    default: float | None = None,
    repeated: bool = False,
) -> None:
    """A flag for a quantity of ``kind``, one of the annotated types of ``bench.units``.

    Its value is the plain number inside, under the flag's name. A bare number, an unknown unit or one of another
    dimension raises BenchError, which names the flag, while the command line is read.
    """
    unit = unit_of(kind)
    if unit is None:
        raise ValueError(f"{flag} needs a type that carries its unit")
    words = about if default is None else f"{about} (starting value {written(default, unit)})"
    parser.add_argument(
        flag,
        type=_reader(flag, unit),
        required=required,
        default=default,
        action="append" if repeated else "store",
        metavar=f'"{unit.example}"',
        help=words.replace("%", "%%"),
    )


def _reader(flag: str, unit: Unit) -> Callable[[str], float]:
    def read(text: str) -> float:
        try:
            return parse(text, unit)
        except UnitError as error:
            raise BenchError(f"{flag}: {error}") from error

    return read


def add_plastic(parser: argparse.ArgumentParser) -> None:
    """``--k``, ``--rho`` and ``--c`` of the plastic; what is not given stays at its starting value."""
    add_quantity(parser, "--k", Conductivity, "thermal conductivity of the plastic")
    add_quantity(parser, "--rho", Density, "density of the plastic")
    add_quantity(parser, "--c", HeatCapacity, "specific heat of the plastic")


def plastic_from(args: argparse.Namespace, base: Substance = SOFT_PLASTISOL) -> Substance:
    """The plastic that the flags say, on top of ``base``."""
    return _substance(base, args.k, args.rho, args.c)


def add_rod(parser: argparse.ArgumentParser) -> None:
    """``--rod-k``, ``--rod-rho`` and ``--rod-c``."""
    add_quantity(parser, "--rod-k", Conductivity, "thermal conductivity of the rod, stainless steel unless said")
    add_quantity(parser, "--rod-rho", Density, "density of the rod")
    add_quantity(parser, "--rod-c", HeatCapacity, "specific heat of the rod")


def rod_from(args: argparse.Namespace, base: Substance) -> Substance:
    """The rod's metal that the flags say, on top of ``base``."""
    return _substance(base, args.rod_k, args.rod_rho, args.rod_c)


def _substance(base: Substance, k: float | None, rho: float | None, c: float | None) -> Substance:
    return Substance(
        k_w_mk=base.k_w_mk if k is None else k,
        rho_kg_m3=base.rho_kg_m3 if rho is None else rho,
        c_j_kgk=base.c_j_kgk if c is None else c,
    )


def add_filled_cup(parser: argparse.ArgumentParser) -> None:
    """``--mass`` and ``--c`` of the plastic, ``--vessel-mass`` and ``--vessel-c`` of the cup."""
    add_quantity(parser, "--mass", Grams, "plastic in the cup", required=True)
    about = f"specific heat of the plastic (starting value {SOFT_PLASTISOL.c_j_kgk:g} J/kg/K)"
    add_quantity(parser, "--c", HeatCapacity, about)
    add_quantity(parser, "--vessel-mass", Grams, "mass of the empty cup")
    add_quantity(parser, "--vessel-c", HeatCapacity, "specific heat of the cup")


def cup_from(
    args: argparse.Namespace, *, diameter_mm: float, height_mm: float, plastic: Substance = SOFT_PLASTISOL
) -> Cup:
    """The cup that the flags say, of that plastic but for what they say of it. Raises BenchError for half a
    vessel."""
    if (args.vessel_mass is None) != (args.vessel_c is None):
        raise BenchError("--vessel-mass and --vessel-c go together: give both or none")
    return Cup(
        mass_g=args.mass,
        c_j_kgk=plastic.c_j_kgk if args.c is None else args.c,
        diameter_mm=diameter_mm,
        height_mm=height_mm,
        vessel_mass_g=args.vessel_mass or 0.0,
        vessel_c_j_kgk=args.vessel_c or 0.0,
    )


def add_scorch(parser: argparse.ArgumentParser) -> None:
    """``--plastic`` and ``--scorch``, the limit from which on is warned."""
    parser.add_argument("--plastic", metavar="NAME", help="a plastic on the shelf, for its scorch limit and heat")
    limit = f"scorch limit of the plastic (its profile's, or else the starting value {SCORCH_C:g} degC)"
    add_quantity(parser, "--scorch", Celsius, limit)


def scorch_limit_c(args: argparse.Namespace, plastic: ShelfPlastic | None) -> float:
    """The limit that the flags say, or the profile, or the starting value."""
    if args.scorch is not None:
        return float(args.scorch)
    return SCORCH_C if plastic is None else plastic.scorch_c


def scorch_warning(temp_c: float, scorch_c: float) -> str | None:
    """What to say of a temperature at the scorch limit or over it; None below it, which does not make it safe."""
    if temp_c < scorch_c:
        return None
    over = "over" if temp_c > scorch_c else "at"
    return (
        f"STOP: {celsius(temp_c)} is {over} the scorch limit, {celsius(scorch_c)}. Do not heat plastic there: "
        "it breaks down, smokes and gives off hydrogen chloride."
    )


def show(args: argparse.Namespace, data: Mapping[str, object], *lines: str) -> int:
    """The result as asked for: the object for programs or the lines for people. Gives the exit code.

    Raises ArithmeticError when a figure among the results is no number.
    """
    if not all(math.isfinite(value) for value in data.values() if isinstance(value, float)):
        raise ArithmeticError("a result beyond all numbers")
    if args.json:
        emit_json(data)
    else:
        emit_lines(lines)
    return 0
