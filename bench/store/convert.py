"""Between tables and records, on cattrs, which gathers every error of a record instead of stopping at the first.

Nothing is coerced: what is not right is refused. Each field brings its own hook, found by its annotation
(``reader``, ``writer``): cattrs' own dispatch takes a quantity for a float and a word of an enum for any text.

cattrs takes about 30 ms to load, so this module is imported when the first file is decoded
(``bench.store.decode``), never at start-up.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields, is_dataclass, replace
from datetime import datetime
from enum import Enum
from functools import cache
from typing import Any, get_args, get_origin

from cattrs import Converter, IterableValidationError, IterableValidationNote
from cattrs.gen import make_dict_structure_fn, make_dict_unstructure_fn, override

from bench import units
from bench.errors import UnitError
from bench.model.library import nearest
from bench.store.keys import MOST_FAULTS, field_types, found, keys, number_words, wanted, without_none
from bench.units import Unit, unit_of

Hook = Callable[[Any, Any], Any]
Writer = Callable[[Any], Any]

LONGEST_TEXT = 2000
"""Characters in one text; no honest note is longer, and screens lay text out in full."""

_HIDDEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]")
"""Control characters and those that turn the direction of writing: they would reach the terminal as commands."""


_LARGEST_WHOLE = 10**15
"""Far above any count, and held exactly by a float: what reckons with it cannot overflow."""


class Refusal(Exception):
    """One value that cannot be what is wanted; the words are those of ``bench.errors.Fault``."""

    def __init__(self, *, found: str, wanted: str, hint: str = "") -> None:
        super().__init__(f"found {found}, wanted {wanted}")
        self.found = found
        self.wanted = wanted
        self.hint = hint


@cache
def reader(annotation: Any, *, bounded: bool) -> Hook:
    """What turns a value from a file into one of this annotation, or raises Refusal or an ExceptionGroup of them.

    ``bounded`` keeps the bounds of units and texts, for what people write by hand. What the program saved itself
    is read without: a plan may hold a mass of nought grams.
    """
    unit, inner = unit_of(annotation), without_none(annotation)
    if unit is not None:
        return _quantity_hook(unit, bounded=bounded)
    if inner is not None:
        return _optional_hook(reader(inner, bounded=bounded), inner)
    if get_origin(annotation) is tuple:
        return _tuple_hook(annotation, bounded=bounded)
    if _is_mapping(annotation):
        return _mapping_hook(annotation, bounded=bounded)
    if annotation is str:
        return _text_hook(bounded=bounded)
    if isinstance(annotation, type):
        return _class_hook(annotation, bounded=bounded)
    raise TypeError(f"files have no way to hold {annotation}")


def _class_hook(held: Any, *, bounded: bool) -> Hook:
    if issubclass(held, Enum):
        return _enum_hook(held)
    if is_dataclass(held):
        return _record_hook(held, bounded=bounded)
    return _PLAIN_HOOKS[held]


@cache
def writer(annotation: Any) -> Writer:
    """What turns a value of this annotation into one that TOML holds."""
    unit, inner = unit_of(annotation), without_none(annotation)
    if unit is not None:
        return _quantity_out(unit)
    if inner is not None:
        return _optional_out(writer(inner))
    if get_origin(annotation) is tuple:
        return _tuple_out(get_args(annotation))
    if _is_mapping(annotation):
        return _mapping_out(*get_args(annotation))
    return _class_out(annotation)


def _class_out(held: Any) -> Writer:
    if issubclass(held, Enum):
        return lambda member: member.value
    return _record_out(held) if is_dataclass(held) else lambda value: value


def _is_mapping(annotation: Any) -> bool:
    origin = get_origin(annotation)
    return isinstance(origin, type) and issubclass(origin, Mapping)


# From tables to records.


def _whole(value: Any, annotation: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise Refusal(found=found(value), wanted=wanted(annotation))
    if abs(value) > _LARGEST_WHOLE:
        raise Refusal(found=found(value), wanted=f"a whole number up to {_LARGEST_WHOLE:.0e}")
    return value


def _number(value: Any, annotation: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Refusal(found=found(value), wanted=wanted(annotation))
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise Refusal(found=found(value), wanted="a finite number")
    return number


def _truth(value: Any, annotation: Any) -> bool:
    if not isinstance(value, bool):
        raise Refusal(found=found(value), wanted=wanted(annotation))
    return value


def _moment(value: Any, annotation: Any) -> datetime:
    if not isinstance(value, datetime) or value.tzinfo is None:
        raise Refusal(found=found(value), wanted=wanted(annotation))
    return value


_PLAIN_HOOKS: Mapping[type, Hook] = {int: _whole, float: _number, bool: _truth, datetime: _moment}


def _text_hook(*, bounded: bool) -> Hook:
    def structure(value: Any, annotation: Any) -> str:
        if not isinstance(value, str):
            raise Refusal(found=found(value), wanted=wanted(annotation))
        if bounded and len(value) > LONGEST_TEXT:
            raise Refusal(found=f"{len(value)} characters", wanted=f"at most {LONGEST_TEXT}")
        hidden = _HIDDEN.search(value) if bounded else None
        if hidden is not None:
            raise Refusal(found=f"the hidden character U+{ord(hidden[0]):04X}", wanted="text that can be seen")
        return value

    return structure


def _enum_hook(annotation: Any) -> Hook:
    members = {member.value: member for member in annotation}

    def structure(value: Any, _: Any) -> Any:
        if isinstance(value, str | int) and not isinstance(value, bool) and value in members:
            return members[value]
        hint = nearest(value, [str(word) for word in members]) if isinstance(value, str) else ""
        raise Refusal(found=found(value), wanted=wanted(annotation), hint=hint)

    return structure


def _quantity_hook(unit: Unit, *, bounded: bool) -> Hook:
    held = unit if bounded else replace(unit, least=None, above=None, most=None)
    what = f'{unit.what} such as "{unit.example}"'

    def structure(value: Any, _: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise Refusal(found=found(value), wanted=what)
        if not isinstance(value, str):
            raise Refusal(
                found=f"the bare number {number_words(value)}", wanted=what, hint=_with_unit(value, unit)
            )
        try:
            return units.parse(value, held)
        except UnitError as error:
            raise Refusal(found=error.found, wanted=error.wanted, hint=_with_unit(value, unit)) from None

    return structure


def _with_unit(value: str | float, unit: Unit) -> str:
    """The number with the unit that was forgotten; empty where that is not what went wrong."""
    try:
        number = float(value)
    except (ValueError, OverflowError):
        return ""
    said = units.with_likely_unit(number, str(value), unit) if math.isfinite(number) else ""
    return f'"{said}"' if said else ""


def _optional_hook(hook: Hook, inner: Any) -> Hook:
    return lambda value, _: None if value is None else hook(value, inner)


def _tuple_hook(annotation: Any, *, bounded: bool) -> Hook:
    inner = get_args(annotation)
    any_length = inner[-1] is Ellipsis
    hooks = [reader(part, bounded=bounded) for part in inner if part is not Ellipsis]

    def structure(value: Any, _: Any) -> tuple[Any, ...]:
        if not isinstance(value, list | tuple) or not (any_length or len(value) == len(hooks)):
            raise Refusal(found=found(value), wanted=wanted(annotation))
        good, errors = [], []
        for place, item in enumerate(value):
            which = 0 if any_length else place
            try:
                good.append(hooks[which](item, inner[which]))
            except (Refusal, ExceptionGroup) as error:
                error.add_note(IterableValidationNote("in a list", place, inner[which]))
                errors.append(error)
                if len(errors) > MOST_FAULTS:
                    break
        if errors:
            raise IterableValidationError("a list", errors, annotation)
        return tuple(good)

    return structure


def _mapping_hook(annotation: Any, *, bounded: bool) -> Hook:
    key_type, value_type = get_args(annotation)
    key_hook, value_hook = reader(key_type, bounded=bounded), reader(value_type, bounded=bounded)

    def structure(value: Any, _: Any) -> dict[Any, Any]:
        if not isinstance(value, Mapping):
            raise Refusal(found=found(value), wanted=wanted(annotation))
        good: dict[Any, Any] = {}
        errors: list[Exception] = []
        for key, item in value.items():
            try:
                good[_known_key(key, key_hook, key_type)] = value_hook(item, value_type)
            except (Refusal, ExceptionGroup) as error:
                error.add_note(IterableValidationNote("in a table", key, value_type))
                errors.append(error)
                if len(errors) > MOST_FAULTS:
                    break
        if errors:
            raise IterableValidationError("a table", errors, annotation)
        return good

    return structure


def _known_key(key: str, hook: Hook, key_type: Any) -> Any:
    try:
        return hook(key, key_type)
    except Refusal as error:
        raise Refusal(found="an unknown key", wanted=error.wanted, hint=error.hint) from None


@cache
def _converter() -> Converter:
    return Converter(detailed_validation=True, forbid_extra_keys=True)


def _record_hook(record_type: Any, *, bounded: bool) -> Hook:
    names = keys(record_type)
    hooks: dict[str, Any] = {
        name: override(rename=names[name], struct_hook=reader(annotation, bounded=bounded))
        for name, annotation in field_types(record_type).items()
    }
    structure_table = make_dict_structure_fn(record_type, _converter(), _cattrs_use_linecache=False, **hooks)
    left_out = {names[name]: None for name in _optional_without_default(record_type)}

    def structure(value: Any, _: Any) -> Any:
        if not isinstance(value, Mapping):
            raise Refusal(found=found(value), wanted="a table")
        return structure_table({**left_out, **value}, record_type)

    return structure


def _optional_without_default(record_type: Any) -> list[str]:
    """Fields whose None is left out of files and has no default to come back from."""
    types = field_types(record_type)
    optional = [field for field in fields(record_type) if without_none(types[field.name]) is not None]
    unsaid = [field.name for field in optional if field.default is MISSING]
    for field in optional:
        if field.name not in unsaid and field.default is not None:
            raise TypeError(
                f"{record_type.__name__}.{field.name} is left out of files when None, so its default must be None"
            )
    return unsaid


# From records to tables.


def _quantity_out(unit: Unit) -> Writer:
    def unstructure(value: float) -> str:
        if not math.isfinite(value):
            raise ValueError(f"{value} {unit.symbol} cannot be written in a file")
        return units.written(value, unit)

    return unstructure


def _optional_out(write: Writer) -> Writer:
    return lambda value: None if value is None else write(value)


def _tuple_out(inner: tuple[Any, ...]) -> Writer:
    if inner[-1] is Ellipsis:
        write = writer(inner[0])
        return lambda value: [write(item) for item in value]
    writers = [writer(part) for part in inner]
    return lambda value: [write(item) for write, item in zip(writers, value, strict=True)]


def _mapping_out(key_type: Any, value_type: Any) -> Writer:
    write_key, write = writer(key_type), writer(value_type)
    return lambda value: {write_key(key): write(item) for key, item in value.items()}


def _record_out(record_type: Any) -> Writer:
    names = keys(record_type)
    hooks: dict[str, Any] = {
        name: override(rename=names[name], unstruct_hook=writer(annotation))
        for name, annotation in field_types(record_type).items()
    }
    unstructure = make_dict_unstructure_fn(record_type, _converter(), _cattrs_use_linecache=False, **hooks)
    return lambda record: {key: value for key, value in unstructure(record).items() if value is not None}
