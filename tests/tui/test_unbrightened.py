from __future__ import annotations

from pathlib import Path

import pytest
from rich.style import Style

from bench.tui.theme import BENCH_FEW, BENCH_THEME, BRIGHT_FEW
from bench.tui.unbrightened import Unbrightened, unbrightened
from tests.tui.main_screens import opened


@pytest.mark.parametrize(
    ("colour", "stays"),
    [("#000000", False), ("#0000aa", False), ("#c0c0c0", False), ("#ffffff", True), ("#00ffff", True)],
)
def test_bold_stays_where_there_is_no_brighter_colour(colour: str, stays: bool) -> None:
    style = Style(color=colour, bgcolor="#ffff00", bold=True, underline=True)
    kept = unbrightened(style)
    assert bool(kept.bold) is stays
    assert (kept.color, kept.bgcolor, kept.underline) == (style.color, style.bgcolor, True)


def test_what_is_not_bold_or_has_no_colour_is_left_alone() -> None:
    for style in (Style(color="#000000"), Style(bold=True), Style(bold=True, color="default")):
        assert unbrightened(style) == style


async def test_it_is_at_work_in_the_themes_of_few_colours_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with opened("reading", tmp_path) as app:
        for one, wanted in ((BENCH_FEW, True), (BRIGHT_FEW, True), (BENCH_THEME, False)):
            app.theme = one.name
            assert any(isinstance(each, Unbrightened) for each in app.get_line_filters()) is wanted
        monkeypatch.setattr(app, "no_color", True)
        app.theme = BRIGHT_FEW.name
        assert not any(isinstance(each, Unbrightened) for each in app.get_line_filters()), "bold changes no colour"
