"""Running the app inside a test: keys go in as the terminal sends them, and a test waits for what it expects."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from typing import Any

from textual import events
from textual.app import App


@asynccontextmanager
async def running(app: App[Any], *, size: tuple[int, int]) -> AsyncIterator[None]:
    """The app in a window of that size. It is not ended before it has taken every key: the library's own end takes
    its screens away while it still takes keys, which the end of a real program does not."""
    async with app.run_test(size=size):
        yield
        await keys_taken(app)


async def keys_taken(app: App[Any]) -> None:
    """Wait until every key pressed so far has come to the app, unless it is ending."""
    driver, taken = app._driver, asyncio.Event()
    if driver is None or app._exit or app._exception is not None:
        return
    driver.send_message(events.Callback(callback=taken.set))
    await until(lambda: taken.is_set() or app._exit or app._exception is not None)


async def until(condition: Callable[[], object], timeout_s: float = 60.0) -> None:
    """Let the app work until the condition holds. The limit is reached on no machine when all is well."""
    end = time.monotonic() + timeout_s
    while not condition():
        assert time.monotonic() < end, "what was waited for did not come"
        await asyncio.sleep(0.002)


def press(app: App[Any], key: str, character: str | None = None) -> None:
    """One key, on the road that the terminal's keys take."""
    driver = app._driver
    assert driver is not None
    driver.send_message(events.Key(key, character if character is not None or len(key) > 1 else key))


def screen_text(app: App[Any]) -> str:
    """What a person would read on the screen."""
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips)
