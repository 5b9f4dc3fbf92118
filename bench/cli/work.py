"""``pourbench work``: one calculation from figures on the command line."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from bench.cli import (
    work_air,
    work_cooling,
    work_cup,
    work_drops,
    work_fill,
    work_flake,
    work_heat_spent,
    work_layers,
    work_melt,
    work_mould,
    work_touch,
)

if TYPE_CHECKING:
    from bench.cli.work_flags import PlasticNamed, Verbs


def add_work_parser(subparsers: Verbs, *, plastic_named: PlasticNamed) -> None:
    """Adds the verb ``work`` and its calculations.

    ``plastic_named`` finds a plastic on the shelf, or raises BenchError. The handler of the chosen
    calculation stands in ``args.run``: it takes the namespace, prints, and gives the exit code. Already reading
    the command line raises BenchError for a quantity that cannot be read.
    """
    about = "one calculation from figures on the command line"
    work = subparsers.add_parser("work", help=about, description=about, allow_abbrev=False)
    verbs = work.add_subparsers(dest="calculation", required=True, metavar="CALCULATION")
    for add in (
        partial(work_cooling.add, plastic_named=plastic_named),
        work_cup.add,
        partial(work_melt.add, plastic_named=plastic_named),
        work_mould.add,
        work_fill.add,
        work_touch.add,
        partial(work_heat_spent.add, plastic_named=plastic_named),
        work_air.add,
        work_layers.add,
        work_flake.add,
        work_drops.add,
    ):
        add(verbs)
