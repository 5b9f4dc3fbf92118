"""The lists in which a job is chosen: recipe, mould and how many."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from bench.tui.choice import Choice, first_choice
from bench.tui.present_plan import broken_label, broken_names, count_line, mould_label, recipe_label
from bench.tui.widgets.marked_list import Lines

if TYPE_CHECKING:
    from bench.errors import Fault
    from bench.model.library import Library
    from bench.store.last_choice import LastChoice

_Record = TypeVar("_Record")


class Choosing(Vertical):
    """Holds the choice and nothing else; the screen is told of every change."""

    @dataclass
    class Chosen(Message):
        """Another job is chosen, or the same one anew."""

        choice: Choice

    def __init__(self) -> None:
        super().__init__(id="choosing")
        self.library: Library | None = None
        self.choice: Choice | None = None

    def compose(self) -> ComposeResult:
        yield Static("Recipe", classes="over", markup=False)
        yield Lines(id="recipes", markup=False, compact=True)
        yield Static("Mould", classes="over", markup=False)
        yield Lines(id="moulds", markup=False, compact=True)
        yield Static(count_line(None), id="count", markup=False)

    def offer(self, library: Library, faults: Sequence[Fault] = (), last: LastChoice | None = None) -> None:
        """Fill the lists. What was chosen before stays chosen where it is still there, at the start what was the
        ``last`` time; what did not load stands below, and cannot be chosen."""
        self.library = library
        before = self.choice
        choice = first_choice(library, last)
        if before is not None and before.recipe in library.recipes and before.mould in library.moulds:
            choice = before
        self.choice = None
        recipes, moulds = self.query_one("#recipes", OptionList), self.query_one("#moulds", OptionList)
        _fill(recipes, library.recipes.items(), recipe_label, choice.recipe)
        _fill(moulds, library.moulds.items(), mould_label, choice.mould)
        self.set_class(bool(faults), "-broken")
        for options in (recipes, moulds):
            broken = broken_names(faults, options.id or "")
            options.add_options([Option(broken_label(name), disabled=True) for name in broken])
        self.choose(choice)

    def stand_on(self, recipe: str, mould: str) -> None:
        """Have these chosen when the shelf is next offered: what was just saved is not on this one yet."""
        if self.choice is not None:
            self.choice = self.choice.with_recipe(recipe).with_mould(mould)

    def focus_first(self) -> None:
        """Put the cursor on the recipes."""
        self.query_one("#recipes").focus()

    def choose(self, choice: Choice) -> None:
        """Let this choice stand."""
        self.choice = choice
        self.query_one("#count", Static).update(count_line(choice.count, choice.moulds))
        self.post_message(self.Chosen(choice))

    def digit(self, digit: int) -> None:
        """One digit of the count typed."""
        if self.choice is not None:
            self.choose(self.choice.with_digit(digit))

    def rub_out(self) -> None:
        """The last digit of the count rubbed out."""
        if self.choice is not None:
            self.choose(self.choice.with_digit_rubbed_out())

    def more(self, more: int) -> None:
        """More baits, or fewer."""
        if self.choice is not None:
            self.choose(self.choice.with_more(more))

    def next_moulds(self) -> None:
        """One identical mould more, and one alone after the most."""
        if self.choice is not None:
            self.choose(self.choice.with_next_moulds())

    def other_tail(self) -> None:
        """The tails kept instead of cut, or cut instead of kept."""
        if self.choice is not None and self.library is not None:
            self.choose(self.choice.with_other_tail(self.library))

    def on_option_list_option_highlighted(self, message: OptionList.OptionHighlighted) -> None:
        """The cursor moved: what it is on is chosen."""
        message.stop()
        if self.choice is None or message.option_id is None:
            return
        chosen = self.choice
        if message.option_list.id == "recipes":
            chosen = chosen.with_recipe(message.option_id)
        elif message.option_list.id == "moulds":
            chosen = chosen.with_mould(message.option_id)
        if chosen != self.choice:
            self.choose(chosen)

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        """A click on a line moves the cursor and starts nothing."""
        message.stop()


def _fill(
    options: OptionList, records: Iterable[tuple[str, _Record]], label: Callable[[_Record], Content], chosen: str
) -> None:
    named = list(records)
    options.set_options([Option(label(record), id=name) for name, record in named])
    places = [name for name, _ in named]
    options.highlighted = places.index(chosen) if chosen in places else None
