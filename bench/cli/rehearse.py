"""``pourbench rehearse``: the same session as a pour, with cold hands and a fast clock."""

from __future__ import annotations

import argparse

from bench.cli.pour import PourRequest, add_job_options, add_moulds_option, requested
from bench.errors import quoted

SLOWEST, USUAL, FASTEST = 1.0, 20.0, 600.0
"""Bounds of the speed-up: slower than life teaches nothing, and beyond 600 no step can be read. At the usual speed
a quick hand can still shoot before its cup leaves the band."""


def speed(text: str) -> float:
    """The speed-up; argparse shows the sentence when it is out of bounds."""
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not SLOWEST <= value <= FASTEST:
        raise argparse.ArgumentTypeError(
            f"found {quoted(text)}, wanted a speed from {SLOWEST:g} to {FASTEST:g} times as fast"
        )
    return value


def add_rehearse_parser(verbs: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The verb ``rehearse``."""
    parser = verbs.add_parser(
        "rehearse",
        help="walk through the same steps without heat, faster than life",
        description="Opens the session as a rehearsal: nothing is heated, the clock runs fast, it is kept apart.",
    )
    add_job_options(parser)
    add_moulds_option(parser)
    parser.add_argument(
        "--speed",
        type=speed,
        default=USUAL,
        metavar="TIMES",
        help=f"seconds that pass in each real one, {SLOWEST:g} to {FASTEST:g} (default {USUAL:g})",
    )
    parser.set_defaults(request=_request)


def _request(arguments: argparse.Namespace) -> PourRequest:
    return requested(arguments, speed=arguments.speed)
