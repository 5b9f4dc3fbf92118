"""Every letter that is a key is one as a capital too: with caps lock on, a screen must not look dead."""

from __future__ import annotations

import pytest
from textual.app import App
from textual.screen import Screen

from bench.tui.app import BenchApp
from bench.tui.screens.another import AnotherScreen
from bench.tui.screens.aside import SetAsideScreen
from bench.tui.screens.bench import BenchScreen
from bench.tui.screens.leave import LeaveScreen
from bench.tui.screens.past import PastScreen, PastSessionScreen
from bench.tui.screens.reading import ReadingScreen


@pytest.mark.parametrize(
    "owner",
    [
        BenchApp,
        BenchScreen,
        PastScreen,
        PastSessionScreen,
        ReadingScreen,
        AnotherScreen,
        SetAsideScreen,
        LeaveScreen,
    ],
    ids=lambda owner: owner.__name__,
)
def test_a_capital_is_bound_to_what_its_letter_is(owner: type[Screen[None] | App[None]]) -> None:
    bound = {
        key: binding.action for key, held in owner._merge_bindings().key_to_bindings.items() for binding in held
    }
    letters = {key: action for key, action in bound.items() if len(key) == 1 and key.isalpha()}
    assert {key.swapcase(): action for key, action in letters.items()} == letters
