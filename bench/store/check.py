"""Checking files without using them, for the verb ``check``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from bench.errors import Fault, FaultyFiles
from bench.model.colourant import Colourant
from bench.model.library import Library
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.settings import Settings
from bench.plan.strengths import swatch_faults
from bench.store.decode import decode
from bench.store.files import is_folder, is_there, parse_table, read_bytes, read_table
from bench.store.journal import header_end
from bench.store.keys import keys
from bench.store.paths import Home
from bench.store.sessions import read
from bench.store.shelf import CAUTIONS, RECORD_TYPES, Found, load_library, read_cautions, read_files, toml_files

SETTINGS = "settings.toml"
SESSIONS = "sessions"


def check(home: Home, paths: Sequence[Path] = ()) -> tuple[Fault, ...]:
    """Every fault of these files and folders, or of all profiles, settings and sessions when none is named.

    What recipes refer to may stand among the named files or on the user's shelf.
    """
    library, faults = load_library(home)
    given = paths or [folder for folder in (home.sessions, home.rehearsals) if is_there(folder)]
    told = () if paths else (*faults, *_own_shelf_faults(home, library))
    try:
        files = [file for path in given for file in _files(path)]
    except FaultyFiles as error:
        return (*told, *error.faults)
    return (*told, *_faults_of(files, library))


def _own_shelf_faults(home: Home, library: Library) -> Iterator[Fault]:
    """What only a check tells of the user's own files that load; a folder that does not open is told elsewhere."""
    for kind, record_type in RECORD_TYPES.items():
        try:
            files = toml_files(home.profiles / kind)
        except FaultyFiles:
            continue
        yield from _seen_through(read_files(record_type, files), library)


def _seen_through(shelf: Found[Any], library: Library) -> Iterator[Fault]:
    """Films that tell nothing, moulds that go with no plastic on the shelf, and what is unlikely."""
    for name, record in shelf.records.items():
        file = str(shelf.places[name])
        yield from (replace(fault, file=file) for fault in _of_record(record, library))


def _of_record(record: Any, library: Library) -> Iterator[Fault]:
    match record:
        case Colourant():
            yield from swatch_faults(record)
        case Mould():
            yield from library.warm_faults(record)
            yield from record.doubts()
        case Plastic():
            yield from record.doubts()


def _files(path: Path) -> list[Path]:
    """The file, or the files of a folder of profiles, of one kind of profile, or of a whole home."""
    if not is_folder(path):
        return [path]
    folders = [path, *(path / kind for kind in RECORD_TYPES)]
    own = [file for folder in folders for file in toml_files(folder)]
    inside = [path / name for name in ("profiles", "sessions", "rehearsals") if is_folder(path / name)]
    return own + [file for folder in inside for file in _files(folder)]


def _faults_of(files: list[Path], library: Library) -> Iterator[Fault]:
    shelves: dict[str, Found[Any]] = {}
    for (kind, _), group in _by_kind_and_folder(files).items():
        if kind == CAUTIONS:
            yield from (fault for file in group for fault in read_cautions(file)[1])
        elif kind == SETTINGS:
            yield from (fault for file in group for fault in _settings_faults(file))
        elif kind == SESSIONS:
            yield from (fault for file in group for fault in _session_faults(file))
        elif kind in RECORD_TYPES:
            shelf: Found[Any] = read_files(RECORD_TYPES[kind], group)
            yield from shelf.faults
            shelves[kind] = shelves.get(kind, Found()).shadowed_by(replace(shelf, faults=()))
        else:
            yield from (fault for file in group for fault in _unknown_faults(file))
    together = _with_shelves(library, shelves)
    for shelf in shelves.values():
        yield from _seen_through(shelf, together)
    yield from _reference_faults(together, shelves)


def _by_kind_and_folder(files: list[Path]) -> Mapping[tuple[str, Path], list[Path]]:
    groups: dict[tuple[str, Path], list[Path]] = {}
    for file in dict.fromkeys(path.absolute() for path in files):
        groups.setdefault((_kind_of(file), file.parent), []).append(file)
    return groups


def _kind_of(file: Path) -> str:
    """The kind of profile by its folder, else by the keys it shares with one; empty when nothing tells."""
    if file.name in (CAUTIONS, SETTINGS):
        return file.name
    if file.parent.name in (*RECORD_TYPES, SESSIONS):
        return file.parent.name
    if file.parent.name == "rehearsals":
        return SESSIONS
    try:
        data = read_bytes(file)
        table = parse_table(data[: header_end(data)], file=str(file))
    except FaultyFiles:
        return ""
    if "job" in table:
        return SESSIONS
    own = {kind: set(keys(record_type).values()) - _COMMON for kind, record_type in RECORD_TYPES.items()}
    shared = {kind: len(own_keys & table.keys()) for kind, own_keys in own.items()}
    best = max(shared, key=lambda kind: shared[kind])
    return best if shared[best] else ""


_COMMON = {"name", "title", "sources"}


def _unknown_faults(file: Path) -> Iterator[Fault]:
    try:
        read_table(file)
    except FaultyFiles as error:
        yield from error.faults
    else:
        yield Fault(
            key="",
            found="no key that tells what it is",
            wanted=f"one of {', '.join(RECORD_TYPES)}",
            file=str(file),
        )


def _settings_faults(file: Path) -> Iterator[Fault]:
    try:
        decode(Settings, read_table(file), file=str(file))
    except FaultyFiles as error:
        yield from error.faults


def _session_faults(file: Path) -> Iterator[Fault]:
    try:
        stored = read(file)
    except FaultyFiles as error:
        yield from error.faults
    else:
        yield from [stored.torn] if stored.torn else []
        yield from stored.edited


def _with_shelves(library: Library, shelves: Mapping[str, Found[Any]]) -> Library:
    records: dict[str, Any] = {
        kind: {**getattr(library, kind), **shelf.records} for kind, shelf in shelves.items()
    }
    return replace(library, **records)


def _reference_faults(together: Library, shelves: Mapping[str, Found[Any]]) -> Iterator[Fault]:
    recipes = shelves.get("recipes", Found())
    for name, recipe in recipes.records.items():
        for fault in together.reference_faults(recipe):
            yield replace(fault, file=str(recipes.places[name]))
