"""A recipe in the making, and what each key makes of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from hypothesis import given
from hypothesis import strategies as st

from bench.model.recipe import Build, Part, Tail
from bench.tui.colour.draft import LEAST_PCT, MOST_PCT, SOURCE, Draft, begun, ready_to_save, slug, stepped
from tests.tui.at_the_bench import shelf

MOULD = "ribbon-leech-4"


def ember() -> Draft:
    return begun(shelf().recipes["ember-under-peat"], MOULD)


def test_steps_go_by_two_significant_digits() -> None:
    for load_pct, steps, there in (
        (0.22, 1, 0.23),
        (0.22, 5, 0.27),
        (0.99, 1, 1.0),
        (1.0, 1, 1.1),
        (1.0, -1, 0.99),
        (0.1, -1, 0.099),
        (0.225, 1, 0.23),
        (0.225, -1, 0.22),
        (LEAST_PCT, -1, LEAST_PCT),
        (MOST_PCT, 1, MOST_PCT),
    ):
        assert stepped(load_pct, steps) == there


@given(st.floats(0.002, 40.0), st.sampled_from([1, -1, 5, -5]))
def test_a_step_always_moves_that_way_and_never_far(load_pct: float, steps: int) -> None:
    there = stepped(load_pct, steps)
    assert (there > load_pct) if steps > 0 else (there < load_pct)
    assert 0.4 < there / load_pct < 1.7


def test_the_cursor_walks_through_the_doses_and_stops_at_both_ends() -> None:
    draft = ember()
    assert draft.moved(-1).at == 0
    names = [draft.moved(steps).dose for steps in range(6)]
    assert [dose.colourant if dose else None for dose in names] == [
        "peat-brown",
        "dawn-highlight",
        None,
        "ember-red",
        "chalk-white",
        None,
    ]
    assert draft.moved(99).place.part is Part.CORE


def test_a_dose_moves_comes_and_goes_and_can_be_taken_back() -> None:
    draft = ember().with_dose_moved(3)
    assert draft.recipe.parts[Part.SHELL].doses[0].load_pct == 0.25
    added = draft.with_colourant("mere-blue")
    assert added.dose is not None
    assert added.dose.colourant == "mere-blue"
    gone = added.without_dose().without_dose()
    assert gone.undone().undone().undone().undone().recipe == ember().recipe
    assert ember().undone() == ember()


def test_builds_go_round_and_no_cup_is_lost_on_the_way() -> None:
    draft = ember()
    seen = [draft.recipe.build]
    for _ in range(4):
        draft = draft.with_next_build()
        assert not list(draft.recipe.faults()), draft.recipe.build
        seen.append(draft.recipe.build)
    assert set(seen) == set(Build)
    assert draft.recipe.parts == ember().recipe.parts


def test_only_core_work_cuts_its_tail() -> None:
    assert ember().with_other_tail().recipe.tail is Tail.KEPT
    plain = begun(shelf().recipes["peat-plain"], MOULD)
    assert plain.with_other_tail() == plain


def test_names_are_made_of_titles() -> None:
    assert slug("Ember  under Peat, 2!") == "ember-under-peat-2"
    assert slug("Größe – ö") == "grosse-o"
    assert slug("Röt/Glut 3 %") == "rot-glut-3"
    assert slug("ЛЕТО") == ""
    assert slug("…") == ""
    assert len(slug("x y " * 60)) <= 60


def test_sources_stay_with_what_they_are_the_source_of() -> None:
    recipe = ready_to_save(ember().with_dose_moved(1), "Ember two")
    assert recipe.sources["parts.shell.doses"] == SOURCE
    assert recipe.sources["parts.core.doses"] == ember().recipe.sources["parts.core.doses"]
    assert recipe.sources["parts.shell.margin"] == ember().recipe.sources["parts.shell.margin"]


MOVES: Mapping[str, Callable[[Draft], Draft]] = {
    "up": lambda draft: draft.moved(-1),
    "down": lambda draft: draft.moved(1),
    "more": lambda draft: draft.with_dose_moved(5),
    "less": lambda draft: draft.with_dose_moved(-5),
    "out": Draft.without_dose,
    "build": Draft.with_next_build,
    "tail": Draft.with_other_tail,
    "undo": Draft.undone,
    "add": lambda draft: draft.with_colourant("soot-black"),
}


@given(st.lists(st.sampled_from(sorted(MOVES)), max_size=40))
def test_no_way_leads_to_a_recipe_that_cannot_be(moves: list[str]) -> None:
    draft = ember()
    for move in moves:
        draft = MOVES[move](draft)
        assert draft.place in draft.places
        assert not list(draft.recipe.faults())
