"""The bench: what waits, what to pour next, and the plan beside it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.timer import Timer
from textual.widgets import Static

from bench.clock import Clock
from bench.errors import BenchError
from bench.model.settings import Settings, ThemeName
from bench.tui.choice import Choice
from bench.tui.messages import (
    ChoiceSettled,
    PlanMade,
    PlanRefused,
    ReadShelf,
    ShelfRead,
)
from bench.tui.present import sentence
from bench.tui.present_plan import (
    EMPTY_SHELF,
    KEYS,
    NO_COUNT,
    READING,
    fitting_keys,
    go_on_keys,
    refused,
)
from bench.tui.screens.looking_back import LookingBack
from bench.tui.widgets.choosing import Choosing
from bench.tui.widgets.waits import Waits

PLAN_AFTER_S = 0.08
"""A held arrow key goes through a list without a plan for every line of it."""


class Start(Enum):
    """What to do with a plan once it is made."""

    POUR = 1
    REHEARSE = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Wanted:
    """What was asked for while that choice's plan was not made yet."""

    start: Start
    choice: Choice


class BenchScreen(LookingBack):
    """The first screen. It turns keys into choices and requests, and shows what comes back in messages."""

    HORIZONTAL_BREAKPOINTS: list[tuple[int, str]] | None = [(0, "-narrow"), (72, "-normal"), (130, "-wide")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS: list[tuple[int, str]] | None = [(0, "-short"), (20, "-middling")]  # noqa: RUF012

    BINDINGS: ClassVar[list[BindingType]] = [
        # All of them priority: otherwise a key that is not would be overtaken by the next one that is.
        Binding("enter", "go", "Pour", priority=True),
        Binding("r,R", "rehearse", "Rehearse", priority=True),
        Binding("plus,equals_sign", "more(1)", "More", priority=True),
        Binding("minus", "more(-1)", "Fewer", priority=True),
        *(Binding(str(digit), f"digit({digit})", "Count", priority=True) for digit in range(10)),
        Binding("backspace", "rub_out", "Rub out", priority=True),
        Binding("m,M", "next_moulds", "Moulds", priority=True),
        Binding("t,T", "other_tail", "Tails", priority=True),
        Binding("right", "app.focus_next", "Next list", priority=True),
        Binding("left", "app.focus_previous", "List before", priority=True),
    ]

    def __init__(self, clock: Clock, theme_asked: ThemeName) -> None:
        super().__init__(clock, theme_asked)
        self.planned: PlanMade | None = None
        self.refused: PlanRefused | None = None
        self.wanted: Wanted | None = None
        self.pause: Timer | None = None
        self._is_read = False

    @property
    def settings(self) -> Settings:
        """The user's settings, or the usual ones until they are read."""
        return self.library.settings if self.library else Settings()

    def compose(self) -> ComposeResult:
        yield Static("The bench", id="head", markup=False)
        yield Waits()
        with Horizontal(id="body"):
            yield Choosing()
            with VerticalScroll(id="beside"):
                yield Static(READING, id="plan", markup=False)
        yield Static(id="faults", markup=False)
        yield Static(id="keys", markup=False)

    def on_mount(self) -> None:
        self.query_one(Waits).display = False
        self.query_one("#faults").display = False

    def on_shelf_read(self, message: ShelfRead) -> None:
        """Fill the lists and put the cursor on what waits."""
        self._is_read = True
        self.library, self.faults = message.library, message.faults
        self.follow_theme(message.theme)
        self.query_one(Choosing).offer(message.library, message.faults, message.last)
        self.query_one(Choosing).focus_first()
        self.query_one(Waits).show(message.waiting, self.clock.now().wall)
        if self.planned is not None:
            self.look_back(self.planned, message.waiting.judged)
        self.show_faults()
        self.begin_to_count_keys()

    def on_screen_resume(self) -> None:
        """At the start, and back from another screen: what waits may have changed."""
        self._is_read = False
        self.post_message(ReadShelf())

    def on_descendant_focus(self) -> None:
        """The keys mean what the cursor is on."""
        self.show_keys()

    def action_digit(self, digit: int) -> None:
        """A digit of the count, wherever the cursor is."""
        self.query_one(Choosing).digit(digit)

    def action_rub_out(self) -> None:
        """The last digit of the count rubbed out."""
        self.query_one(Choosing).rub_out()

    def on_resize(self) -> None:
        """A small window has room for a short plan only, for fewer keys and for less of what waits."""
        self.query_one(Waits).fit()
        self.show_faults()
        self.show_keys()
        self.call_after_refresh(self.show_plan)

    def action_go(self) -> None:
        """The one key: resume what the cursor is on, or pour what is chosen."""
        unfinished = self.query_one(Waits).under_cursor()
        if unfinished is not None:
            self.resume(unfinished)
        elif self._is_read:
            # Until it is known what waits nothing new begins: the session just left might be what was meant.
            self._begin(Start.POUR)

    def action_rehearse(self) -> None:
        """Walk through what is chosen without heat."""
        self._begin(Start.REHEARSE)

    def action_more(self, more: int) -> None:
        """More or fewer baits."""
        self.query_one(Choosing).more(more)

    def action_next_moulds(self) -> None:
        """Another number of identical moulds."""
        self.query_one(Choosing).next_moulds()

    def action_other_tail(self) -> None:
        """Keep or cut the tails."""
        self.query_one(Choosing).other_tail()

    def on_choosing_chosen(self, message: Choosing.Chosen) -> None:
        """Another choice stands: have it planned once the keys rest."""
        if self.planned is not None and self.planned.choice == message.choice:
            return
        self.planned = self.refused = None
        self.read_from_its_heading(message.choice)
        if self.pause is not None:
            self.pause.stop()
        if not (message.choice.recipe and message.choice.mould):
            self._say(EMPTY_SHELF)
        elif message.choice.ask() is None:
            self._say(NO_COUNT)
        else:
            self.pause = self.set_timer(PLAN_AFTER_S, lambda: self.plan(message.choice))

    @work(thread=True, exclusive=True, group="plan")
    def plan(self, choice: Choice) -> None:
        """Plan off the screen's thread: it takes a tenth of a second."""
        from bench.session.prepare import prepare

        ask = choice.ask()
        if ask is None or self.library is None:
            return
        try:
            session = prepare(self.library, recipe=choice.recipe, mould=choice.mould, ask=ask)
        except BenchError as error:
            self.post_message(PlanRefused(choice, str(error)))
        else:
            self.post_message(PlanMade(choice, session))

    def on_plan_made(self, message: PlanMade) -> None:
        """Show the plan, and open its session if somebody already asked for it."""
        if message.choice != self.query_one(Choosing).choice:
            return
        self.planned = message
        self.post_message(ChoiceSettled(message.choice))
        self.show_plan()
        self.look_back(message, self.query_one(Waits).waiting.judged)
        if self.wanted is not None and self.wanted.choice == message.choice:
            self._begin(self.wanted.start)

    def on_plan_refused(self, message: PlanRefused) -> None:
        """Say in the plan's place why there is none."""
        if message.choice != self.query_one(Choosing).choice:
            return
        self.refused = message
        self._say(refused(message.why))
        if self.wanted is not None and self.wanted.choice == message.choice:
            self._begin(self.wanted.start)

    def _begin(self, start: Start) -> None:
        choice = self.query_one(Choosing).choice
        if choice is None or (choice.recipe and choice.ask() is None):
            # In the plan's place stands the question how many.
            return
        why = self._why_not(choice)
        if why:
            self.wanted = None
            self._tell_why(why)
            return
        if self.planned is None or self.planned.choice != choice:
            self.wanted = Wanted(start=start, choice=choice)
            return
        self.wanted = None
        self.open_new(self.beginning_with_it(self.planned), rehearsal=start is Start.REHEARSE)

    def _why_not(self, choice: Choice) -> str:
        """Why this choice cannot be poured; empty where it can, or where nobody knows yet."""
        if not (choice.recipe and choice.mould):
            return EMPTY_SHELF
        return sentence(self.refused.why) if self.refused and self.refused.choice == choice else ""

    def _tell_why(self, why: str) -> None:
        from bench.tui.screens.reading import ReadingScreen

        self.app.push_screen(ReadingScreen("This cannot be poured", [f"{why.rstrip('.')}."]))

    def show_keys(self) -> None:
        """The keys of what the cursor is on, as many as fit."""
        session = self.query_one(Waits).under_cursor()
        keys = KEYS if session is None else go_on_keys(session)
        self.query_one("#keys", Static).update(fitting_keys(keys, self.size.width - 2))

    def _say(self, words: str | Content) -> None:
        self.query_one("#plan", Static).update(words)

    def show_plan(self) -> None:
        if self.planned is not None:
            self._say(self.plan_with(self.planned, self.settings.units))
