"""What is said of the part of a session's file that does not count."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from bench.errors import Fault, FaultyFiles, quoted
from bench.session.events import Aborted, Completed
from bench.store.event_tables import is_note, kind_of
from bench.store.journal import MARK, Content, first_event, torn_file

_CHECKSUM = b"\ncrc ="
_WHOLE_SUM = re.compile(rb'^crc = "[0-9a-f]{8}"$', re.MULTILINE)

ENDINGS = tuple(MARK + f'kind = "{kind_of(event_type)}"\n'.encode() for event_type in (Completed, Aborted))
"""How the text of an event begins after which nothing goes on: its kind stands first."""


def holds_an_end(torn: bytes) -> bool:
    """Whether it holds an event after which nothing goes on, written to its checksum, whatever became of it since:
    then that session had ended, though what still counts of it had not."""
    events = (MARK + text for text in torn.split(MARK)[1:])
    return any(event.startswith(ENDINGS) and _WHOLE_SUM.search(event) for event in events)


def torn_fault(path: Path, content: Content, *, before: bytes, over: bool = False, kept: bool = False) -> Fault:
    """The sentence for a file with a ``torn`` part: a changed or broken event by its place, else a torn end.

    ``before`` are the bytes above it; ``kept`` says that it is set aside already, ``over`` that it never will be.
    """
    line = before.count(b"\n") + 1
    torn, place = content.torn, len(content.events)
    end = torn.find(b"\n" + MARK)
    first = torn[: end + 1] if end >= 0 else torn
    fate = _fate(path, torn, over=over, kept=kept)
    if not first.startswith(MARK) or (_CHECKSUM not in first and end < 0):
        found, wanted = f"a torn end of {len(torn)} bytes from line {line} on", f"whole events; {fate}"
        return Fault(key="", found=found, wanted=wanted, file=str(path))
    try:
        table = first_event(first, file=str(path))
    except UnicodeDecodeError as error:
        at = line + first.count(b"\n", 0, error.start)
        found, wanted = "a byte that is not UTF-8", f"the line as the program wrote it; {fate}"
        return Fault(key=f"line {at}", found=found, wanted=wanted, file=str(path))
    except FaultyFiles as error:
        return _in_line(error.faults[0], line, fate, path)
    found = f"{changed_event(table)} (line {line})"
    return Fault(key=f"event[{place}]", found=found, wanted=f"the one that was written; {fate}", file=str(path))


def changed_event(table: Mapping[str, Any]) -> str:
    """An event that is not the one that was written, in words to find it by."""
    kind, wall = table.get("kind"), table.get("wall")
    when = f" at {wall:%H:%M:%S}" if isinstance(wall, datetime) else ""
    if is_note(table):
        return f"a note{when} that was changed after it was written"
    called = f" {quoted(kind)}" if isinstance(kind, str) else ""
    return f"an event{called}{when} that was changed after it was written"


def _in_line(fault: Fault, first_line: int, fate: str, path: Path) -> Fault:
    """What is no TOML, by its line of the whole file."""
    number = fault.key.removeprefix("line ")
    line = first_line + (int(number) - 1 if number.isdigit() else 0)
    wanted = f"the line as the program wrote it; {fate}"
    return Fault(key=f"line {line}", found=fault.found, wanted=wanted, file=str(path))


def _fate(path: Path, torn: bytes, *, over: bool, kept: bool) -> str:
    """What becomes of it."""
    after = torn.count(b"\n" + MARK)
    what = f"it and the {'event' if after == 1 else f'{after} events'} after it" if after else "it"
    if kept:
        return f"{what} {'are' if after else 'is'} kept in {torn_file(path).name}"
    does, stays = ("do", "stay") if after else ("does", "stays")
    if over:
        return f"{what} {does} not count and {stays} in the file"
    return f"{what} {does} not count, and will be kept in {torn_file(path).name} when the session goes on"
