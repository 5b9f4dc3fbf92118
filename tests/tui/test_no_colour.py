"""Without any colour each state is still told by a word or a shape: NO_COLOR, as no-color.org asks for it [M]."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from rich.color import Color
from rich.style import Style
from textual.color import Color as GroundColor

from bench.tui.app import BenchApp
from bench.tui.uncoloured import uncoloured
from bench.tui.widgets.marked_list import CHOSEN, HERE
from tests.tui.main_screens import SCREENS, opened
from tests.tui.running import press, screen_text, until

TOLD: Mapping[str, tuple[str, ...]] = {
    "bench": (f"{HERE}Resume", f"{CHOSEN}Ember under Peat", f"{CHOSEN}Ribbon leech", "Enter resume"),
    "past": (f"{HERE}20", "unfinished"),
    "pour: start": ("Space start",),
    "pour: card": ("READ THIS CARD", "!  ", "A I have read it"),
    "pour: heat": ("!  ", "estimate"),
    "pour: set": ("goes on by itself",),
    "pour: shot": ("» The shell cup is under its band", "!  "),
    "pour: alarm": ("STOP", "scorches above", "A I have read this"),
    "set aside": ("Set this session aside?",),
    "leave": ("Leave the bench?",),
    "finish": ("Complete.",),
}
"""What tells the state of each screen: a word, or a mark beside what it is about."""


@pytest.mark.parametrize("name", TOLD)
async def test_every_state_is_told_by_a_word_or_a_mark(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with opened(name, tmp_path, size=(100, 30)) as app:
        assert app.no_color
        for words in TOLD[name]:
            await until(lambda words=words: words in screen_text(app))  # type: ignore[misc]
        assert all(is_default(colour) for style in styles(app) for colour in (style.color, style.bgcolor))


async def test_an_alarm_and_a_cursor_are_turned_round_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    for name, turned in (("pour: alarm", True), ("bench", True), ("pour: set", False)):
        async with opened(name, tmp_path / name.replace(": ", "-"), size=(100, 30)) as app:
            await until(lambda name=name: all(words in screen_text(app) for words in TOLD[name]))  # type: ignore[misc]
            assert any(style.reverse for style in styles(app)) is turned, name


def styles(app: BenchApp) -> list[Style]:
    """What reaches the terminal: the filters have been at it."""
    strips = app.screen._compositor.render_strips()
    return [segment.style for strip in strips for segment in strip if segment.style is not None]


def is_default(colour: Color | None) -> bool:
    return colour is None or colour.is_default


def test_a_style_keeps_all_but_its_colours() -> None:
    ground = GroundColor.parse("#101010")
    plain = uncoloured(Style(color="#ff8800", bgcolor="#141414", bold=True, meta={"key": "row"}), ground)
    assert (plain.bold, bool(plain.reverse), plain.meta) == (True, False, {"key": "row"})
    assert uncoloured(Style(color="#000000", bgcolor="#ffcc00"), ground).reverse
    assert not uncoloured(Style(bgcolor="#ffffff", reverse=True), ground).reverse


async def test_the_mark_goes_where_the_keys_go(tmp_path: Path) -> None:
    async with opened("bench", tmp_path) as app:
        await until(lambda: f"{HERE}Resume" in screen_text(app))
        press(app, "right")
        await until(lambda: f"{HERE}Ember under Peat" in screen_text(app))
        assert f"{CHOSEN}Resume" in screen_text(app)
        press(app, "down")
        await until(lambda: f"{HERE}Hoarfrost Reed" in screen_text(app))
        assert f"{HERE}Ember under Peat" not in screen_text(app)


def test_every_screen_with_a_state_is_looked_at() -> None:
    assert TOLD.keys() <= SCREENS.keys()
