"""The naming rule: a field that holds a quantity says its unit in its name, and no number goes without one.

It is asked of every record that files hold: profiles, settings, and what a session saves.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any, get_args

import pytest

from bench import units
from bench.model.caution import Caution
from bench.model.settings import Settings
from bench.session.job import Job
from bench.session.summary import Summary
from bench.store.event_tables import KINDS
from bench.store.keys import field_types, keys
from bench.store.shelf import RECORD_TYPES
from bench.units import Unit, unit_of

ALL_UNITS = [unit for value in vars(units).values() if (unit := unit_of(value)) is not None]

PLAIN_NUMBERS = {
    "mixing",  # a factor
    "drops",  # a count of drops, with its fraction
}
"""Fields that hold a plain float. A name that carries a unit is better than a place here."""


def _records(*roots: Any) -> Iterator[type]:
    """The records themselves and those that stand inside them."""
    for root in roots:
        if isinstance(root, type) and dataclasses.is_dataclass(root):
            yield root
            yield from _records(*field_types(root).values())
        elif unit_of(root) is None:
            yield from _records(*get_args(root))


ROOTS = (*RECORD_TYPES.values(), Caution, Settings, Job, Summary, *KINDS.values())
RECORDS = sorted(set(_records(*ROOTS)), key=lambda record: record.__qualname__)


def _leaves(annotation: Any) -> Iterator[Any]:
    """The annotations inside, a quantity kept whole."""
    if unit_of(annotation) is None and get_args(annotation):
        for inner in get_args(annotation):
            yield from _leaves(inner)
    else:
        yield annotation


def _units(annotation: Any) -> list[Unit]:
    return [unit for leaf in _leaves(annotation) if (unit := unit_of(leaf)) is not None]


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__qualname__)
def test_a_quantity_says_its_unit_in_its_name_and_a_number_is_a_quantity(record: type) -> None:
    for name, annotation in field_types(record).items():
        for unit in _units(annotation):
            assert name.endswith(unit.suffix), f"{record.__qualname__}.{name} holds {unit.symbol}"
        if float in _leaves(annotation):
            suffixed = any(name.endswith(unit.suffix) for unit in ALL_UNITS)
            assert name in PLAIN_NUMBERS or suffixed, f"{record.__qualname__}.{name} is a number without a unit"


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__qualname__)
def test_records_are_frozen_and_no_two_fields_share_a_key(record: type) -> None:
    params: Any = vars(record)["__dataclass_params__"]
    assert params.frozen
    names = list(keys(record).values())
    assert len(names) == len(set(names))


def test_profiles_hold_no_plain_number_but_factors() -> None:
    """In what makers write by hand every number has a unit; only plans and sessions may hold bare results."""
    for record in RECORDS:
        if record.__module__.startswith("bench.model"):
            for name, annotation in field_types(record).items():
                assert float not in _leaves(annotation) or name == "mixing", f"{record.__qualname__}.{name}"
