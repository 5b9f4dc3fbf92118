"""How often a screen is opened again."""

from __future__ import annotations

from bench.tui.opening import Patience


def test_a_screen_is_opened_again_twice_a_minute_and_no_more() -> None:
    patience = Patience()
    assert [patience.allows(at_s) for at_s in (0.0, 1.0, 2.0, 59.0)] == [True, True, False, False]


def test_patience_comes_back() -> None:
    patience = Patience()
    assert [patience.allows(at_s) for at_s in (0.0, 50.0, 60.0, 61.0, 110.0)] == [True, True, True, False, True]
