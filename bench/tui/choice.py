"""What the maker has chosen on the bench screen, and what each key makes of it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bench.model.library import Library
    from bench.model.recipe import Tail
    from bench.plan.records import Ask
    from bench.store.last_choice import LastChoice

FIRST_RECIPE, FIRST_MOULD, FIRST_COUNT = "ember-under-peat", "ribbon-leech-4", 8
"""What stands chosen for somebody who has never poured here: the shipped demo."""

MOST = 9999

MOST_MOULDS = 4
"""Of identical moulds worked in turn."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """A job as far as it is chosen. ``count`` is None while its digits are rubbed out; ``tail`` None leaves it to
    the recipe; ``moulds`` is how many identical moulds there are; ``fresh`` says that the next digit
    begins a new number."""

    recipe: str
    mould: str
    count: int | None = FIRST_COUNT
    tail: Tail | None = None
    moulds: int = 1
    fresh: bool = field(default=True, compare=False)

    def with_recipe(self, recipe: str) -> Choice:
        """Another recipe. Its own tail comes with it."""
        return self if recipe == self.recipe else replace(self, recipe=recipe, tail=None, fresh=True)

    def with_mould(self, mould: str) -> Choice:
        """Another mould."""
        return replace(self, mould=mould, fresh=True)

    def with_digit(self, digit: int) -> Choice:
        """One digit typed. A number never starts with 0 and never grows past four digits."""
        before = 0 if self.fresh else (self.count or 0)
        count = before * 10 + digit
        return replace(self, count=count, fresh=False) if 1 <= count <= MOST else self

    def with_digit_rubbed_out(self) -> Choice:
        """The last digit gone; no count is left after the only one."""
        return replace(self, count=(self.count or 0) // 10 or None, fresh=False)

    def with_more(self, more: int) -> Choice:
        """That many more, or fewer where negative; never less than one."""
        return replace(self, count=min(MOST, max(1, (self.count or 0) + more)), fresh=True)

    def with_next_moulds(self) -> Choice:
        """One identical mould more, and one alone after the most."""
        return replace(self, moulds=self.moulds % MOST_MOULDS + 1, fresh=True)

    def with_other_tail(self, library: Library) -> Choice:
        """The tail kept instead of cut, or cut instead of kept. Nothing changes where the build has no core."""
        from bench.model.recipe import Tail

        recipe = library.recipes.get(self.recipe)
        if recipe is None or not recipe.build.has_core:
            return self
        present = self.tail or recipe.tail
        return replace(self, tail=Tail.KEPT if present is Tail.CUT else Tail.CUT)

    def to_keep(self) -> LastChoice | None:
        """What the next start begins with; None while there is no count."""
        from bench.store.last_choice import LastChoice

        if not self.count:
            return None
        return LastChoice(
            recipe=self.recipe, mould=self.mould, count=self.count, moulds=self.moulds, tail=self.tail
        )

    def ask(self) -> Ask | None:
        """What the plan is asked for; None while there is no count."""
        from bench.plan.records import Ask

        return Ask(count=self.count, tail=self.tail, moulds=self.moulds) if self.count else None


def first_choice(library: Library, last: LastChoice | None = None) -> Choice:
    """What was chosen the last time, as far as it is on the shelf; else the demo where that is, whatever comes
    first otherwise; empty names on an empty shelf."""
    if last is not None and last.recipe in library.recipes and last.mould in library.moulds:
        return Choice(
            recipe=last.recipe,
            mould=last.mould,
            count=min(last.count, MOST),
            moulds=min(last.moulds, MOST_MOULDS),
            tail=last.tail if library.recipes[last.recipe].build.has_core else None,
        )
    return Choice(
        recipe=FIRST_RECIPE if FIRST_RECIPE in library.recipes else next(iter(library.recipes), ""),
        mould=FIRST_MOULD if FIRST_MOULD in library.moulds else next(iter(library.moulds), ""),
    )
