"""Tables as TOML gives them to records, with every fault named; and records back to tables."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import islice
from typing import Any, TypeVar, cast

from bench.errors import Fault, FaultyFiles
from bench.model.library import nearest
from bench.store.keys import MOST_FAULTS, field_types, found, joined, keys, wanted

_Record = TypeVar("_Record")

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,59}")
"""Names stand in file names, on command lines and in other files: they are words and nothing else."""

WANTED_NAME = 'letters, digits and "-", at most 60'

_NOTHING = "nothing"
_NO_KEY = "a source for a key that is not in this file"

_MOST_NEAR = 500
"""Words that are looked through for the nearest; no honest file has more keys."""


def decode(record_type: type[_Record], table: Mapping[str, Any], *, file: str) -> _Record:
    """The record that a table written by hand says. Raises FaultyFiles with its faults, all or forty."""
    return _decoded(record_type, table, file=file, bounded=True)


def restore(record_type: type[_Record], table: Mapping[str, Any], *, file: str) -> _Record:
    """The record that the program saved with ``encode``: as ``decode``, but bounds of units are not asked for.

    A computed amount may be nought where a maker's own may not.
    """
    return _decoded(record_type, table, file=file, bounded=False)


def encode(record: Any) -> dict[str, Any]:
    """The record as a table fit for TOML; ``restore`` gives an equal record back. None is left out."""
    from bench.store.convert import writer

    record_type: Any = type(record)
    return cast(dict[str, Any], writer(record_type)(record))


def _decoded(record_type: type[_Record], table: Mapping[str, Any], *, file: str, bounded: bool) -> _Record:
    from bench.store.convert import Refusal, reader

    table = _with_flat_sources(table)
    faults = [*_name_faults(record_type, table), *islice(_source_faults(record_type, table), MOST_FAULTS)]
    record: _Record | None = None
    held: Any = record_type
    try:
        record = reader(held, bounded=bounded)(table, held)
    except (Refusal, ExceptionGroup) as error:
        faults += islice(_refused(error, ""), MOST_FAULTS + 1)
    faults = list(_without_followers(faults))
    own_faults = getattr(record, "faults", None)
    if own_faults is not None:
        try:
            faults += own_faults()
        except ArithmeticError:
            faults.append(
                Fault(key="", found="figures too large or too small to reckon with", wanted="their units checked")
            )
    if faults or record is None:
        raise FaultyFiles(replace(fault, file=file) for fault in bounded_faults(faults))
    return record


def bounded_faults(faults: list[Fault]) -> list[Fault]:
    """These faults of one file; where they are too many to be read, the first of them and that there are more."""
    if len(faults) <= MOST_FAULTS:
        return faults
    more = Fault(key="", found=f"more than {MOST_FAULTS} mistakes", wanted="the first of them put right")
    return [*faults[:MOST_FAULTS], more]


def _without_followers(faults: list[Fault]) -> Iterator[Fault]:
    """These faults but for the sources of keys that are told to be missing: one mistake is told once."""
    missing = tuple(fault.key for fault in faults if fault.found == _NOTHING)
    for fault in faults:
        key = fault.key.removeprefix("sources.").strip('"')
        is_source = fault.found == _NO_KEY
        if not (is_source and any(key == each or key.startswith(f"{each}.") for each in missing)):
            yield fault


def _name_faults(record_type: type, table: Mapping[str, Any]) -> Iterator[Fault]:
    name = table.get("name")
    if "name" in field_types(record_type) and isinstance(name, str) and not is_name(name):
        yield Fault(key="name", found=found(name), wanted=WANTED_NAME)


def is_name(text: str) -> bool:
    """Whether a profile may be called so."""
    return _NAME.fullmatch(text) is not None


def _with_flat_sources(table: Mapping[str, Any]) -> Mapping[str, Any]:
    """``[sources] rods.diameter = "…"`` means the key "rods.diameter", though TOML reads two tables."""
    sources = table.get("sources")
    if not isinstance(sources, Mapping):
        return table
    return {**table, "sources": dict(_flat(sources, ""))}


def _flat(table: Mapping[str, Any], path: str) -> Iterator[tuple[str, Any]]:
    for key, value in table.items():
        whole = f"{path}.{key}" if path else key
        if isinstance(value, Mapping):
            yield from _flat(value, whole)
        else:
            yield whole, value


def _source_faults(record_type: type, table: Mapping[str, Any]) -> Iterator[Fault]:
    if "sources" not in field_types(record_type):
        return
    sources = table.get("sources", {})
    present = set(_paths(table, ""))
    near = {path for path in present if path.isprintable()} if len(present) <= _MOST_NEAR else set[str]()
    for key in sources if isinstance(sources, Mapping) else ():
        if key not in present:
            yield Fault(
                key=joined("sources", key),
                found=_NO_KEY,
                wanted="the path of a key that is",
                hint=nearest(key, near),
            )
        elif not sources[key]:
            yield Fault(key=joined("sources", key), found=found(sources[key]), wanted="where the value comes from")


def _paths(table: Mapping[str, Any], path: str) -> Iterator[str]:
    for key, value in table.items():
        if not path and key == "sources":
            continue
        whole = f"{path}.{key}" if path else key
        yield whole
        if isinstance(value, Mapping):
            yield from _paths(value, whole)


def _refused(error: Exception, path: str) -> Iterator[Fault]:
    """The faults inside what the converter raised; an error that is none of its own is a defect and goes on up."""
    from cattrs import ClassValidationError, ForbiddenExtraKeysError, IterableValidationError

    from bench.store.convert import Refusal

    match error:
        case Refusal():
            yield Fault(key=path, found=error.found, wanted=error.wanted, hint=error.hint)
        case ForbiddenExtraKeysError():
            for key in sorted(error.extra_fields):
                yield _unknown_key(key, path, error.cl)
        case ClassValidationError():
            for inner, note in error.group_exceptions()[0]:
                whole = joined(path, keys(error.cl)[note.name])
                if isinstance(inner, KeyError):
                    yield Fault(key=whole, found=_NOTHING, wanted=wanted(field_types(error.cl)[note.name]))
                else:
                    yield from _refused(inner, whole)
            for inner in error.group_exceptions()[1]:
                yield from _refused(inner, path)
        case IterableValidationError():
            for inner, place in error.group_exceptions()[0]:
                index = place.index
                whole = f"{path}[{index}]" if isinstance(index, int) else joined(path, index)
                yield from _refused(inner, whole)
        case _:
            raise error


def _unknown_key(key: str, path: str, record_type: type) -> Fault:
    known = sorted(keys(record_type).values())
    return Fault(
        key=joined(path, key),
        found="an unknown key",
        wanted=f"one of {', '.join(known)}",
        hint=nearest(key, known),
    )
