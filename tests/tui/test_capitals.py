"""Every letter that is a key is one as a capital too: with caps lock on, a screen must not look dead."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator

import pytest
from textual.dom import DOMNode

import bench.tui
from bench.tui.guarded import GuardedApp
from bench.tui.screens.bench_doors import BenchDoors
from bench.tui.screens.leave import LeaveScreen


def owners() -> Iterator[type[DOMNode]]:
    """Whatever of the screens binds keys."""
    for module in pkgutil.walk_packages(bench.tui.__path__, "bench.tui."):
        for held in vars(importlib.import_module(module.name)).values():
            is_own = isinstance(held, type) and issubclass(held, DOMNode) and held.__module__ == module.name
            if is_own and "BINDINGS" in vars(held):
                yield held


OWNERS = tuple(owners())


def test_those_that_bind_keys_are_found() -> None:
    assert {GuardedApp, BenchDoors, LeaveScreen} <= set(OWNERS)


@pytest.mark.parametrize("owner", OWNERS, ids=lambda owner: owner.__name__)
def test_a_capital_is_bound_to_what_its_letter_is(owner: type[DOMNode]) -> None:
    bound = {
        key: binding.action for key, held in owner._merge_bindings().key_to_bindings.items() for binding in held
    }
    letters = {key: action for key, action in bound.items() if len(key) == 1 and key.isalpha()}
    assert {key.swapcase(): action for key, action in letters.items()} == letters
