"""The colour screen: a key becomes a change of the desk, and the desk becomes rows. Workers do all reckoning."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import ClassVar

from textual import events, work
from textual.app import ComposeResult
from textual.types import CSSPathType

from bench.errors import BenchError
from bench.model.library import Library
from bench.model.recipe import Recipe
from bench.store.files import is_there
from bench.store.paths import Home, shipped_profiles
from bench.store.recipes import FOLDER, NameTaken, save_recipe
from bench.store.shelf import toml_files
from bench.tui.colour.answer import answer
from bench.tui.colour.depth import Depth, depth_of
from bench.tui.colour.desk import (
    Desk,
    Help,
    Leave,
    Leaving,
    ReadWords,
    Reply,
    Save,
    Taken,
    Wish,
)
from bench.tui.colour.draft import begun
from bench.tui.colour.easel import Easel
from bench.tui.colour.facts import whole_words
from bench.tui.colour.keys import stroke_of
from bench.tui.colour.messages import (
    AskRefused,
    LookPredicted,
    NameRefused,
    RecipeSaved,
)
from bench.tui.colour.page import Showing, page
from bench.tui.colour.predict import Predicted, predicted
from bench.tui.colour.typed import pasted
from bench.tui.screens.colour_asks import ColourAsks, Kept
from bench.tui.text import clean

_Wanted = tuple[Recipe, str, str]
"""A recipe, the mould's name and the colourant whose load moves: what a look is asked for."""


def _shipped_names(home: Home) -> frozenset[str]:
    """The shipped recipes that no file of the user's stands in place of, by their files' names."""
    files = toml_files(shipped_profiles() / FOLDER)
    return frozenset(file.stem for file in files if not is_there(home.profiles / FOLDER / file.name))


class ColourScreen(ColourAsks):
    """Builds a colour, beginning with a recipe of the library in one of its moulds.

    It closes with the recipe that was saved last, or with None where none was.

    ``depth`` None asks the terminal how many colours it has.
    """

    CSS_PATH: ClassVar[CSSPathType | None] = Path(__file__).parent.parent / "colour.tcss"
    AUTO_FOCUS = ""

    def __init__(
        self, *, home: Home, library: Library, recipe: str, mould: str, depth: Depth | None = None
    ) -> None:
        super().__init__()
        self.home = home
        self.library = library
        chosen = library.recipe(recipe)
        self.desk = Desk(
            draft=begun(chosen, library.mould(mould).name), saved=chosen, shipped=_shipped_names(home)
        )
        self.predicted = Predicted()
        self.kept: Kept | None = None
        self._depth = depth
        self._asked: _Wanted | None = None
        self._shown: _Wanted | None = None

    def compose(self) -> ComposeResult:
        yield Easel()

    def on_mount(self) -> None:
        if self._depth is None:
            self._depth = depth_of(self.app.console.color_system, no_color=self.app.no_color)
        self._look()

    def on_resize(self) -> None:
        """Fit the rows into the new window, once the easel has its new size."""
        self.call_after_refresh(self._repaint)

    def on_key(self, event: events.Key) -> None:
        """Every key of the screen, but for those with Ctrl that the app keeps."""
        if event.key.startswith("ctrl+") and event.key not in ("ctrl+left", "ctrl+right"):
            return
        event.stop()
        event.prevent_default()
        self._follow(answer(self.desk, stroke_of(event.key, event.character), self.library))

    def on_paste(self, event: events.Paste) -> None:
        """What is pasted goes where something is typed."""
        event.stop()
        self.adopt(pasted(self.desk, event.text))

    def _follow(self, reply: Reply) -> None:
        self.adopt(reply.desk)
        if reply.wish is not None:
            self._grant(reply.wish)

    def adopt(self, desk: Desk) -> None:
        """Let this desk stand, and show it."""
        self.desk = desk
        self._look()
        self._repaint()

    def _grant(self, wish: Wish) -> None:
        match wish:
            case Save():
                self.save(wish.recipe, over=wish.over)
            case ReadWords():
                self._read_words()
            case Help():
                self._help()
            case Leave():
                self.dismiss(self.kept)
            case _:
                self.ask_for(wish)

    def _read_words(self) -> None:
        from bench.tui.screens.reading import ReadingScreen

        bait = self.predicted.bait
        words = whole_words(bait) if bait is not None else (self.predicted.problem,)
        self.app.push_screen(ReadingScreen("The pictures in words", words))

    def _help(self) -> None:
        from bench.tui.screens.help import ColourHelpScreen

        self.app.push_screen(ColourHelpScreen())

    def may_leave(self) -> bool:
        """Whether nothing would be lost; asks what to do with the draft where something would."""
        if self.desk.is_kept or isinstance(self.desk.mode, Leaving):
            return True
        self.adopt(self.desk.entering(Leaving()))
        return False

    @property
    def is_settled(self) -> bool:
        """Whether the pictures are those of the draft as it stands."""
        return self._asked is None and self._shown == self.desk.wanted

    # The look follows the draft: one is reckoned at a time, and the latest draft next.

    def _look(self) -> None:
        wanted = self.desk.wanted
        if self._asked is None and wanted != self._shown and self.is_attached:
            self._asked = wanted
            self.predict(*wanted)

    @work(thread=True, group="look")
    def predict(self, recipe: Recipe, mould: str, moving: str) -> None:
        """Predict off the screen's thread."""
        found = predicted(recipe, self.library.moulds[mould], self.library, moving)
        self.post_message(LookPredicted(recipe, mould, moving, found))

    def on_look_predicted(self, message: LookPredicted) -> None:
        """Show it, and look anew where the draft has moved on."""
        self.predicted = message.predicted
        self._asked, self._shown = None, (message.recipe, message.mould, message.moving)
        self._look()
        self._repaint()

    @work(thread=True, group="save")
    def save(self, recipe: Recipe, *, over: bool) -> None:
        """Write the recipe among the user's profiles."""
        try:
            path = save_recipe(self.home, recipe, over=over)
        except NameTaken as error:
            self.post_message(NameRefused(recipe, str(error), error.own))
        except BenchError as error:
            self.post_message(AskRefused(str(error)))
        else:
            self.post_message(RecipeSaved(recipe, str(path)))

    def on_name_refused(self, message: NameRefused) -> None:
        """Ask before anything is written over."""
        self.answered(Taken(recipe=message.recipe, why=message.why, own=message.own))

    def on_recipe_saved(self, message: RecipeSaved) -> None:
        """Go on with the recipe as it is on disk, and find it among the others from now on."""
        recipes = {**self.library.recipes, message.recipe.name: message.recipe}
        self.library = replace(self.library, recipes=recipes)
        self.kept = Kept(recipe=message.recipe.name, mould=self.desk.draft.mould)
        self.adopt(self.desk.kept(message.recipe, f"Saved as {clean(message.file)}."))

    def _repaint(self) -> None:
        if self.is_left or not self.is_mounted:
            return
        easel = self.query_one(Easel)
        showing = Showing(
            desk=self.desk, library=self.library, predicted=self.predicted, depth=self._depth or Depth.TRUE
        )
        easel.show(page(showing, *easel.size))
