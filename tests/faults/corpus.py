"""Whole files to be broken, and how each sort of them is read."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from bench.cli import log
from bench.errors import FaultyFiles, printable
from bench.model.settings import Settings, UnitSystem
from bench.store import sessions
from bench.store.decode import decode
from bench.store.files import read_table
from bench.store.paths import Home, shipped_profiles
from bench.store.shelf import RECORD_TYPES, load_library, read_cautions, read_files
from tests.faults.played import PATIENCE_S, kept, played

BAD = Path(__file__).parent.parent / "bad"
SETTINGS = b'format = 1\nunits = "metric"\nstation = "quillmere-bench"\nviewing_distance = "3 m"\nspeech = "off"\n'

SHIPPED_SHARE, SETTINGS_SHARE, SESSIONS_SHARE = 8, 20, 30
"""How often each shipped profile, the settings and the session stand among the samples: what is whole more often,
as what is broken already is told before it is broken once more."""

Read = Callable[[Path], list[str]]


@dataclass(frozen=True, kw_only=True)
class Sample:
    """One whole file: its sort, and its bytes."""

    sort: str
    data: bytes


def _profile(record_type: type[Any], path: Path) -> list[str]:
    found = read_files(record_type, [path])
    library, _ = load_library_once()
    recipes = found.records.values() if record_type is RECORD_TYPES["recipes"] else ()
    broken = [fault for recipe in recipes for fault in library.reference_faults(recipe)]
    return [fault.sentence() for fault in (*found.faults, *broken)]


def _cautions(path: Path) -> list[str]:
    return [fault.sentence() for fault in read_cautions(path)[1]]


def _settings(path: Path) -> list[str]:
    try:
        decode(Settings, read_table(path), file=str(path))
    except FaultyFiles as error:
        return [fault.sentence() for fault in error.faults]
    return []


def _session(path: Path) -> list[str]:
    try:
        stored = sessions.read(path)
    except FaultyFiles as error:
        return [fault.sentence() for fault in error.faults]
    # What is read is looked at as well: nothing in it may choke what shows it.
    assert json.dumps(log.as_json(stored))
    assert "".join(map(printable, log.as_lines(stored, UnitSystem.US))).isprintable()
    return [fault.sentence() for fault in ([stored.torn] if stored.torn else []) + list(stored.edited)]


READ: Mapping[str, Read] = {
    **{kind: partial(_profile, record_type) for kind, record_type in RECORD_TYPES.items()},
    "cautions": _cautions,
    "settings": _settings,
    "sessions": _session,
}
"""How each sort of file is read; the answer is what the user would be told of it."""

_library: list[Any] = []


def load_library_once() -> Any:
    """The shelf as it is shipped."""
    if not _library:
        _library.append(load_library(Home(Path("/nonexistent"))))
    return _library[0]


def _sort_of(path: Path) -> str:
    return path.stem if path.stem in READ else path.parent.name


def samples(folder: Path) -> list[Sample]:
    """Every shipped profile, every file of tests/bad, settings, and a session with its events."""
    shipped, bad = sorted(shipped_profiles().rglob("*.toml")), sorted(BAD.rglob("*.toml"))
    profiles = [Sample(sort=_sort_of(path), data=path.read_bytes()) for path in [*shipped * SHIPPED_SHARE, *bad]]
    session = played()
    opened = kept(Home(folder), session)
    opened.close(session.after[-1], PATIENCE_S)
    sessions_and_settings = [
        *[Sample(sort="settings", data=SETTINGS)] * SETTINGS_SHARE,
        *[Sample(sort="sessions", data=opened.path.read_bytes())] * SESSIONS_SHARE,
    ]
    return [*(sample for sample in profiles if sample.sort in READ), *sessions_and_settings]
