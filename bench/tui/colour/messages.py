"""What the colour screen's workers tell it: facts, in the past tense."""

from __future__ import annotations

from dataclasses import dataclass

from textual.message import Message

from bench.model.recipe import Recipe
from bench.tui.colour.goal import DosesFound
from bench.tui.colour.predict import CoreFound, Predicted, Variant


@dataclass
class LookPredicted(Message):
    """The look of that recipe in that mould was predicted, its window that of ``moving``."""

    recipe: Recipe
    mould: str
    moving: str
    predicted: Predicted


@dataclass
class CoresRanked(Message):
    """The shelf's cores were tried."""

    found: tuple[CoreFound, ...]


@dataclass
class VariantsMade(Message):
    """The sheet of variants was made."""

    found: tuple[Variant, ...]


@dataclass
class DosesProposed(Message):
    """Doses for a wanted colour were found."""

    found: DosesFound


@dataclass
class ShelfTried(Message):
    """So many sets of colours from the shelf were tried, and the search goes on."""

    tried: int


@dataclass
class ShelfMatched(Message):
    """The shelf was searched for a wanted colour."""

    found: tuple[DosesFound, ...]


@dataclass
class AskRefused(Message):
    """What was asked for cannot be had, and why in one sentence."""

    why: str


@dataclass
class RecipeSaved(Message):
    """The recipe is on disk."""

    recipe: Recipe
    file: str


@dataclass
class NameRefused(Message):
    """The recipe's name is taken, and where in one sentence; ``own`` where by one of the user's."""

    recipe: Recipe
    why: str
    own: bool
