"""What the verbs take from the shelf."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from bench.errors import Fault, FaultyFiles

if TYPE_CHECKING:
    from bench.cli.pour import PourRequest
    from bench.cli.work_flags import ShelfPlastic
    from bench.model.library import Library
    from bench.model.settings import Settings, UnitSystem
    from bench.session.session import Session
    from bench.store.paths import Home


def library_for(home: Home, names: Iterable[str | None]) -> Library:
    """The shelf, for a job that speaks of these profiles.

    Files that do not load are left aside unless one of them is named, by the job or by a profile of it: then its
    faults are raised, as FaultyFiles, rather than the news that no such profile exists. The settings are part of
    every job: units or a station other than the maker's would be worse than none.
    """
    from bench.store.shelf import load_library

    library, faults = load_library(home)
    meant = _of_files(faults, {home.settings.stem, library.settings.station, *names})
    if meant:
        behind = _of_files(faults, {fault.found.strip('"') for fault in meant})
        raise FaultyFiles([*behind, *(fault for fault in meant if fault not in behind)])
    return library


def _of_files(faults: Iterable[Fault], stems: Collection[str | None]) -> list[Fault]:
    return [fault for fault in faults if Path(fault.file).stem in stems]


def settings_in(home: Home) -> Settings:
    """The user's settings; FaultyFiles where their file does not load."""
    from bench.store.shelf import load_library

    library, faults = load_library(home)
    meant = _of_files(faults, {home.settings.stem})
    if meant:
        raise FaultyFiles(meant)
    return library.settings


def units_in(home: Home) -> UnitSystem:
    """The units that the user's settings choose; metric where that file does not load: what is past is to be read
    all the same."""
    from bench.store.shelf import settings_of

    return settings_of(home)[0].units


def plastic_named(home: Home, name: str) -> ShelfPlastic:
    """What calculations take of that plastic; BenchError for a name that is not on the shelf."""
    from bench.cli.work_flags import ShelfPlastic
    from bench.physics.substance import Substance

    plastic = library_for(home, [name]).plastic(name)
    substance = Substance(
        k_w_mk=plastic.conductivity_w_mk, rho_kg_m3=plastic.density_kg_m3, c_j_kgk=plastic.heat_capacity_j_kgk
    )
    return ShelfPlastic(substance=substance, scorch_c=plastic.scorch_c)


def session_for(home: Home, request: PourRequest) -> tuple[Session, Settings]:
    """The session that was asked for, idle, and the user's settings.

    Raises BenchError for an unknown name or an impossible job.
    """
    from bench.session.prepare import prepare
    from bench.store.last_time import with_last_time

    library = library_for(home, [request.recipe, request.mould, request.station])
    session = prepare(
        library, recipe=request.recipe, mould=request.mould, ask=request.ask, station=request.station
    )
    return with_last_time(home, session), library.settings
