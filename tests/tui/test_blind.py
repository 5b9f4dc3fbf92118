"""Keys typed while the shelf is still being read: none of them counts, the rest of their number neither."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.message import Message

from bench.clock import SystemClock
from bench.store.paths import Home
from bench.tui.app import BenchApp
from bench.tui.blind import RESTED_S, Blind
from bench.tui.choice import FIRST_COUNT
from bench.tui.widgets.choosing import Choosing
from tests.tui.running import press, screen_text, until


def test_a_number_begun_blind_is_dropped_to_its_last_digit() -> None:
    blind = Blind()
    assert blind.hides(1.0)
    assert blind.hides(1.2)
    blind.seen_from_s = 1.3
    assert blind.hides(1.4), "a digit of a number whose first digits are gone"
    assert blind.hides(1.4 + RESTED_S - 0.01)
    assert not blind.hides(1.4 + 2 * RESTED_S)
    assert not blind.hides(1.45 + 2 * RESTED_S), "typing fast is no reason once keys count"


def test_a_key_that_waited_in_the_queue_is_still_blind() -> None:
    blind = Blind(seen_from_s=10.0)
    assert blind.hides(9.9)
    assert not blind.hides(10.0 + RESTED_S)


class SlowShelf(BenchApp):
    """The shelf is not read before the test says so."""

    def __init__(self, home: Path) -> None:
        super().__init__(home=Home(home), clock=SystemClock())

    def on_read_shelf(self, message: Message) -> None:
        message.prevent_default()


async def test_keys_before_the_shelf_change_nothing(tmp_path: Path) -> None:
    app = SlowShelf(tmp_path)
    async with app.run_test(size=(80, 24)):
        await until(lambda: "Reading the shelf" in screen_text(app))
        dark = app.theme
        for key in ("3", "4", "0", "m", "v", "down", "l", "enter", "r"):
            press(app, key)
        await until(lambda: app._message_queue is not None and app._message_queue.empty())
        app.read_shelf()
        await until(lambda: app.bench.planned)
        choice = app.bench.query_one(Choosing).choice
        assert choice is not None
        assert (choice.recipe, choice.count, choice.moulds) == ("ember-under-peat", FIRST_COUNT, 1)
        assert (app.screen, app.theme) == (app.bench, dark)
        app.bench.blind = Blind(seen_from_s=0.0)
        press(app, "2")
        await until(lambda: app.bench.query_one(Choosing).choice.count == 2)  # type: ignore[union-attr]


@pytest.mark.parametrize("key", ["ctrl+q", "ctrl+c", "q"])
async def test_the_keys_that_leave_do_so_before_there_is_anything_to_see(key: str, tmp_path: Path) -> None:
    app = SlowShelf(tmp_path)
    async with app.run_test(size=(80, 24)):
        await until(lambda: "Reading the shelf" in screen_text(app))
        press(app, key)
        await until(lambda: app.return_value == 0)
