"""How the fields of records are called in files, and what belongs under each key, in words.

A field that holds a quantity carries its unit in its name and its value carries the unit in files, so the key is
the name without it: ``rod_mm`` is ``rod = "3.2 mm"``. Every other field appears under its own name.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import datetime
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from bench.errors import quoted
from bench.units import Unit, unit_of

MOST_FAULTS = 40
"""Of one file. Nobody reads more at once, and a file of a hundred thousand mistakes must not take minutes."""

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]{1,60}")


@cache
def field_types(record_type: type) -> Mapping[str, Any]:
    """The resolved annotation of each field of a record."""
    hints = get_type_hints(record_type, include_extras=True)
    return {field.name: hints[field.name] for field in fields(record_type)}


@cache
def keys(record_type: type) -> Mapping[str, str]:
    """The key in files of each field of a record.

    Fields that would share a key (``melt_g`` and ``melt_ml``) keep their full names.
    """
    wanted = {name: _key(name, annotation) for name, annotation in field_types(record_type).items()}
    uses = Counter(wanted.values())
    return {name: key if uses[key] == 1 else name for name, key in wanted.items()}


def _key(name: str, annotation: object) -> str:
    units = set(_units_within(annotation))
    return units.pop().key(name) if len(units) == 1 else name


def _units_within(annotation: object) -> Iterator[Unit]:
    unit = unit_of(annotation)
    if unit is not None:
        yield unit
        return
    for inner in get_args(annotation):
        yield from _units_within(inner)


def without_none(annotation: object) -> object | None:
    """``X`` for ``X | None``; None for an annotation that does not allow None."""
    if get_origin(annotation) not in (Union, UnionType):
        return None
    inner = [part for part in get_args(annotation) if part is not NoneType]
    return inner[0] if len(inner) == 1 and len(get_args(annotation)) == 2 else None


def joined(path: str, key: str) -> str:
    """The dotted path of ``key`` inside ``path``."""
    shown = key if _BARE_KEY.fullmatch(key) else quoted(key)
    return f"{path}.{shown}" if path else shown


_PLAIN: Mapping[object, str] = {
    str: "text in quotes",
    bool: "true or false",
    int: "a whole number",
    float: "a number",
    datetime: "a date and time with its offset from UTC",
}


def wanted(annotation: Any) -> str:
    """What belongs under a key of this annotation, as words that fit after "wanted"."""
    unit = unit_of(annotation)
    if unit is not None:
        return f'{unit.what} such as "{unit.example}"'
    if annotation in _PLAIN:
        return _PLAIN[annotation]
    if isinstance(annotation, type) and issubclass(annotation, Enum):
        return one_of(str(member.value) for member in annotation)
    if get_origin(annotation) is tuple:
        return _wanted_list(get_args(annotation))
    inner = without_none(annotation)
    return wanted(inner) if inner is not None else "a table"


def _wanted_list(inner: tuple[Any, ...]) -> str:
    length = "a list" if Ellipsis in inner else f"a list of {len(inner)}"
    return length if is_dataclass(inner[0]) else f"{length}, each {wanted(inner[0])}"


def one_of(words: Iterator[str]) -> str:
    """A choice between words, as words."""
    shown = [quoted(word) for word in words]
    return f"one of {', '.join(shown)}" if len(shown) > 1 else shown[0]


def found(value: object) -> str:
    """A value read from a file, as words that fit after "found"."""
    if value is None or isinstance(value, bool):
        return {None: "nothing", True: "true", False: "false"}[value]
    if isinstance(value, str):
        return quoted(value) if value else "empty text"
    if isinstance(value, int | float):
        return f"the number {number_words(value)}"
    if isinstance(value, datetime):
        return f"the date {value.isoformat()}"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    return "a table" if isinstance(value, Mapping) else f"a {type(value).__name__}"


def number_words(value: float) -> str:
    """A number as words, however long it is."""
    try:
        shown = f"{value!r}"
    except ValueError:
        return "with too many digits"
    return shown if len(shown) <= 40 else f"{shown[:40]}…"
