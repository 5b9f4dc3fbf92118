"""The command line: every verb and option, in plain argparse, so that --help never waits for anything heavy."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING

from bench.cli.calibrate import add_calibrate_parser, today
from bench.cli.check import add_check_parser
from bench.cli.cores import add_cores_parser
from bench.cli.distance import Draw, add_distance_parser
from bench.cli.home import add_home_option
from bench.cli.log import add_log_parser
from bench.cli.look import add_look_parser
from bench.cli.match import add_match_parser, named_in
from bench.cli.pedal import add_pedal_parser
from bench.cli.plan import add_plan_parser
from bench.cli.pour import add_pour_parser
from bench.cli.rehearse import add_rehearse_parser
from bench.cli.shelf import library_for, plastic_named, settings_in
from bench.cli.sound_check import add_sound_check_parser
from bench.cli.work import add_work_parser

if TYPE_CHECKING:
    from bench.store.paths import Home

_DESCRIPTION = (
    "Plans amounts and times for hand-injected soft plastic baits and walks you through the pour. "
    "Without a verb it opens the bench on this terminal."
)
_ENDING = (
    "Figures are estimates: a thermometer and your own eyes decide. "
    "Exit codes: 0 fine, 1 something to put right in what was asked or in a file, 2 wrong usage, "
    "3 a defect of the program."
)


def build_parser(home: Callable[[], Home], *, draw: Draw) -> argparse.ArgumentParser:
    """The whole command line. ``home`` finds the user's folder, once a verb needs it; ``draw`` gives figures
    as the screen draws them.

    A verb that prints sets ``run``, a function from the parsed arguments to the exit code. A verb that opens the
    screen sets ``request`` instead, a function from the parsed arguments to a ``bench.cli.pour.PourRequest``
    or a ``bench.cli.pedal.PedalRequest``. Without a verb both are None.
    """
    parser = argparse.ArgumentParser(
        prog="pourbench", description=_DESCRIPTION, epilog=_ENDING, allow_abbrev=False
    )
    parser.set_defaults(run=None, request=None)
    parser.add_argument("--version", action="store_true", help="print the version and end")
    add_home_option(parser, where=f", {home().root} as things are".replace("%", "%%"))
    verbs = parser.add_subparsers(title="verbs", metavar="VERB")
    add_pour_parser(verbs)
    add_rehearse_parser(verbs)
    add_plan_parser(
        verbs,
        library=lambda arguments: library_for(home(), [arguments.recipe, arguments.mould, arguments.station]),
    )
    add_look_parser(
        verbs,
        library=lambda arguments: library_for(home(), [arguments.recipe, arguments.mould, arguments.station]),
    )
    add_cores_parser(verbs, library=lambda arguments: library_for(home(), [arguments.recipe, arguments.mould]))
    add_match_parser(verbs, library=lambda arguments: library_for(home(), named_in(arguments)))
    add_work_parser(verbs, plastic_named=lambda name: plastic_named(home(), name))
    add_calibrate_parser(verbs, home=home, today=today)
    add_log_parser(verbs, home=home)
    add_check_parser(verbs, home=home)
    add_pedal_parser(verbs)
    add_sound_check_parser(verbs, settings=lambda: settings_in(home()), sounds=lambda: home().sounds)
    add_distance_parser(verbs, settings=lambda: settings_in(home()), draw=draw)
    return parser
