"""``pourbench calibrate``: the heater's power from a cup that was weighed, heated and read."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from bench.cli.output import celsius, duration, emit_json, emit_lines, wrapped
from bench.cli.shelf import library_for
from bench.cli.work_flags import add_quantity
from bench.errors import BenchError, UnitError
from bench.units import Celsius, Grams, HeatCapacity, Seconds, parse, unit_of

if TYPE_CHECKING:
    from datetime import date

    from bench.model.library import Library
    from bench.physics.calibrate import HeatingRun
    from bench.session.calibration import Rig
    from bench.session.measured import Measured
    from bench.store.paths import Home

    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]

_ABOUT = (
    "The heater's power, as a cup of yours takes it up: weigh the plastic in cold, read it, heat it for a counted "
    "time, stir, read it again. Give --mass, --start, --seconds and --end once for each run; a mass or a start "
    "that is the same for all may be given once. Without --save it only says what it would set."
)
_PLAIN_NUMBER = re.compile(r"\s*\d+(?:\.\d*)?\s*")


def add_calibrate_parser(subparsers: Verbs, *, home: Callable[[], Home], today: Callable[[], date]) -> None:
    """Adds the verb ``calibrate``. ``home`` finds the user's folder and ``today`` the day, once needed."""
    parser = subparsers.add_parser(
        "calibrate",
        help="the heater's power from a cup weighed, heated and read",
        description=_ABOUT,
        allow_abbrev=False,
    )
    add_quantity(parser, "--mass", Grams, "plastic in the cup, weighed cold", required=True, repeated=True)
    add_quantity(parser, "--start", Celsius, "what it read before", required=True, repeated=True)
    parser.add_argument(
        "--seconds",
        type=_seconds,
        required=True,
        action="append",
        metavar="120",
        help='how long the heat was on; "2 min" will do',
    )
    add_quantity(parser, "--end", Celsius, "what it read after, stirred", required=True, repeated=True)
    add_quantity(parser, "--vessel-mass", Grams, "the empty cup, where not the station's")
    add_quantity(parser, "--c", HeatCapacity, "specific heat of what is heated, where not the plastic's")
    parser.add_argument("--plastic", metavar="P", help="name of the plastic; the first on the shelf unless said")
    parser.add_argument("--station", metavar="S", help="name of a station, where not the one of your settings")
    parser.add_argument("--save", action="store_true", help="set it in your own copy of the station's profile")
    parser.add_argument(
        "--even-so",
        action="store_true",
        help="with --save: also what is far from the profile's, or less sure",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object, for programs")
    parser.set_defaults(run=lambda args: _run(args, home, today))


def today() -> date:
    """The day by this machine's clock."""
    from bench.clock import SystemClock

    return SystemClock().now().wall.date()


def _seconds(text: str) -> float:
    if _PLAIN_NUMBER.fullmatch(text):
        return float(text)
    unit = unit_of(Seconds)
    try:
        return parse(text, unit) if unit else float(text)
    except UnitError as error:
        raise BenchError(f"--seconds: {error}") from error


def _run(args: argparse.Namespace, home: Callable[[], Home], today: Callable[[], date]) -> int:
    from bench.session.calibration import rig_for
    from bench.session.measured import measured, source_words

    library = library_for(home(), [args.plastic, args.station])
    rig = _changed(rig_for(library, station=args.station, plastic=args.plastic), args)
    found = measured(rig, [_run_of(rig, library, *each) for each in _given(args)])
    saved: Path | None = None
    if args.save:
        if found.doubt and not args.even_so:
            raise BenchError(f"not saved: {found.doubt} Look at the figures; --even-so saves it all the same")
        from bench.store.stations import save_heater_power

        source = source_words(found, today().isoformat())
        saved = save_heater_power(home(), rig.station.name, power_w=found.power.power_w, source=source)
    if args.json:
        emit_json(_as_json(rig, found, saved))
    else:
        emit_lines(_as_lines(rig, library, found, saved, named=args.plastic is not None))
    return 0


def _changed(rig: Rig, args: argparse.Namespace) -> Rig:
    """The rig with the vessel's mass and the specific heat that the flags say."""
    station, plastic = rig.station, rig.plastic
    if args.vessel_mass is not None:
        station = replace(station, vessel=replace(station.vessel, mass_g=args.vessel_mass))
    if args.c is not None:
        plastic = replace(plastic, heat_capacity_j_kgk=args.c)
    return replace(rig, station=station, plastic=plastic)


def _given(args: argparse.Namespace) -> Iterator[tuple[float, float, float, float]]:
    """Mass, start, seconds and end of each run."""
    flags = {"--mass": args.mass, "--start": args.start, "--seconds": args.seconds, "--end": args.end}
    runs = max(len(values) for values in flags.values())
    for flag, values in flags.items():
        if len(values) != runs and not (len(values) == 1 and flag in ("--mass", "--start")):
            raise BenchError(f"{flag}: found {len(values)} for {runs} runs, wanted one for each run")
    masses, starts = (values * runs if len(values) == 1 else values for values in (args.mass, args.start))
    return zip(masses, starts, args.seconds, args.end, strict=True)


def _run_of(rig: Rig, library: Library, mass_g: float, start_c: float, seconds: float, end_c: float) -> HeatingRun:
    """The run. A reading over the scorch limit comes back with what to do.

    What a reading may have been instead is not guessed: its scale was written beside it.
    """
    from bench.session.calibration import Scorched, scorch_cautions

    try:
        return rig.run(mass_g=mass_g, start_c=start_c, seconds=seconds, end_c=end_c)
    except Scorched as error:
        said = [f"{error}.", *(caution.words for caution in scorch_cautions(library))]
        raise BenchError(" ".join(said)) from error


def _as_json(rig: Rig, found: Measured, saved: Path | None) -> dict[str, object]:
    runs = [
        {
            "mass_g": run.cup.mass_g,
            "start_c": run.start_c,
            "end_c": run.end_c,
            "seconds": run.seconds,
            "kept_w": run.kept_w,
            "absorbed_w": rig.power(run).power_w,
            "spread_w": rig.power(run).spread_w,
        }
        for run in found.runs
    ]
    return {
        "station": rig.station.name,
        "plastic": rig.plastic.name,
        "runs": runs,
        "absorbed_w": found.power.power_w,
        "spread_w": found.power.spread_w,
        "agree": found.power.agree,
        "profile_w": found.profile_w,
        "saved": None if saved is None else str(saved),
        "notes": list(found.notes),
        "doubt": found.doubt or None,
    }


def _as_lines(rig: Rig, library: Library, found: Measured, saved: Path | None, *, named: bool) -> Iterator[str]:
    from bench.session.calibration import heating_cautions

    for number, run in enumerate(found.runs, start=1):
        yield (
            f"Run {number}: {run.cup.mass_g:.0f} g from {celsius(run.start_c)} to {celsius(run.end_c)} "
            f"in {duration(run.seconds)}: {run.kept_w:.0f} W"
        )
    yield from _wrapped([_reckoned_for(rig, library, named=named)])
    vessel_g = rig.station.vessel.mass_g
    yield from _wrapped(
        [
            f"The power to go by: {found.power.power_w:.0f} W, give or take {found.power.spread_w:.0f} W, from "
            f"the room into the band. It differs from a run's own, since a hotter cup loses more to the room. It "
            f"warms plastic and cup together, here with a cup of {vessel_g:.0f} g: give work melt the same cup."
        ]
    )
    said = "said" if saved else "says"
    yield from _wrapped(
        [f"The profile {rig.station.name} {said} {found.profile_w:.0f} W. {_what_came(found, saved)}"]
    )
    yield ""
    yield from _wrapped([*found.notes, "Give or take: one kelvin a reading, one second for the time."])
    yield ""
    yield from _wrapped(["A cup on the heat:", *(caution.words for caution in heating_cautions(library))])


def _reckoned_for(rig: Rig, library: Library, *, named: bool) -> str:
    """The plastic that was taken, and which others there are where nobody chose it."""
    said = f"Reckoned for {rig.plastic.name}, {rig.plastic.heat_capacity_j_kgk:.0f} J/kg/K."
    others = sorted(set(library.plastics) - {rig.plastic.name})
    if named or not others:
        return said
    more = f", {others[0]} or another" if len(others) > 1 else f" {others[0]}"
    return f"{said} It is the first plastic on the shelf; if yours is{more}, say so with --plastic."


def _what_came(found: Measured, saved: Path | None) -> str:
    if saved is None:
        return f"Nothing is changed: add {'--save --even-so' if found.doubt else '--save'} to set it."
    return f"Your own copy now says {found.power.power_w:.0f} W: {saved}"


def _wrapped(sentences: Sequence[str]) -> Iterator[str]:
    for sentence in sentences:
        yield from wrapped(sentence)
