"""The colour screen as one value: the draft, what is being asked or typed, and the line that answers a key."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from bench.colour.cores import Ranking
from bench.model.recipe import Part, Recipe, Tail
from bench.tui.colour.amount import By
from bench.tui.colour.draft import Draft, slug
from bench.tui.colour.goal import DosesFound
from bench.tui.colour.predict import CoreFound, Variant


@dataclass(frozen=True, kw_only=True, slots=True)
class Building:
    """Nothing is asked: keys change the draft."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Picking:
    """A colourant or a recipe is chosen from a list, by name."""

    names: tuple[str, ...]
    recipes: bool = False
    at: int = 0


class What(Enum):
    """What is being typed."""

    GOAL = "wanted colour"
    DOSE = "dose"
    TITLE = "name"


@dataclass(frozen=True, kw_only=True, slots=True)
class Typing:
    """Something is typed. ``problem`` says why it was not taken; what was typed stays. A dose is typed
    ``by`` load, or what else ``ways`` has."""

    what: What
    typed: str = ""
    by: By = By.LOAD
    ways: tuple[By, ...] = (By.LOAD,)
    problem: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Reckoning:
    """An answer is on its way. ``says`` is what is looked for."""

    says: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Cores:
    """The shelf's cores to choose from, in the order that ``by`` says."""

    found: tuple[CoreFound, ...]
    at: int = 0
    by: Ranking = Ranking.SHOWS


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """Up to nine variants side by side, each with that tail."""

    found: tuple[Variant, ...]
    tail: Tail


@dataclass(frozen=True, kw_only=True, slots=True)
class Offer:
    """Doses for a wanted colour, to be taken or left."""

    found: DosesFound


@dataclass(frozen=True, kw_only=True, slots=True)
class Offers:
    """Doses from the whole shelf for a wanted colour, the best first, to choose from."""

    found: tuple[DosesFound, ...]
    at: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Taken:
    """A name that is already on the shelf; ``why`` says where, ``own`` whether it is one of the user's."""

    recipe: Recipe
    why: str
    own: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class Leaving:
    """Leaving was asked for, and the draft is not saved."""


Mode = Building | Picking | Typing | Reckoning | Cores | Sheet | Offer | Offers | Taken | Leaving


@dataclass(frozen=True, kw_only=True, slots=True)
class Desk:
    """Everything that keys change. ``saved`` is the draft's recipe as it was last on disk, ``shipped`` the names
    of the recipes that came with the program and that the user has not put one in place of, ``dosed_by`` how flake
    was typed last."""

    draft: Draft
    mode: Mode = Building()
    line: str = ""
    saved: Recipe | None = None
    shipped: frozenset[str] = frozenset()
    dosed_by: By = By.LOAD

    def entering(self, mode: Mode, line: str = "") -> Desk:
        """The desk in that mode."""
        return replace(self, mode=mode, line=line)

    def drawing(self, draft: Draft, line: str = "") -> Desk:
        """Back to building, with that draft."""
        return replace(self, draft=draft, mode=Building(), line=line)

    def kept(self, recipe: Recipe, line: str) -> Desk:
        """The desk once that recipe is on disk; what was changed meanwhile stays changed."""
        draft = self.draft
        if draft.recipe.parts == recipe.parts and draft.recipe.build is recipe.build:
            draft = replace(draft.with_recipe(recipe), origin=recipe)
        mode = Building() if isinstance(self.mode, Reckoning) else self.mode
        shipped = self.shipped - {recipe.name}
        return replace(self, draft=draft, mode=mode, saved=recipe, line=line, shipped=shipped)

    @property
    def moving(self) -> str:
        """The colourant whose load the keys move now; empty on the core, and where there is none."""
        dose = self.draft.dose
        return "" if dose is None or self.draft.place.part is Part.CORE else dose.colourant

    @property
    def wanted(self) -> tuple[Recipe, str, str]:
        """What a look is asked for: the recipe, the mould's name and the colourant whose load moves."""
        return self.draft.recipe, self.draft.mould, self.moving

    @property
    def offered_title(self) -> str:
        """The name to begin with when saving: never that of a recipe that came with the program."""
        title = self.draft.recipe.title
        return f"{title}, mine" if slug(title) in self.shipped else title

    @property
    def is_kept(self) -> bool:
        """Whether nothing would be lost by leaving."""
        return not self.draft.is_changed or self.draft.recipe == self.saved


# What the desk asks of whoever has workers and files.


@dataclass(frozen=True, kw_only=True, slots=True)
class FindCores:
    """Rank the shelf's cores under the shell of that part."""

    part: Part


@dataclass(frozen=True, kw_only=True, slots=True)
class FindDoses:
    """Find doses of a part for a wanted colour."""

    part: Part
    wanted: str


@dataclass(frozen=True, kw_only=True, slots=True)
class FindOnShelf:
    """Find doses of a part for a wanted colour among all colourants of the shelf."""

    part: Part
    wanted: str


@dataclass(frozen=True, kw_only=True, slots=True)
class StopAsking:
    """Nobody waits any more for what was asked."""


@dataclass(frozen=True, kw_only=True, slots=True)
class MakeVariants:
    """Make the sheet of variants."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Save:
    """Keep a recipe. ``over`` says that the name may be taken already."""

    recipe: Recipe
    over: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Leave:
    """Close the screen."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ReadWords:
    """Show every picture in words."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Help:
    """Show what every key does."""


Wish = FindCores | FindDoses | FindOnShelf | StopAsking | MakeVariants | Save | Leave | ReadWords | Help


@dataclass(frozen=True, kw_only=True, slots=True)
class Reply:
    """The desk after a key, and a wish where there is one."""

    desk: Desk
    wish: Wish | None = None
