"""The screens that open from the bench and go back to it."""

from __future__ import annotations

import threading
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from textual import work

from bench.clock import Clock
from bench.errors import BenchError
from bench.store.paths import Home
from bench.tui.guarded import GuardedApp
from bench.tui.messages import (
    ChoiceSettled,
    ReadShelf,
    SessionInUse,
    SessionOpened,
    SessionRefused,
    ShowCalibration,
    ShowColour,
    ShowPast,
    ShowPedal,
    ThemeNotKept,
    ThemeSwitched,
)
from bench.tui.screens.bench import BenchScreen
from bench.tui.theme import shown
from bench.tui.widgets.choosing import Choosing

if TYPE_CHECKING:
    from bench.tui.choice import Choice
    from bench.tui.going import Running
    from bench.tui.screens.calibrate import CalibrateScreen
    from bench.tui.screens.colour import ColourScreen
    from bench.tui.screens.colour_asks import Kept
    from bench.tui.screens.onlook import OnlookEnd


NOT_KEPT = "The next start will not look like this"


class DoorsApp(GuardedApp):
    """An app with the bench. ``colour`` and ``calibration`` are the latest of their screens that were opened,
    ``running`` is the session that is worked at."""

    home: Home
    clock: Clock
    bench: BenchScreen
    running: Running | None = None
    colour: ColourScreen | None = None
    calibration: CalibrateScreen | None = None
    _one_theme = threading.Lock()
    _one_choice = threading.Lock()
    _kept: Choice | None = None

    def on_show_past(self, _message: ShowPast) -> None:
        """Look at past sessions."""
        from bench.tui.screens.past import PastScreen

        self.push_screen(PastScreen(self.home, self.bench.settings))

    def on_show_pedal(self, _message: ShowPedal) -> None:
        """Learn what a pedal sends."""
        from bench.store.settings_file import add_forward_key
        from bench.tui.screens.keys import KeysScreen

        save = partial(add_forward_key, self.home)
        self.push_screen(KeysScreen(chosen=self.bench.settings.keys, save=save))

    def on_show_calibration(self, message: ShowCalibration) -> None:
        """Measure the heater's power. One that was saved changes every plan."""
        from bench.session.calibration import rig_for
        from bench.tui.screens.calibrate import CalibrateScreen

        library = self.bench.library
        if library is None:
            return
        recipe = library.recipes.get(message.recipe)
        try:
            rig = rig_for(library, plastic=recipe.plastic if recipe else None)
        except BenchError as error:
            self.tell("The heater cannot be measured", str(error))
            return
        self.bench.planned = None
        self.calibration = CalibrateScreen(home=self.home, library=library, rig=rig, clock=self.clock)
        self.push_screen(self.calibration)

    def on_show_colour(self, message: ShowColour) -> None:
        """Build a colour."""
        from bench.tui.screens.colour import ColourScreen

        if self.bench.library is not None:
            self.colour = ColourScreen(
                home=self.home, library=self.bench.library, recipe=message.recipe, mould=message.mould
            )
            self.push_screen(self.colour, self._coloured)

    def _coloured(self, kept: Kept | None) -> None:
        """A colour was built: stand on it, once the shelf is read anew."""
        if kept is not None:
            self.bench.query_one(Choosing).stand_on(kept.recipe, kept.mould)

    def on_theme_switched(self, _message: ThemeSwitched) -> None:
        """Have the next start begin with it."""
        self.keep_theme()

    @work(thread=True, group="theme")
    def keep_theme(self) -> None:
        """Put the theme that is shown into settings, off the screen's thread. Of several the last one stays."""
        from bench.store.settings_file import set_theme

        with self._one_theme:
            try:
                set_theme(self.home, shown(self))
            except BenchError as error:
                self.post_message(ThemeNotKept(str(error)))

    def on_choice_settled(self, message: ChoiceSettled) -> None:
        """Have the next start begin with it. The first one is what this start began with."""
        before, self._kept = self._kept, message.choice
        if before is not None and before != message.choice:
            self.keep_choice()

    @work(thread=True, group="choice")
    def keep_choice(self) -> None:
        """Put the choice on disk, off the screen's thread. Of several the last one stays."""
        from bench.store.last_choice import keep_last_choice

        with self._one_choice:
            chosen = self._kept.to_keep() if self._kept is not None else None
            if chosen is not None:
                # A comfort: where it cannot be kept, the next start begins as this one did.
                with suppress(OSError):
                    keep_last_choice(self.home, chosen)

    def on_theme_not_kept(self, message: ThemeNotKept) -> None:
        """Say so, but never over a session that runs."""
        if self.running is None:
            self.tell(NOT_KEPT, message.why)
        else:
            self.notify(message.why, title=NOT_KEPT, markup=False)

    @work(thread=True, exclusive=True, group="resume")
    def open_file(self, path: Path) -> None:
        """Read and lock the file, off the screen's thread."""
        from bench.store.lock import InUse
        from bench.store.onlooker import Onlooker
        from bench.store.sessions import open_for_resume

        onlooker = Onlooker(path)
        try:
            try:
                file = open_for_resume(path)
            except InUse:
                self.post_message(SessionInUse(onlooker, onlooker.look()))
                return
        except BenchError as error:
            self.post_message(SessionRefused(str(error)))
        else:
            self.post_message(SessionOpened(file))

    def on_session_in_use(self, message: SessionInUse) -> None:
        """Look on, since another copy of the program writes it."""
        from bench.tui.screens.onlook import OnlookScreen

        if self.running is None:
            self.push_screen(
                OnlookScreen(
                    look=message.onlooker.look,
                    seen=message.seen,
                    clock=self.clock,
                    settings=self.bench.settings,
                ),
                partial(self._looked_on, message.onlooker.path),
            )

    def _looked_on(self, path: Path, end: OnlookEnd | None) -> None:
        """Nobody looks on any more: go on with the session here, read how it ended, or be back on the bench."""
        if end is not None and end.resume:
            self.open_file(path)
        elif end is not None and end.over is not None:
            from bench.tui.screens.past import PastSessionScreen

            self.push_screen(PastSessionScreen(end.over, self.bench.settings))
        self.post_message(ReadShelf())

    def on_session_refused(self, message: SessionRefused) -> None:
        """Say why nothing opens."""
        self.tell("This session stays closed", f"{message.why.rstrip('.')}.")

    def may_leave(self) -> bool:
        """Whether nothing would be lost or left hot on the screen that is shown; it asks where something would."""
        asking = next((each for each in (self.colour, self.calibration) if each is self.screen), None)
        return asking is None or asking.may_leave()

    def tell(self, heading: str, *sentences: str) -> None:
        """Something to read, over whatever is shown."""
        from bench.tui.screens.reading import ReadingScreen

        self.push_screen(ReadingScreen(heading, sentences))
