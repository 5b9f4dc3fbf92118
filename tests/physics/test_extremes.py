"""Figures of any size into every function that takes plain figures: what cannot be reckoned is a BenchError or an
ArithmeticError, which ``bench.errors.reckonable`` says in a sentence, and nothing else."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import random
from collections.abc import Callable, Iterator
from dataclasses import MISSING, fields
from typing import Any, get_type_hints

import pytest

import bench.physics
from bench.errors import BenchError
from bench.physics.cooling import Section
from bench.physics.cup import Cup
from bench.physics.mould import Block
from bench.physics.substance import Substance

_SIZES = [1e-300, 1e-150, 1e-30, 1e-6, 0.01, 0.5, 1.0, 10.0, 100.0, 1e4, 1e8, 1e30, 1e150, 1e300]
_TEMPERATURES_C = [-273.15, -40.0, 0.0, 20.0, 40.0, 60.0, 75.0, 90.0, 165.0, 175.0, 400.0, 2000.0]
_CALLS = 30
_RECORDS = (Substance, Cup, Block, Section)
_LEFT_OUT = {
    "erfinv": "a share is its caller's to keep between 0 and 1",
    "time_to_touch": "steps through a cooling, which some of these sizes make very long",
    "likely_unit": "takes a pair",
}


def _functions() -> Iterator[Callable[..., object]]:
    for module in pkgutil.iter_modules(bench.physics.__path__):
        held = importlib.import_module(f"bench.physics.{module.name}")
        for name, each in vars(held).items():
            own = inspect.isfunction(each) and each.__module__ == held.__name__
            if own and not name.startswith("_") and name not in _LEFT_OUT and _takes_plain_figures(each):
                yield each


def _takes_plain_figures(function: Callable[..., object]) -> bool:
    hints = get_type_hints(function)
    taken = [hints[each.name] for each in inspect.signature(function).parameters.values()]
    return all(hint in (*_RECORDS, float, int, bool, float | None) for hint in taken)


def _value(name: str, hint: Any, chance: random.Random) -> Any:
    if hint in _RECORDS:
        hints = get_type_hints(hint)
        told = [each for each in fields(hint) if each.default is MISSING or chance.random() < 0.5]
        return hint(**{each.name: _value(each.name, hints[each.name], chance) for each in told})
    if hint is bool:
        return chance.random() < 0.5
    if hint is int:
        return chance.choice([1, 2, 10])
    return chance.choice(_TEMPERATURES_C if name.endswith("_c") else _SIZES)


@pytest.mark.parametrize(
    "function", list(_functions()), ids=lambda each: f"{each.__module__[14:]}.{each.__name__}"
)
def test_no_size_of_a_figure_is_a_defect(function: Callable[..., object]) -> None:
    chance = random.Random(function.__name__)
    hints = get_type_hints(function)
    for _ in range(_CALLS):
        placed, named = [], {}
        try:
            for each in inspect.signature(function).parameters.values():
                if each.kind is each.VAR_KEYWORD:
                    continue
                value = _value(each.name, hints[each.name], chance)
                if each.kind is each.KEYWORD_ONLY:
                    named[each.name] = value
                else:
                    placed.append(value)
            function(*placed, **named)
        except (BenchError, ArithmeticError):
            continue
