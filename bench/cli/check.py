"""``pourbench check``: every mistake in profiles and in one's own files, a line each."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from bench.cli.output import emit_lines
from bench.errors import Fault

if TYPE_CHECKING:
    from bench.store.paths import Home


def add_check_parser(
    verbs: argparse._SubParsersAction[argparse.ArgumentParser], *, home: Callable[[], Home]
) -> None:
    """The verb ``check``."""
    parser = verbs.add_parser(
        "check",
        help="look for mistakes in profiles and in your own files",
        description="Reads every profile, your settings and your sessions, or only the files and folders given, "
        "and says what is wrong with them, and what is worth a look. Nothing is changed.",
        allow_abbrev=False,
    )
    parser.add_argument(
        "paths", nargs="*", type=Path, metavar="PATH", help="a file or folder; all if none is given"
    )
    parser.set_defaults(run=lambda arguments: _run(home(), arguments.paths))


def _run(home: Home, paths: list[Path]) -> int:
    from bench.store.check import check

    faults = check(home, paths)
    emit_lines(report(_files(home, paths), faults))
    return 0 if all(fault.doubt for fault in faults) else 1


def report(files: Iterable[Path], faults: Iterable[Fault]) -> Iterator[str]:
    """A line for each fault and each doubt, then how many of the files are fine: a doubt faults no file."""
    faulty = set()
    for fault in faults:
        if not fault.doubt:
            faulty.add(fault.file)
        yield " ".join(fault.sentence().split())
    fine = len({str(path) for path in files} - faulty)
    yield f"{fine} {'file is' if fine == 1 else 'files are'} fine."


def _files(home: Home, paths: list[Path]) -> Iterator[Path]:
    """The files that were read: those named, those of a named folder, or every one there is."""
    from bench.store.files import is_folder, is_there
    from bench.store.paths import shipped_profiles

    for path in paths or [shipped_profiles(), home.profiles, home.settings, home.sessions, home.rehearsals]:
        if is_folder(path):
            yield from (file.absolute() for file in path.rglob("*.toml") if not file.name.startswith("."))
        elif is_there(path):
            yield path.absolute()
