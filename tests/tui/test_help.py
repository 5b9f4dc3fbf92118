"""The help in a narrow window."""

from __future__ import annotations

from pathlib import Path

from tests.tui.main_screens import opened
from tests.tui.running import screen_text, until


async def test_what_a_key_does_stands_in_under_it_however_many_rows_it_takes(tmp_path: Path) -> None:
    async with opened("help", tmp_path, size=(40, 24)) as app:
        await until(lambda: "any other key closes this" in screen_text(app))
        rows = [row for row in screen_text(app).split("\n")[2:-1] if row.strip(" ▁▂▃▄▅▆▇█")]
        keys = [row.strip(" ▁▂▃▄▅▆▇█") for row in rows if not row.startswith(" " * 6)]
        assert keys[:3] == ["Space, Enter, Page Down", "B, Backspace, Page Up", "P"]
        assert all(not row.startswith(" " * 7) for row in rows)


async def test_how_to_scroll_is_said_before_how_to_change_the_theme(tmp_path: Path) -> None:
    async with opened("help", tmp_path, size=(48, 12)) as app:
        await until(lambda: "any other key closes this  ↑ ↓ scroll" in screen_text(app))
        assert "bright or dark" not in screen_text(app).split("\n")[-1]
