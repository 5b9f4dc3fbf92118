"""What the colour screen asks its workers, and what it makes of their answers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from textual import work
from textual.message import Message
from textual.worker import get_current_worker

from bench.errors import BenchError
from bench.model.library import Library
from bench.model.mould import Mould
from bench.model.recipe import Recipe
from bench.tui.colour.answer import tried
from bench.tui.colour.desk import (
    Building,
    Cores,
    Desk,
    FindCores,
    FindDoses,
    FindOnShelf,
    MakeVariants,
    Mode,
    Offer,
    Offers,
    Reckoning,
    Sheet,
    StopAsking,
    Wish,
)
from bench.tui.colour.goal import SearchStopped, doses_found, shelf_found
from bench.tui.colour.messages import (
    AskRefused,
    CoresRanked,
    DosesProposed,
    ShelfMatched,
    ShelfTried,
    VariantsMade,
)
from bench.tui.colour.predict import cores_elsewhere, cores_found, variants
from bench.tui.present import sentence
from bench.tui.screens.once import LeftOnce
from bench.tui.text import clean

TELL_EACH = 8
"""Sets of colours from the shelf between two words of how far a search is."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Kept:
    """What the colour screen leaves behind: the name of the recipe saved last, and the mould it was seen in."""

    recipe: str
    mould: str


class ColourAsks(LeftOnce[Kept | None]):
    """The part of the colour screen that takes longer: it is asked for by a key and waited for."""

    library: Library
    desk: Desk

    def adopt(self, desk: Desk) -> None:
        """Let this desk stand, and show it."""
        raise NotImplementedError

    def ask_for(self, wish: Wish) -> None:
        """Have that wish reckoned, or nothing any more."""
        recipe, mould, library = self.desk.draft.recipe, self.library.moulds[self.desk.draft.mould], self.library
        match wish:
            case FindCores():
                self.ask(lambda: CoresRanked(cores_found(recipe, mould, library, wish.part)))
            case FindDoses():
                self.ask(lambda: DosesProposed(doses_found(recipe, mould, library, wish.part, wish.wanted)))
            case FindOnShelf():
                self.ask(lambda: self._search(wish, recipe, mould))
            case MakeVariants():
                self.ask(lambda: VariantsMade(variants(recipe, mould, library)))
            case StopAsking():
                self.workers.cancel_group(self, "ask")
            case _:
                raise ValueError(f"nobody reckons {wish}")

    @work(thread=True, group="ask", exclusive=True)
    def ask(self, question: Callable[[], Message]) -> None:
        """Post the answer, unless nobody waits for it any more."""
        worker = get_current_worker()
        try:
            found = question()
        except SearchStopped:
            return
        except BenchError as error:
            found = AskRefused(str(error))
        if not worker.is_cancelled:
            self.post_message(found)

    def _search(self, wish: FindOnShelf, recipe: Recipe, mould: Mould) -> ShelfMatched:
        """Search the whole shelf, telling how far it is, until nobody waits any more."""
        worker = get_current_worker()

        def heard(number: int) -> None:
            if worker.is_cancelled:
                raise SearchStopped
            if number and number % TELL_EACH == 0:
                self.post_message(ShelfTried(number))

        return ShelfMatched(shelf_found(recipe, mould, self.library, wish.part, wish.wanted, heard))

    def on_cores_ranked(self, message: CoresRanked) -> None:
        """Offer them."""
        self.answered(Cores(found=message.found), cores_elsewhere(self.desk.draft.recipe, self.library))

    def on_variants_made(self, message: VariantsMade) -> None:
        """Offer them, with the tail as planned."""
        self.answered(Sheet(found=message.found, tail=self.desk.draft.recipe.tail))

    def on_doses_proposed(self, message: DosesProposed) -> None:
        """Offer them."""
        self.answered(Offer(found=message.found))

    def on_shelf_tried(self, message: ShelfTried) -> None:
        """Say how far the search is."""
        self.adopt(tried(self.desk, message.tried))

    def on_shelf_matched(self, message: ShelfMatched) -> None:
        """Offer them."""
        self.answered(Offers(found=message.found))

    def on_ask_refused(self, message: AskRefused) -> None:
        """Say why not."""
        self.adopt(self.desk.entering(Building(), sentence(f"{clean(message.why, limit=400).rstrip('.')}.")))

    def answered(self, mode: Mode, line: str = "") -> None:
        """Enter a mode that was waited for; one that was left meanwhile stays left."""
        if isinstance(self.desk.mode, Reckoning):
            self.adopt(self.desk.entering(mode, line))
