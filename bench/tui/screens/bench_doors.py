"""Where the bench leads: other screens, a session to go on with, one to set aside, the other theme."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Static

from bench.clock import Clock
from bench.errors import BenchError, Fault
from bench.model.settings import ThemeName
from bench.tui import theme
from bench.tui.blind import Blind
from bench.tui.messages import (
    OpenSession,
    ReadShelf,
    ResumeSession,
    SessionRefused,
    ShelfShown,
    ShowCalibration,
    ShowColour,
    ShowPast,
    ShowPedal,
    ThemeSwitched,
    WaitsRead,
)
from bench.tui.present_plan import faults_line
from bench.tui.waiting import Unfinished
from bench.tui.widgets.choosing import Choosing
from bench.tui.widgets.waits import Waits

if TYPE_CHECKING:
    from bench.model.library import Library
    from bench.session.events import StopReason
    from bench.session.session import Session
    from bench.tui.screens.another import Another
    from bench.tui.waiting import Waiting


LOOK_AGAIN_S = 5.0
"""How often what waits is looked at again: another window may work at it, and time goes on."""

LOOK_SOON_S = 1.0
"""How often while another window has some of it open: that window may close."""


class BenchDoors(Screen[None]):
    """The part of the bench screen that asks for something else than a pour."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("c,C", "colour", "Colour", priority=True),
        Binding("l,L", "past", "Past sessions", priority=True),
        Binding("h,H", "heater", "Heater's power", priority=True),
        Binding("k,K", "pedal", "Pedal", priority=True),
        Binding("f,F", "faults", "Files that did not load", priority=True),
        Binding("x,X", "set_aside", "Set aside", priority=True),
        Binding("v,V", "theme", "Bright or dark", priority=True),
        Binding("question_mark", "help", "Help", priority=True),
        Binding("q,Q", "app.quit", "Leave", priority=True),
    ]

    def __init__(self, clock: Clock, theme_asked: ThemeName) -> None:
        super().__init__()
        self.clock = clock
        self.library: Library | None = None
        self.faults: tuple[Fault, ...] = ()
        self.blind = Blind()
        self._theme_asked = theme_asked

    def on_mount(self) -> None:
        """Keep what is said of waiting sessions true."""
        self.set_interval(LOOK_AGAIN_S, self.look_again)
        self.set_interval(LOOK_SOON_S, self.look_soon)

    def begin_to_count_keys(self) -> None:
        """The shelf stands on the bench. Dated before it is painted: whoever answers what is seen is later."""
        if self.blind.seen_from_s is None:
            self.post_message(ShelfShown())

    def on_shelf_shown(self, message: ShelfShown) -> None:
        """From then on keys count."""
        self.blind.seen_from_s = message.time

    def look_again(self) -> None:
        """Look again at the sessions that wait, while they are seen."""
        waiting = self.query_one(Waits).waiting
        if self.is_current and waiting.unfinished:
            self.read_waits(waiting)

    def look_soon(self) -> None:
        """Look again where it is said of one that another window has it open."""
        if any(each.elsewhere for each in self.query_one(Waits).waiting.unfinished):
            self.look_again()

    @work(thread=True, exclusive=True, group="waits")
    def read_waits(self, before: Waiting) -> None:
        """Read them off the screen's thread."""
        from bench.tui.past import unfinished_again

        self.post_message(WaitsRead(before, unfinished_again(before.unfinished)))

    def on_waits_read(self, message: WaitsRead) -> None:
        """Show them, unless something newer is shown already."""
        waits = self.query_one(Waits)
        if waits.waiting is message.before:
            waits.show_again(message.unfinished, self.clock.now().wall)
            self.show_keys()

    def show_keys(self) -> None:
        """The keys of what the cursor is on."""
        raise NotImplementedError

    def show_faults(self) -> None:
        """That files did not load, as much of it as fits."""
        shown = self.query_one("#faults", Static)
        shown.display = bool(self.faults)
        if self.faults:
            shown.update(faults_line(self.faults, self.size.width - 2))

    def open_new(self, session: Session, *, rehearsal: bool) -> None:
        """Open a planned session; a pour beside one that waits already is asked about first."""
        from bench.tui.screens.another import Another, AnotherScreen

        waits = self.query_one(Waits).first_real()
        if rehearsal or waits is None:
            self.post_message(OpenSession(session, rehearsal=rehearsal))
            return

        def asked(answer: Another | None) -> None:
            if answer is Another.NEW:
                self.post_message(OpenSession(session, rehearsal=False))
            elif answer is Another.WAITING:
                self.resume(waits)

        self.app.push_screen(AnotherScreen(waits, self.clock.now().wall), asked)

    def action_colour(self) -> None:
        """Look at the chosen recipe's colours, and change them."""
        choice = self.query_one(Choosing).choice
        if choice is not None and choice.recipe and choice.mould:
            self.post_message(ShowColour(choice.recipe, choice.mould))

    def action_heater(self) -> None:
        """Measure the heater's power."""
        choice = self.query_one(Choosing).choice
        self.post_message(ShowCalibration(choice.recipe if choice else ""))

    def action_theme(self) -> None:
        """The bright screen instead of the dark one, or the other way round."""
        theme.switch(self.app)
        self.post_message(ThemeSwitched())

    def action_help(self) -> None:
        """What every key does here."""
        from bench.tui.screens.help import BenchHelpScreen

        self.app.push_screen(BenchHelpScreen())

    def action_set_aside(self) -> None:
        """End the session that the cursor is on, once a reason is given."""
        from bench.tui.screens.aside import SetAsideScreen

        unfinished = self.query_one(Waits).under_cursor()
        if unfinished is None:
            return

        def asked(reason: StopReason | None) -> None:
            if reason is not None:
                self.set_aside(unfinished, reason)

        self.app.push_screen(SetAsideScreen(unfinished), asked)

    @work(thread=True, group="aside")
    def set_aside(self, unfinished: Unfinished, reason: StopReason) -> None:
        """End it off the screen's thread, and look again at what waits."""
        from bench.tui.setting_aside import set_aside

        try:
            set_aside(unfinished.path, reason, self.clock)
        except BenchError as error:
            self.post_message(SessionRefused(str(error)))
        self.post_message(ReadShelf())

    def action_past(self) -> None:
        """Look at past sessions."""
        self.post_message(ShowPast())

    def action_pedal(self) -> None:
        """Have a pedal learnt."""
        self.post_message(ShowPedal())

    def action_faults(self) -> None:
        """Read what is wrong with the files that did not load."""
        from bench.tui.screens.reading import ReadingScreen

        if self.faults:
            sentences = [fault.sentence() for fault in self.faults]
            self.app.push_screen(ReadingScreen("Files that did not load", sentences))

    def on_waits_clicked(self, message: Waits.Clicked) -> None:
        """A session to go on with was clicked."""
        self.resume(message.session)

    def resume(self, unfinished: Unfinished) -> None:
        """Go on with a session."""
        self.post_message(ResumeSession(unfinished.path, rehearsal=unfinished.rehearsal))

    def follow_theme(self, asked: ThemeName) -> None:
        """Settings are followed when they say something new: what was switched by a key stays switched."""
        if asked is not self._theme_asked:
            self._theme_asked = asked
            theme.show(self.app, asked)
