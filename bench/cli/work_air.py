"""``pourbench work air``: how long the fan must run once the heat is off."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from bench.cli.output import duration
from bench.cli.work_flags import add_calculation, add_quantity, show
from bench.errors import BenchError
from bench.physics.air import STILL_CORNERS, air_changes_per_h, minutes_to_clear
from bench.units import CubicMetres, CubicMetresPerHour, Percent

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs

NOTE = (
    "An aid to tell when the fan has run long enough after the heat is off. "
    "It is not a claim that the air is safe: follow local codes and ask a licensed professional."
)


def add(verbs: Verbs) -> None:
    """Adds the calculation to ``work``."""
    parser = add_calculation(verbs, "air", run, about="minutes to clear a room, no source still running")
    add_quantity(parser, "--room", CubicMetres, "volume of the room")
    add_quantity(parser, "--fan", CubicMetresPerHour, "flow that the fan draws out of the room")
    parser.add_argument("--ach", type=float, metavar="N", help="air changes an hour, instead of --room and --fan")
    add_quantity(parser, "--left", Percent, "share still left in the air at the end", default=1.0)
    parser.add_argument(
        "--mixing",
        type=float,
        default=STILL_CORNERS,
        metavar="N",
        help=f"1 for perfect mixing, 3 to 10 for a room with still corners ({STILL_CORNERS:g} unless said)",
    )


def run(args: argparse.Namespace) -> int:
    """Prints air changes and minutes; 0. Raises BenchError when neither way to the air changes is complete."""
    ach = _air_changes(args)
    minutes = minutes_to_clear(ach=ach, share_left=args.left / 100, mixing=args.mixing)
    return show(
        args,
        {"ach": ach, "minutes": minutes, "mixing": args.mixing, "note": NOTE},
        f"{ach:.1f} air changes an hour: {duration(60 * minutes)} until {args.left:g} % is left.",
        _mixing_words(args.mixing, minutes),
        NOTE,
    )


def _mixing_words(mixing: float, minutes: float) -> str:
    if mixing == 1:
        return (
            "That is for perfect mixing. Air that mixes badly takes 3 to 10 times as long: say so with --mixing."
        )
    return (
        f"Counted with a mixing factor of {mixing:g}; perfect mixing, which no room has, would take "
        f"{duration(60 * minutes / mixing)}. --mixing takes another factor."
    )


def _air_changes(args: argparse.Namespace) -> float:
    pair = (args.room, args.fan)
    if args.ach is not None and pair == (None, None):
        return float(args.ach)
    if args.ach is None and None not in pair:
        return air_changes_per_h(room_m3=args.room, fan_m3_h=args.fan)
    raise BenchError("give --room and --fan together, or --ach alone")
