"""Events of a session as flat tables and back."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from bench.errors import Fault, FaultyFiles
from bench.model.library import nearest
from bench.session import events
from bench.session.events import Event
from bench.session.stamp import Stamp
from bench.store.decode import encode, restore
from bench.store.keys import found, keys

_CAPITAL = re.compile(r"(?<=[a-z])(?=[A-Z])")


def kind_of(event_type: type[Event]) -> str:
    """What files call this sort of event: "step done" for StepDone."""
    return _CAPITAL.sub(" ", event_type.__name__).lower()


KINDS: Mapping[str, type[Event]] = {
    kind_of(held): held
    for held in vars(events).values()
    if isinstance(held, type) and issubclass(held, Event) and held is not Event
}


def is_note(table: Mapping[str, Any]) -> bool:
    """Whether the table is that of a note, which decides nothing."""
    return table.get("kind") == kind_of(events.Noted)


def event_table(event: Event) -> dict[str, Any]:
    """The event as one flat table: its kind, the clocks of its moment, then its own fields."""
    table = encode(event)
    moment = table.pop("at")
    return {"kind": kind_of(type(event)), **moment, **table}


def event_from(table: Mapping[str, Any], *, place: int, file: str) -> Event:
    """The event that stands at this place of the file, from 0. Raises FaultyFiles."""
    kind = table.get("kind")
    event_type = KINDS.get(kind) if isinstance(kind, str) else None
    if event_type is None:
        hint = nearest(kind, KINDS) if isinstance(kind, str) else ""
        fault = Fault(key="kind", found=found(kind), wanted="a kind of event", hint=hint)
        raise FaultyFiles([_placed(fault, place, file)])
    clocks = {key: table[key] for key in keys(Stamp).values() if key in table}
    own = {key: value for key, value in table.items() if key != "kind" and key not in clocks}
    try:
        return restore(event_type, {"at": clocks, **own}, file=file)
    except FaultyFiles as error:
        raise FaultyFiles(_placed(fault, place, file) for fault in error.faults) from error


def _placed(fault: Fault, place: int, file: str) -> Fault:
    return replace(fault, key=f"event[{place}].{fault.key.removeprefix('at.')}", file=file)
