"""The choice on the bench: what each key makes of it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from bench.model.library import Library
from bench.model.recipe import Build, Recipe, Tail
from bench.plan.records import Ask
from bench.store.last_choice import LastChoice
from bench.store.paths import Home
from bench.store.shelf import load_library
from bench.tui.choice import FIRST_RECIPE, Choice, first_choice


def recipe(name: str, build: Build = Build.PLAIN, tail: Tail = Tail.KEPT) -> Recipe:
    """A recipe that is nothing but its build."""
    return Recipe(name=name, title=name.title(), build=build, plastic="soft", parts={}, tail=tail)


START = Choice(recipe="peat", mould="leech", count=8)


def typed(keys: str, start: Choice = START) -> int | None:
    """The count after these keys; < rubs out."""
    choice = start
    for key in keys:
        choice = choice.with_digit_rubbed_out() if key == "<" else choice.with_digit(int(key))
    return choice.count


@pytest.mark.parametrize(
    ("keys", "count"),
    [
        ("", 8),
        ("4", 4),  # the first digit begins a new number
        ("12", 12),
        ("120", 120),
        ("0", 8),  # no number begins with 0
        ("99999", 9999),  # the fifth digit is one too many
        ("<", None),
        ("12<", 1),
        ("12<<", None),
        ("12<<3", 3),
        ("<<<", None),
    ],
)
def test_digits_of_the_count(keys: str, count: int | None) -> None:
    assert typed(keys) == count


def test_one_more_and_one_less_stop_at_one_and_at_four_digits() -> None:
    assert START.with_more(1).count == 9
    assert START.with_more(-1).count == 7
    assert START.with_more(-20).count == 1
    assert Choice(recipe="", mould="", count=9999).with_more(1).count == 9999
    assert Choice(recipe="", mould="", count=None).with_more(1).count == 1
    assert typed("5", START.with_digit(1).with_more(1)) == 5, "a digit after + begins a new number"


def test_without_a_count_nothing_is_asked_for() -> None:
    assert START.ask() == Ask(count=8)
    assert START.with_digit_rubbed_out().ask() is None


def test_the_tail_turns_from_what_the_recipe_plans_and_only_in_core_work() -> None:
    library = Library(
        recipes={
            "peat": recipe("peat"),
            "ember": recipe("ember", Build.CORE, Tail.CUT),
            "moon": recipe("moon", Build.LAMINATE_CORE, Tail.KEPT),
        }
    )
    assert START.with_other_tail(library) == START
    ember = START.with_recipe("ember")
    assert ember.with_other_tail(library).tail is Tail.KEPT
    assert ember.with_other_tail(library).with_other_tail(library).tail is Tail.CUT
    assert START.with_recipe("moon").with_other_tail(library).tail is Tail.CUT
    assert ember.with_other_tail(library).with_recipe("moon").tail is None, "another recipe brings its own tail"


def test_the_demo_stands_first_and_any_shelf_will_do() -> None:
    both = {name: recipe(name) for name in ("aa", FIRST_RECIPE)}
    assert first_choice(Library(recipes=both)).recipe == FIRST_RECIPE
    assert first_choice(Library(recipes={"aa": recipe("aa")})).recipe == "aa"
    assert first_choice(Library()).recipe == ""


LAST = LastChoice(recipe="cored", mould="leech", count=24, moulds=2, tail=Tail.CUT)


def shelf_of(*recipes: Recipe) -> Library:
    """A shelf with these recipes and one mould."""
    library, _ = load_library(Home(Path("nowhere")))
    mould = next(iter(library.moulds.values()))
    return replace(library, recipes={each.name: each for each in recipes}, moulds={"leech": mould})


def test_what_was_chosen_the_last_time_stands_chosen() -> None:
    library = shelf_of(recipe("peat"), recipe("cored", Build.CORE))
    choice = first_choice(library, LAST)
    assert choice == Choice(recipe="cored", mould="leech", count=24, moulds=2, tail=Tail.CUT)
    assert choice.to_keep() == LAST


def test_of_the_last_choice_only_what_is_still_possible_is_taken() -> None:
    gone = shelf_of(recipe("peat"))
    assert first_choice(gone, LAST) == first_choice(gone)
    plain = shelf_of(recipe("cored"))
    huge = replace(LAST, count=10**9, moulds=77)
    choice = first_choice(plain, huge)
    assert (choice.tail, choice.count, choice.moulds) == (None, 9999, 4)
