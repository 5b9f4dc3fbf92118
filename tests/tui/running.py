"""Running the app inside a test: keys go in as the terminal sends them, and a test waits for what it expects."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from typing import Any

from textual import events
from textual.app import App


async def until(condition: Callable[[], object], timeout_s: float = 10.0) -> None:
    """Let the app work until the condition holds."""
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
