"""The program's own two themes: a dark one, and one of dark words on a light ground for a bright shop.

Everything that matters stands at 7:1 or more against its ground (WCAG 2.2, success criterion 1.4.6), because it is
read through a face shield from two metres away. No colour means anything alone. Terminals of sixteen colours get
forms of their own: what their owner's black, white, yellow or blue looks like nobody knows, but these stay apart.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from textual.theme import Theme

from bench.model.settings import ThemeName

if TYPE_CHECKING:
    from textual.app import App


@dataclass(frozen=True, kw_only=True, slots=True)
class Colours:
    """What a theme is made of. ``alarm`` and ``remind`` are grounds that words of ``filled`` stand on."""

    ground: str
    surface: str
    panel: str
    text: str
    quiet: str
    strong: str
    key: str
    late: str
    caution: str
    alarm: str
    remind: str
    filled: str
    dark: bool

    def theme(self, name: str) -> Theme:
        """The theme of these colours."""
        return Theme(
            name=name,
            primary=self.key,
            secondary=self.quiet,
            warning=self.caution,
            error=self.alarm,
            success=self.key,
            accent=self.late,
            foreground=self.text,
            background=self.ground,
            surface=self.surface,
            panel=self.panel,
            dark=self.dark,
            text_alpha=1.0,
            variables={**self._words(), **self._blocks(), **self._fittings()},
        )

    def _words(self) -> dict[str, str]:
        return {
            "bench-quiet": self.quiet,
            "bench-title": self.strong,
            "bench-count": self.strong,
            "bench-late": self.late,
            "bench-entry": self.key,
            "bench-key": self.key,
            "bench-caution": self.caution,
        }

    def _blocks(self) -> dict[str, str]:
        return {
            "bench-block-ground": self.alarm,
            "bench-block-text": self.filled,
            "bench-remind-ground": self.remind,
            "bench-remind-text": self.filled,
        }

    def _fittings(self) -> dict[str, str]:
        """What Textual's own widgets would otherwise mix for themselves, too faint to be read."""
        return {
            "scrollbar": self.quiet,
            "scrollbar-hover": self.quiet,
            "scrollbar-active": self.key,
            "scrollbar-background": self.panel,
            "scrollbar-background-hover": self.panel,
            "scrollbar-background-active": self.panel,
            "input-cursor-background": self.strong,
            "input-cursor-foreground": self.ground,
            "input-selection-background": self.panel,
        }


BENCH_THEME = Colours(
    ground="#0d0f10",
    surface="#15181a",
    panel="#1c2023",
    text="#f4f1ea",
    quiet="#b9b6ae",
    strong="#ffffff",
    key="#7fd4ff",
    late="#ffc94d",
    caution="#ffc94d",
    alarm="#ff8a7c",
    remind="#ffc94d",
    filled="#0d0f10",
    dark=True,
).theme("bench")

BRIGHT_THEME = Colours(
    ground="#ffffff",
    surface="#f4f2ec",
    panel="#e9e6de",
    text="#111111",
    quiet="#3f3c36",
    strong="#000000",
    key="#002f73",
    late="#6b2e00",
    caution="#6b2e00",
    alarm="#7d1010",
    remind="#5a2e00",
    filled="#ffffff",
    dark=False,
).theme("bright")

BENCH_FEW = Colours(
    ground="#000000",
    surface="#000000",
    panel="#000000",
    text="#ffffff",
    quiet="#c0c0c0",
    strong="#ffffff",
    key="#00ffff",
    late="#ffff00",
    caution="#ffff00",
    alarm="#ffffff",
    remind="#ffff00",
    filled="#000000",
    dark=True,
).theme("bench-16")

BRIGHT_FEW = Colours(
    ground="#ffffff",
    surface="#ffffff",
    panel="#ffffff",
    text="#000000",
    quiet="#000000",
    strong="#000000",
    key="#0000aa",
    late="#000000",
    caution="#000000",
    alarm="#000000",
    remind="#0000aa",
    filled="#ffffff",
    dark=False,
).theme("bright-16")

FULL: Mapping[ThemeName, Theme] = {ThemeName.DARK: BENCH_THEME, ThemeName.BRIGHT: BRIGHT_THEME}
"""For terminals of 256 colours and more."""

FEW: Mapping[ThemeName, Theme] = {ThemeName.DARK: BENCH_FEW, ThemeName.BRIGHT: BRIGHT_FEW}
"""For terminals of sixteen colours or none."""

_MANY = frozenset({"truecolor", "256"})


def register(app: App[Any], begin: ThemeName = ThemeName.DARK) -> None:
    """Make the themes known to the app and begin with that one."""
    for theme in (*FULL.values(), *FEW.values()):
        app.register_theme(theme)
    show(app, begin)


def show(app: App[Any], name: ThemeName) -> None:
    """Show that theme, in the form that this terminal has the colours for."""
    forms = FULL if app.console.color_system in _MANY and not app.no_color else FEW
    app.theme = forms[name].name


def shown(app: App[Any]) -> ThemeName:
    """Which theme is shown."""
    bright = app.theme in (BRIGHT_THEME.name, BRIGHT_FEW.name)
    return ThemeName.BRIGHT if bright else ThemeName.DARK


def is_of_few(app: App[Any]) -> bool:
    """Whether the theme that is shown is one for sixteen colours."""
    return app.theme in (BENCH_FEW.name, BRIGHT_FEW.name)


def switch(app: App[Any]) -> None:
    """Show the other theme."""
    show(app, ThemeName.DARK if shown(app) is ThemeName.BRIGHT else ThemeName.BRIGHT)
