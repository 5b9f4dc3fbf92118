"""The keys of the pour screen, of the bench and of the colour screen, on ``?``."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from bench.tui import theme
from bench.tui.messages import ThemeSwitched
from bench.tui.pour.keys import Keyboard, Press
from bench.tui.present_plan import fitting_keys
from bench.tui.screens.once import LeftOnce

KEYS: tuple[tuple[Press, str], ...] = (
    (
        Press.FORWARD,
        "done: go on to the next step. Pedals and remotes send Page Down, or a key you taught the bench.",
    ),
    (
        Press.BACK,
        "back: return to the step before; at a shot whose cup has gone cold, reheat it. After a reading over the "
        "scorch limit, pressed twice: that reading was wrong.",
    ),
    (Press.HOLD, "hold the guidance, or go on. The plastic does not wait."),
    (
        Press.ACKNOWLEDGE,
        "I have read this: a card, a reminder or the alarm; or I take the cup as it is. Going on never does it.",
    ),
    (Press.TEMPERATURE, "type a temperature: digits, a point for tenths, then Enter. Esc leaves it."),
    (Press.MOULD, "type the mould's temperature."),
    (Press.DIGIT, "while heating: a reading. While looking: what you see. At the tails: how many you cut."),
    (Press.YES, "yes: a doubted reading was meant as the question says. At a cold shot you came back to: reheat."),
    (
        Press.LEARNT,
        "what this session has learnt from readings and verdicts; a digit refuses one or takes it up again.",
    ),
    (Press.CORE, "take the next core colour, while the core cup is cold. A cup mixed before is set aside."),
    (Press.SKIP, "skip this step; a digit says why."),
    (
        Press.STOP,
        "stop early; a digit says why. The closing steps follow, except after 5: danger, left at once.",
    ),
    (Press.NOTE, "write a note."),
    (Press.LEAVE, "leave, pressed twice. The session is kept and can be resumed."),
)

BENCH_KEYS: tuple[tuple[str, str], ...] = (
    ("Enter", "pour what is chosen, or go on with the session that the cursor is on."),
    ("R", "rehearse what is chosen: the same steps, twenty times as fast, without heat."),
    ("↑ ↓", "move in a list, or read on in the plan."),
    ("← →", "go to the next list, or to the plan."),
    ("digits, + -", "how many baits. Backspace rubs the last digit out."),
    ("M", "how many identical moulds you work in turn, 1 to 4. A job may need fewer."),
    ("T", "tails kept instead of cut, or cut instead of kept."),
    ("C", "look at the recipe's colours, and change them."),
    ("L", "past sessions."),
    ("W", "what you said of this recipe in this mould the last time, and what to try."),
    ("X", "set aside the unfinished session that the cursor is on. You are asked first; nothing is deleted."),
    ("V", "a bright screen instead of the dark one, or the other way round. The next start begins with it."),
    ("H", "measure the power of your heater."),
    ("K", "teach the bench a pedal."),
    ("F", "read what is wrong with files that did not load."),
    ("Q", "leave. Ctrl+Q and Ctrl+C leave from every screen; a session that runs is asked about and kept."),
)

COLOUR_KEYS: tuple[tuple[str, str], ...] = (
    ("↑ ↓", "go to another dose, or to the place where a colour is added."),
    ("← →", "less or more of it by a small step; with Shift, or by - and +, by a large one."),
    (
        "digits",
        "type the dose in percent of its cup; for flake, Tab counts it by its cover or its number in a bait.",
    ),
    ("Enter, A", "add a colour to this cup."),
    ("X", "take this colour out. U takes the latest change back."),
    ("B, M, P", "another build, mould or plastic."),
    ("T", "tails kept instead of cut, or cut instead of kept."),
    ("F", "which core shows best in this shell."),
    ("V", "variants to choose from."),
    ("G", "a colour to come near to, as a hex code."),
    ("N, R", "an empty recipe, or one from the shelf."),
    ("W", "read the pictures in words."),
    ("S", "save under a name."),
    ("Esc, Q", "back to the bench. You are asked first if the colour is not saved."),
)

THEME_KEY = "V"
FOOT = ((THEME_KEY, "bright or dark"), ("↑ ↓", "scroll"), ("any other key", "closes this"))

_SCROLLING = frozenset({"up", "down", "home", "end"})


class KeysHelp(ModalScreen[None], LeftOnce[None]):
    """Keys and what they do, a line each. Any key closes it but those that scroll and the one of the theme."""

    heading = ""

    def compose(self) -> ComposeResult:
        """The list, and below it, always in sight, how to scroll and how to close."""
        with VerticalScroll(can_focus=True):
            yield Static(Content.styled(self.heading, "bold $bench-title"), id="heading", markup=False)
            for key, does in self.rows():
                yield Static(Content.styled(key, "bold $bench-key"), markup=False)
                yield Static(does, classes="does", markup=False)
        yield Static(id="foot", markup=False)

    def rows(self) -> Iterable[tuple[str, str]]:
        """Each key and what it does."""
        raise NotImplementedError

    def on_resize(self) -> None:
        """As much of the foot as fits."""
        self.query_one("#foot", Static).update(fitting_keys(FOOT[::-1], self.size.width - 4))

    def on_key(self, event: events.Key) -> None:
        """Scroll, change the theme, or close. The key does nothing else."""
        if event.key in _SCROLLING:
            return
        event.stop()
        event.prevent_default()
        if event.key.upper() == THEME_KEY:
            theme.switch(self.app)
            self.post_message(ThemeSwitched())
        else:
            self.close()

    def close(self) -> None:
        """Uncover what is below."""
        self.dismiss(None)


class HelpScreen(KeysHelp):
    """The keys of the pour screen. Whatever calls the maker closes it too."""

    heading = "Keys at the bench"

    def __init__(self, keyboard: Keyboard) -> None:
        super().__init__()
        self._keyboard = keyboard

    def rows(self) -> Iterator[tuple[str, str]]:
        """The keys that settings have chosen, or the usual ones."""
        for press, does in KEYS:
            yield "digits" if press is Press.DIGIT else self._keyboard.all_shown(press), does


class BenchHelpScreen(KeysHelp):
    """The keys of the bench."""

    heading = "Keys for choosing what to pour"

    def rows(self) -> Iterable[tuple[str, str]]:
        """All of them."""
        return BENCH_KEYS


class ColourHelpScreen(KeysHelp):
    """The keys of the colour screen."""

    heading = "Keys for a recipe's colours"

    def rows(self) -> Iterable[tuple[str, str]]:
        """All of them."""
        return COLOUR_KEYS
