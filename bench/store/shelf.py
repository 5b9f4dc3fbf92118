"""Profiles from their folders: what loads goes on the shelf, what does not is named with its faults."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Generic, TypeVar

from bench.errors import Fault, FaultyFiles
from bench.model.caution import Caution
from bench.model.colourant import Colourant
from bench.model.library import Library, listed, nearest
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Recipe
from bench.model.settings import Settings
from bench.model.station import Station
from bench.store.decode import bounded_faults, decode
from bench.store.files import is_folder, is_there, read_table
from bench.store.keys import MOST_FAULTS, found, joined
from bench.store.paths import Home, shipped_profiles

_Record = TypeVar("_Record")

RECORD_TYPES: Mapping[str, type] = {
    "plastics": Plastic,
    "moulds": Mould,
    "colourants": Colourant,
    "recipes": Recipe,
    "stations": Station,
}
"""What lies in each folder of profiles."""

CAUTIONS = "cautions.toml"

WITHOUT_SETTINGS = "Put that right, or give the file another name: without it the usual settings hold."


@dataclass(frozen=True, kw_only=True, slots=True)
class Found(Generic[_Record]):
    """What a folder gave. ``places`` says which file each name stands in, loaded or not."""

    records: Mapping[str, _Record] = field(default_factory=dict)
    places: Mapping[str, Path] = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()

    def shadowed_by(self, other: Found[_Record]) -> Found[_Record]:
        """Both together, where the other's names hide one's own.

        A name whose file does not load hides too: a shipped profile never stands in silently for the one that
        the user corrected.
        """
        kept = {name: record for name, record in self.records.items() if name not in other.places}
        return Found(
            records={**kept, **other.records},
            places={**self.places, **other.places},
            faults=(*self.faults, *other.faults),
        )


def load_library(home: Home, *, shipped: Path | None = None) -> tuple[Library, tuple[Fault, ...]]:
    """Every profile that loads, shipped and the user's own, and the faults of those that do not.

    A recipe that names what is not on the shelf is not on it either. ``shipped`` is for tests.
    """
    folders = [shipped or shipped_profiles(), home.profiles]
    kinds: dict[str, Found[Any]] = {
        kind: _shelf_of(record_type, kind, folders) for kind, record_type in RECORD_TYPES.items()
    }
    cautions, caution_faults = _all_cautions(folders)
    settings, settings_faults = settings_of(home)
    library = Library(
        **{kind: shelf.records for kind, shelf in kinds.items()},
        cautions=cautions,
        settings=settings,
    )
    recipes, recipe_faults = _sound_recipes(library, kinds)
    faults = [fault for shelf in kinds.values() for fault in shelf.faults]
    faults += [*caution_faults, *settings_faults, *recipe_faults]
    faults += [*_station_faults(library, kinds, home), *_stray_faults(home.profiles)]
    return replace(library, recipes=recipes), tuple(faults)


def _shelf_of(record_type: type[_Record], kind: str, folders: list[Path]) -> Found[_Record]:
    shelf: Found[_Record] = Found()
    for folder in folders:
        try:
            paths = toml_files(folder / kind)
        except FaultyFiles as error:
            shelf = shelf.shadowed_by(Found(faults=error.faults))
        else:
            shelf = shelf.shadowed_by(read_files(record_type, paths))
    return shelf


def toml_files(folder: Path) -> list[Path]:
    """The TOML files of a folder in the order of their names; none where there is no folder.

    Raises FaultyFiles where there is one that cannot be read.
    """
    return [path for path in _inside(folder) if path.suffix == ".toml" and not path.name.startswith(".")]


def _inside(folder: Path) -> list[Path]:
    try:
        return sorted(folder.iterdir())
    except FileNotFoundError:
        return []
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        fault = Fault(key="", found=f"a folder that cannot be read ({why})", wanted="a folder", file=str(folder))
        raise FaultyFiles([fault]) from error


def read_files(record_type: type[_Record], paths: list[Path]) -> Found[_Record]:
    """The records of these files of one folder, by name, and the faults of those that do not load."""
    records: dict[str, _Record] = {}
    places: dict[str, Path] = {}
    faults: list[Fault] = []
    for path in paths:
        name = path.stem
        try:
            table = read_table(path)
            name = _stated_name(table) or name
            record = decode(record_type, table, file=str(path))
        except FaultyFiles as error:
            faults += error.faults
            places.setdefault(name, path)
            continue
        if name in places:
            faults.append(_taken(name, path, places[name]))
            records.pop(name, None)
        else:
            records[name], places[name] = record, path
    return Found(records=records, places=places, faults=tuple(faults))


def _stated_name(table: Mapping[str, Any]) -> str:
    name = table.get("name")
    return name if isinstance(name, str) else ""


def _taken(name: str, path: Path, first: Path) -> Fault:
    return Fault(
        key="name", found=f"{found(name)}, as in {first}", wanted="a name that no other file has", file=str(path)
    )


def _sound_recipes(library: Library, kinds: Mapping[str, Found[Any]]) -> tuple[dict[str, Recipe], list[Fault]]:
    sound: dict[str, Recipe] = {}
    faults: list[Fault] = []
    for name, recipe in library.recipes.items():
        file = str(kinds["recipes"].places[name])
        broken = [replace(fault, file=file) for fault in library.reference_faults(recipe)]
        if not broken:
            sound[name] = recipe
        faults += [_with_broken_file(fault, kinds) for fault in broken]
    return sound, faults


def _with_broken_file(fault: Fault, kinds: Mapping[str, Found[Any]]) -> Fault:
    """The fault of a name that nothing answers to; where a file of that name did not load, it says which."""
    kind = "plastics" if fault.key == "plastic" else "colourants"
    name = fault.found.strip('"')
    place = kinds[kind].places.get(name)
    if place is None or name in kinds[kind].records:
        return fault
    return replace(fault, wanted=f"its broken file put right: {place}", hint="")


def _all_cautions(folders: list[Path]) -> tuple[tuple[Caution, ...], list[Fault]]:
    """Every caution by name. One that does not load hides none: the shipped words stay."""
    cautions: dict[str, Caution] = {}
    faults: list[Fault] = []
    for folder in folders:
        if is_there(folder / CAUTIONS):
            loaded, refused = read_cautions(folder / CAUTIONS)
            cautions |= {caution.name: caution for caution in loaded}
            faults += refused
    return tuple(cautions.values()), faults


def read_cautions(path: Path) -> tuple[list[Caution], list[Fault]]:
    """The cautions of a file that load, and the faults of those that do not."""
    try:
        table = read_table(path)
    except FaultyFiles as error:
        return [], list(error.faults)
    entries = table.pop("caution", [])
    faults = [
        Fault(key=joined("", key), found="an unknown key", wanted="[[caution]] and nothing else", file=str(path))
        for key in table
    ]
    if not isinstance(entries, list):
        return [], [
            Fault(key="caution", found=found(entries), wanted="[[caution]]", file=str(path)),
            *faults[:MOST_FAULTS],
        ]
    cautions: dict[str, Caution] = {}
    for place, entry in enumerate(entries):
        if len(faults) > MOST_FAULTS:
            break
        where = f"caution[{place}]"
        try:
            caution = decode(Caution, entry if isinstance(entry, dict) else {}, file=str(path))
        except FaultyFiles as error:
            faults += [
                replace(fault, key=f"{where}.{fault.key}" if fault.key else where) for fault in error.faults
            ]
            continue
        if caution.name in cautions:
            fault = _taken(caution.name, path, path)
            faults.append(replace(fault, key=f"{where}.name", wanted="a name that no other caution has"))
        cautions.setdefault(caution.name, caution)
    return list(cautions.values()), [replace(fault, file=str(path)) for fault in bounded_faults(faults)]


def settings_of(home: Home) -> tuple[Settings, tuple[Fault, ...]]:
    """The user's settings, the usual ones where their file does not load, and what is wrong with it."""
    if not is_there(home.settings):
        return Settings(), ()
    try:
        return decode(Settings, read_table(home.settings), file=str(home.settings)), ()
    except FaultyFiles as error:
        *first, last = error.faults
        return Settings(), (*first, replace(last, remedy=WITHOUT_SETTINGS))


def _station_faults(library: Library, kinds: Mapping[str, Found[Any]], home: Home) -> Iterator[Fault]:
    """The settings' station that is on no shelf; one whose file did not load is told with that file."""
    name = library.settings.station
    if name not in kinds["stations"].places:
        yield Fault(
            key="station",
            found=found(name),
            wanted=f"the name of a station on the shelf: {listed(library.stations)}",
            hint=nearest(name, library.stations),
            file=str(home.settings),
        )


def _stray_faults(profiles: Path) -> Iterator[Fault]:
    """What lies among the user's profiles where nothing would ever read it."""
    known = [*RECORD_TYPES, CAUTIONS]
    try:
        inside = _inside(profiles)
    except FaultyFiles as error:
        yield from error.faults
        return
    for path in inside:
        kept = path.name in known or path.name.startswith(".")
        if not kept and (path.suffix == ".toml" or is_folder(path)):
            yield Fault(
                key="",
                found="something that no profile is read from",
                wanted=f"one of {', '.join(known)}",
                hint=nearest(path.name, known),
                file=str(path),
            )
