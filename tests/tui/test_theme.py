"""Contrast, after WCAG 2.2: the formula of relative luminance and of the contrast ratio [C]. Every pair of colours
that the screens really show is measured, in both themes, in all the colours there are and in the few of old
terminals."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from rich.color import Color, ColorSystem
from rich.style import Style
from textual.theme import Theme

from bench.clock import SystemClock
from bench.model.settings import ThemeName
from bench.store.paths import Home
from bench.store.settings_file import theme_in
from bench.tui import theme
from bench.tui.app import BenchApp
from bench.tui.screens.reading import ReadingScreen
from bench.tui.theme import BENCH_FEW, BENCH_THEME, BRIGHT_FEW, BRIGHT_THEME
from tests.tui.main_screens import SCREENS, opened
from tests.tui.running import press, screen_text, until

Channels = tuple[int, int, int]

THEMES = (BENCH_THEME, BRIGHT_THEME, BENCH_FEW, BRIGHT_FEW)

LEAST = 7.0
"""WCAG 2.2, success criterion 1.4.6, contrast (enhanced): 7:1 for text [C]."""


def luminance(colour: Channels) -> float:
    red, green, blue = (
        value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
        for value in (channel / 255 for channel in colour)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(first: Channels, second: Channels) -> float:
    lighter, darker = sorted((luminance(first), luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def channels(colour: str) -> Channels:
    red, green, blue = (int(colour[place : place + 2], 16) for place in (1, 3, 5))
    return red, green, blue


def test_the_formula_gives_the_published_extremes() -> None:
    # WCAG 2.2, definition of contrast ratio: it ranges from 1 to 21 [C].
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast((119, 119, 119), (119, 119, 119)) == pytest.approx(1)
    # The grey #767676 is known as the darkest that still fails 4.5:1 by a hair on white: 4.54 [M].
    assert contrast(channels("#767676"), (255, 255, 255)) == pytest.approx(4.54, abs=0.01)


TEXT = ("bench-quiet", "bench-title", "bench-count", "bench-late", "bench-entry", "bench-key", "bench-caution")


@pytest.mark.parametrize("name", TEXT)
@pytest.mark.parametrize("one", THEMES, ids=lambda one: one.name)
def test_text_stands_out_seven_to_one(name: str, one: Theme) -> None:
    for ground in (one.background, one.surface, one.panel):
        assert contrast(channels(one.variables[name]), channels(ground or "")) >= LEAST


@pytest.mark.parametrize("block", ["block", "remind"])
@pytest.mark.parametrize("one", THEMES, ids=lambda one: one.name)
def test_filled_blocks_stand_out_seven_to_one_inside_and_out(block: str, one: Theme) -> None:
    ground, text = channels(one.variables[f"bench-{block}-ground"]), channels(one.variables[f"bench-{block}-text"])
    assert contrast(ground, text) >= LEAST
    assert contrast(ground, channels(one.background or "")) >= LEAST


IBM_PC = (
    *("#000000", "#aa0000", "#00aa00", "#aa5500", "#0000aa", "#aa00aa", "#00aaaa", "#aaaaaa"),
    *("#555555", "#ff5555", "#55ff55", "#ffff55", "#5555ff", "#ff55ff", "#55ffff", "#ffffff"),
)
XTERM = (
    *("#000000", "#cd0000", "#00cd00", "#cdcd00", "#0000ee", "#cd00cd", "#00cdcd", "#e5e5e5"),
    *("#7f7f7f", "#ff0000", "#00ff00", "#ffff00", "#5c5cff", "#ff00ff", "#00ffff", "#ffffff"),
)
"""The sixteen colours of the IBM PC's text modes [M], and those that xterm begins with: its file of resources for
colour, XTerm-col.ad, color0 to color15 [C, in a stored public copy]."""


def sixteen(colour: Color, palette: tuple[str, ...], *, bold: bool = False) -> Channels:
    """What a terminal of sixteen colours shows for it: the driver chooses the number, and where bold text is shown
    in brighter colours (the IBM PC's high intensity, xterm's boldColors), the terminal adds eight [C]."""
    number = colour.downgrade(ColorSystem.STANDARD).number
    assert number is not None
    return channels(palette[number + 8 if bold and number < 8 else number])


def many(colour: Color) -> Channels:
    """What a terminal of 256 colours shows for it."""
    red, green, blue = colour.downgrade(ColorSystem.EIGHT_BIT).get_truecolor()
    return red, green, blue


def true(colour: Color) -> Channels:
    red, green, blue = colour.get_truecolor()
    return red, green, blue


def pairs(app: BenchApp) -> Iterator[tuple[str, Color, Color]]:
    """Every piece of text on the screen with its colour and its ground."""
    for text, style in pieces(app):
        assert style.color is not None, text
        assert style.bgcolor is not None, text
        yield text, style.color, style.bgcolor


def pieces(app: BenchApp) -> Iterator[tuple[str, Style]]:
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            style = segment.style or Style()
            if any(character.isalnum() or character in "█▀▄►·!?…↓" for character in segment.text):
                yield segment.text, style


def faint(app: BenchApp, one: Theme) -> Iterator[tuple[str, str, Color, Color]]:
    """What is on the screen too faint, and where."""
    for text, style in pieces(app):
        colour, ground = style.color, style.bgcolor
        assert colour is not None, text
        assert ground is not None, text
        if one in (BENCH_THEME, BRIGHT_THEME):
            ratios = {
                "all": contrast(true(colour), true(ground)),
                "256": contrast(many(colour), many(ground)),
            }
        else:
            ratios = {
                f"{name}, {'brighter' if bold else 'plain'}": contrast(
                    sixteen(colour, palette, bold=bold), sixteen(ground, palette)
                )
                for name, palette in (("IBM PC", IBM_PC), ("xterm", XTERM))
                for bold in {False, bool(style.bold)}
            }
        yield from ((where, text, colour, ground) for where, ratio in ratios.items() if ratio < LEAST)


def wears(app: BenchApp, one: Theme) -> bool:
    """Whether all on the screen has changed to that theme; Textual rounds a colour by one here or there."""
    named = (one.foreground, one.background, one.surface, one.panel, one.primary, *one.variables.values())
    own = [channels(colour) for colour in named if colour]
    seen = {true(colour) for _, *both in pairs(app) for colour in both}
    return all(any(max(map(abs, map(int.__sub__, each, mine))) <= 1 for mine in own) for each in seen)


@pytest.mark.parametrize("name", SCREENS)
async def test_every_pair_of_colours_on_the_screens(name: str, tmp_path: Path) -> None:
    async with opened(name, tmp_path) as app:
        for one in THEMES:
            app.theme = one.name
            await until(partial(wears, app, one), 3.0)
            assert len({pair[1:] for pair in pairs(app)}) > 1
            assert list(faint(app, one)) == [], one.name


async def test_a_key_changes_the_theme_on_the_bench_and_in_help_and_it_stays(tmp_path: Path) -> None:
    async with opened("bench", tmp_path) as app:
        assert theme.shown(app) is ThemeName.DARK
        press(app, "v")
        await until(lambda: theme.shown(app) is ThemeName.BRIGHT)
        app.bench.on_screen_resume()
        before = app.bench.library
        await until(lambda: app.bench.library is not before)
        assert theme.shown(app) is ThemeName.BRIGHT, "settings that say nothing new change nothing"
        press(app, "question_mark", "?")
        await until(lambda: app.screen is not app.bench)
        press(app, "V")
        await until(lambda: theme.shown(app) is ThemeName.DARK)
        assert app.screen is not app.bench, "the key of the theme does not close help"


async def test_settings_choose_the_theme_of_the_first_frame(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text('format = 1\ntheme = "bright"\nunits = "us"\n', encoding="utf-8")
    app = BenchApp(home=Home(tmp_path), clock=SystemClock())
    assert theme.shown(app) is ThemeName.BRIGHT, "before anything is painted"
    async with app.run_test():
        await until(lambda: app.bench.planned)
        assert theme.shown(app) is ThemeName.BRIGHT, "the shelf says nothing else"
        app.bench.follow_theme(ThemeName.DARK)
        assert theme.shown(app) is ThemeName.DARK, "settings that say something new are followed"


async def test_settings_that_do_not_load_choose_no_theme(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text('format = 1\ntheme = "bright"\nunits = "yards"\n', encoding="utf-8")
    app = BenchApp(home=Home(tmp_path), clock=SystemClock())
    assert theme.shown(app) is ThemeName.DARK
    async with app.run_test():
        await until(lambda: app.bench.planned)
        assert app.bench.faults
        assert theme.shown(app) is ThemeName.DARK


async def test_a_theme_chosen_by_a_key_is_there_at_the_next_start(tmp_path: Path) -> None:
    home = Home(tmp_path)
    home.settings.write_text('format = 1\nunits = "us"  # ounces\n', encoding="utf-8")
    async with opened("bench", tmp_path) as app:
        press(app, "v")
        await until(lambda: theme_in(home) is ThemeName.BRIGHT)
    assert theme.shown(BenchApp(home=home, clock=SystemClock())) is ThemeName.BRIGHT
    assert home.settings.read_text(encoding="utf-8").endswith('units = "us"  # ounces\n')
    async with opened("bench", tmp_path) as app:
        press(app, "question_mark", "?")
        await until(lambda: app.screen is not app.bench)
        press(app, "v")
        await until(lambda: theme_in(home) is ThemeName.DARK)


async def test_a_theme_that_cannot_be_kept_is_shown_and_said(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text("format = 1\nunits =\n", encoding="utf-8")
    async with opened("bench", tmp_path) as app:
        press(app, "v")
        await until(lambda: isinstance(app.screen, ReadingScreen))
        assert theme.shown(app) is ThemeName.BRIGHT
        await until(lambda: "settings.toml" in screen_text(app))
