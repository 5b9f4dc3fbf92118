"""``pourbench pedal``: the screen that learns a pedal, alone."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from bench.model.key_names import Action
from bench.model.settings import ThemeName
from bench.store.paths import Home
from bench.store.settings_file import add_forward_key, theme_in
from bench.tui.guarded import GuardedApp, ready_the_terminal, steady_driver
from bench.tui.screens.keys import KeysScreen
from bench.tui.theme import register

if TYPE_CHECKING:
    from textual.types import CSSPathType


class PedalApp(GuardedApp):
    """Opens on the pedal and ends with it."""

    CSS_PATH: ClassVar[CSSPathType | None] = Path(__file__).with_name("bench.tcss")
    TITLE = "pourbench pedal"
    ENABLE_COMMAND_PALETTE = False

    def __init__(
        self, *, chosen: Mapping[Action, tuple[str, ...]], save: Callable[[str], None], theme: ThemeName
    ) -> None:
        super().__init__(driver_class=steady_driver())
        self._chosen = chosen
        self._save = save
        register(self, theme)

    def on_ready(self) -> None:
        """Ask for the pedal; whatever came of it, the program ends well."""
        self.push_screen(KeysScreen(chosen=self._chosen, save=self._save), lambda _saved: self.exit(0))


def open_pedal(home: Home, chosen: Mapping[Action, tuple[str, ...]]) -> int:
    """Run it on this terminal and return the exit code. What crashed it is raised again."""
    ready_the_terminal()
    app = PedalApp(chosen=chosen, save=partial(add_forward_key, home), theme=theme_in(home))
    result = app.run()
    if app.crash is not None:
        raise app.crash
    return app.stop_code if app.stop_code is not None else result or 0
