"""The option that says where the user's own files are, read before everything else."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bench.store.paths import Home


def add_home_option(parser: argparse.ArgumentParser, where: str = "") -> None:
    """The option itself; ``where`` says in its help what the folder is without it."""
    parser.add_argument(
        "--home",
        metavar="PATH",
        help=f"folder of your profiles, sessions and settings{where} (or set POURBENCH_HOME)",
    )


def home_of(argv: Sequence[str]) -> Home:
    """The user's folder, whatever else the command line says."""
    from bench.store.paths import find_home

    return find_home(_read(argv)[0], os.environ)


def asks_for_nothing(argv: Sequence[str]) -> bool:
    """Whether the command line says nothing but where home is: then the bench opens, and no verb is loaded."""
    return not without_home(argv)


def without_home(argv: Sequence[str]) -> list[str]:
    """The command line without where home is."""
    return _read(argv)[1]


def _read(argv: Sequence[str]) -> tuple[str | None, list[str]]:
    early = argparse.ArgumentParser(add_help=False, allow_abbrev=False, exit_on_error=False)
    add_home_option(early)
    try:
        found, rest = early.parse_known_args(argv)
    except argparse.ArgumentError:
        # The whole parser says what is wrong with it.
        return None, list(argv)
    return found.home, rest
