"""One measured number put into the user's own copy of a station, and nothing else of it touched.

People write comments, order and spacing into their profiles. So the text is edited in place, at every spot in turn
that could be the one, until reading it again gives exactly the station that is wanted.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from bench.errors import BenchError, FaultyFiles, quoted
from bench.model.station import POWER_KEY, Heater, Station
from bench.store.atomic import replace_whole
from bench.store.decode import decode
from bench.store.files import LARGEST_TABLE, parse_table, read_bytes
from bench.store.paths import Home, shipped_profiles
from bench.store.shelf import read_files, toml_files

FOLDER = "stations"

_TEXT = r"""("(?:[^"\\\n]|\\.)*"|'[^'\n]*')"""
_POWER = re.compile(rf"""\babsorbed["']?[ \t]*=[ \t]*{_TEXT}""")
_SOURCE = re.compile(rf"""["']?\b(?:heater["']?[ \t]*\.[ \t]*["']?)?absorbed["']?[ \t]*=[ \t]*{_TEXT}""")
_SOURCES = re.compile(r"""^[ \t]*\[[ \t]*["']?sources["']?[ \t]*\][^\n]*\n?""", re.MULTILINE)


def save_heater_power(home: Home, name: str, *, power_w: float, source: str, shipped: Path | None = None) -> Path:
    """Write the heater's absorbed power, in whole watts, and where it comes from into the user's own profile of
    that station, and return its file.

    Where there is only the shipped profile its text is copied first; it is never written to. Raises FaultyFiles
    for one of the user's that does not load, BenchError for a station that is on no shelf, for a text in which
    the number cannot be found, or when the disk does not take it. The file is then as it was. ``shipped`` is for
    tests.
    """
    folder = home.profiles / FOLDER
    own = read_files(Station, toml_files(folder)).places.get(name)
    target = own or folder / f"{name}.toml"
    if own is None and target.exists():
        raise BenchError(f"{target} is the file of another station: give it the name that it states")
    template = own or _shipped_file(name, shipped or shipped_profiles())
    text = read_bytes(template, most=LARGEST_TABLE).decode("utf-8", errors="surrogateescape")
    changed = with_heater_power(text, power_w=power_w, source=source, file=str(template))
    try:
        replace_whole(target, changed.encode("utf-8", errors="surrogateescape"))
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise BenchError(f"{target} cannot be written: {why}") from error
    return target


def with_heater_power(text: str, *, power_w: float, source: str, file: str) -> str:
    """The profile's text with another power and its source. Raises FaultyFiles for one that does not load,
    BenchError where the spot cannot be found."""
    before = _read(text, file)
    watts = f"{power_w:.0f} W"
    wanted = replace(before, heater=Heater(absorbed_w=float(f"{power_w:.0f}")))
    text = _first(_replacements(text, _POWER, f'"{watts}"'), wanted, text, watts, file)
    wanted = replace(wanted, sources={**before.sources, POWER_KEY: source})
    stated = _quoted(source)
    edits = (*_replacements(text, _SOURCE, stated), *_additions(text, f'"{POWER_KEY}" = {stated}'))
    return _first(edits, wanted, text, watts, file)


def _shipped_file(name: str, profiles: Path) -> Path:
    place = read_files(Station, toml_files(profiles / FOLDER)).places.get(name)
    if place is None:
        raise BenchError(f"no station is called {quoted(name)}")
    return place


def _read(text: str, file: str) -> Station:
    data = text.encode("utf-8", errors="surrogateescape")
    return decode(Station, parse_table(data, file=file), file=file)


def _first(edits: Iterable[str], wanted: Station, text: str, watts: str, file: str) -> str:
    """The first of the texts that says what is wanted; the text itself where it says so already."""
    for edited in (text, *edits):
        try:
            if _read(edited, file) == wanted:
                return edited
        except FaultyFiles:
            continue
    raise BenchError(f'{file}: the place of {POWER_KEY} was not found; write absorbed = "{watts}" under [heater]')


def _replacements(text: str, spot: re.Pattern[str], value: str) -> Iterator[str]:
    for match in spot.finditer(text):
        yield text[: match.start(1)] + value + text[match.end(1) :]


def _additions(text: str, line: str) -> Iterator[str]:
    """The line at the head of the sources, or a table of them at the end."""
    end = "\r\n" if "\r\n" in text else "\n"
    for match in _SOURCES.finditer(text):
        head = match[0] if match[0].endswith("\n") else match[0] + end
        yield text[: match.start()] + head + line + end + text[match.end() :]
    gap = "" if text.endswith("\n") else end
    yield f"{text}{gap}{end}[sources]{end}{line}{end}"


def _quoted(words: str) -> str:
    escaped = words.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
