"""The command line: every verb and option, in plain argparse, so that --help never waits for anything heavy."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from bench.cli.home import add_home_option, without_home

if TYPE_CHECKING:
    from bench.cli.distance import Draw
    from bench.model.library import Library
    from bench.model.recipe import Recipe
    from bench.store.paths import Home

    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]

_DESCRIPTION = (
    "Plans amounts and times for hand-injected soft plastic baits and walks you through the pour. "
    "Without a verb it opens the bench on this terminal."
)
_ENDING = (
    "Figures are estimates: a thermometer and your own eyes decide. "
    "Exit codes: 0 fine, 1 something to put right in what was asked or in a file, 2 wrong usage, "
    "3 a defect of the program."
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Outside:
    """What verbs need from outside: ``home`` finds the user's folder, ``draw`` draws figures as screens do."""

    home: Callable[[], Home]
    draw: Draw

    def library(self, names: Sequence[str | None]) -> Library:
        """The profiles, those of these names among them or a BenchError."""
        from bench.cli.shelf import library_for

        return library_for(self.home(), names)


def build_parser(home: Callable[[], Home], *, draw: Draw, argv: Sequence[str] = ()) -> argparse.ArgumentParser:
    """The command line: of the verb alone that ``argv`` begins with, else the whole of it.

    ``home`` finds the user's folder, once a verb needs it; ``draw`` gives figures as the screen draws them. A verb
    that prints sets ``run``, a function from the parsed arguments to the exit code. A verb that opens the screen
    sets ``request`` instead, a function from the parsed arguments to a ``bench.cli.pour.PourRequest`` or a
    ``bench.cli.pedal.PedalRequest``. Without a verb both are None.
    """
    parser = argparse.ArgumentParser(
        prog="pourbench", description=_DESCRIPTION, epilog=_ENDING, allow_abbrev=False
    )
    parser.set_defaults(run=None, request=None)
    parser.add_argument("--version", action="store_true", help="print the version and end")
    add_home_option(parser, where=f", {home().root} as things are".replace("%", "%%"))
    verbs = parser.add_subparsers(title="verbs", metavar="VERB")
    outside = Outside(home=home, draw=draw)
    wanted = without_home(argv)[:1]
    for name in wanted if wanted and wanted[0] in _VERBS else _VERBS:
        _VERBS[name](verbs, outside)
    return parser


# Each verb is loaded by its own function: one verb never waits for what the others import.


def _pour(verbs: Verbs, _: Outside) -> None:
    from bench.cli.pour import add_pour_parser

    add_pour_parser(verbs)


def _rehearse(verbs: Verbs, _: Outside) -> None:
    from bench.cli.rehearse import add_rehearse_parser

    add_rehearse_parser(verbs)


def _plan(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.plan import add_plan_parser

    def last_time(recipe: Recipe, mould_title: str) -> tuple[str, ...]:
        from bench.store.last_time import last_time_lines

        return last_time_lines(outside.home(), recipe, mould_title)

    add_plan_parser(
        verbs,
        library=lambda given: outside.library([given.recipe, given.mould, given.station]),
        last_time=last_time,
    )


def _look(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.look import add_look_parser

    add_look_parser(verbs, library=lambda given: outside.library([given.recipe, given.mould, given.station]))


def _cores(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.cores import add_cores_parser

    add_cores_parser(verbs, library=lambda given: outside.library([given.recipe, given.mould]))


def _match(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.match import add_match_parser, named_in

    add_match_parser(verbs, library=lambda given: outside.library(named_in(given)))


def _work(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.shelf import plastic_named
    from bench.cli.work import add_work_parser

    add_work_parser(verbs, plastic_named=lambda name: plastic_named(outside.home(), name))


def _calibrate(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.calibrate import add_calibrate_parser, today

    add_calibrate_parser(verbs, home=outside.home, today=today)


def _log(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.log import add_log_parser

    add_log_parser(verbs, home=outside.home)


def _check(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.check import add_check_parser

    add_check_parser(verbs, home=outside.home)


def _pedal(verbs: Verbs, _: Outside) -> None:
    from bench.cli.pedal import add_pedal_parser

    add_pedal_parser(verbs)


def _sound_check(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.shelf import settings_in
    from bench.cli.sound_check import add_sound_check_parser

    add_sound_check_parser(
        verbs, settings=lambda: settings_in(outside.home()), sounds=lambda: outside.home().sounds
    )


def _distance(verbs: Verbs, outside: Outside) -> None:
    from bench.cli.distance import add_distance_parser
    from bench.cli.shelf import settings_in

    add_distance_parser(verbs, settings=lambda: settings_in(outside.home()), draw=outside.draw)


_VERBS: Mapping[str, Callable[[Verbs, Outside], None]] = {
    "pour": _pour,
    "rehearse": _rehearse,
    "plan": _plan,
    "look": _look,
    "cores": _cores,
    "match": _match,
    "work": _work,
    "calibrate": _calibrate,
    "log": _log,
    "check": _check,
    "pedal": _pedal,
    "sound-check": _sound_check,
    "distance": _distance,
}
"""Every verb by its word, in the order of the help."""
