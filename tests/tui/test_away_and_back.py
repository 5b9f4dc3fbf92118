"""A window that is made small and large again at once, as a busy terminal may: the app sees one size, the same as
before, but the terminal has lost what stood there."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual._compositor import CompositorUpdate
from textual.app import App
from textual.geometry import Size

from tests.tui.main_screens import opened
from tests.tui.running import until

ESCAPES = re.compile(r"\x1b\[[0-9;]*[A-Za-z]")


@pytest.mark.parametrize(
    ("name", "first", "last"), [("bench", "The bench", "Q leave"), ("pour: set", "Round 1 of 3", "Space done")]
)
async def test_the_whole_screen_is_painted_again(
    name: str, first: str, last: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    painted: list[str] = []

    def note(app: App[Any], _screen: object, update: CompositorUpdate | None) -> None:
        if update is not None:
            painted.append(ESCAPES.sub("", update.render_segments(app.console)))

    async with opened(name, tmp_path, size=(80, 24), unfinished=0) as app:
        monkeypatch.setattr(App, "_display", note)
        assert app._driver is not None
        app._driver.send_message(events.Resize(Size(80, 24), Size(80, 24)))
        await until(lambda: any(first in each and last in each for each in painted))
