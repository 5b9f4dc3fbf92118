"""What each key makes of the desk, without a screen."""

from __future__ import annotations

from dataclasses import replace

from bench.colour.cores import Ranking, Reads
from bench.model.recipe import Build, Part, Tail
from bench.tui.colour.amount import By
from bench.tui.colour.answer import ADD_FIRST, DEAD, answer, tried
from bench.tui.colour.desk import (
    Building,
    Cores,
    Desk,
    FindCores,
    FindDoses,
    FindOnShelf,
    Help,
    Leave,
    Leaving,
    MakeVariants,
    Offer,
    Offers,
    Picking,
    Reckoning,
    Reply,
    Save,
    Sheet,
    StopAsking,
    Taken,
    Typing,
    What,
)
from bench.tui.colour.draft import begun
from bench.tui.colour.goal import doses_found
from bench.tui.colour.keys import stroke_of
from bench.tui.colour.predict import cores_found, variants
from bench.tui.colour.typed import ONE_WAY, SEARCHING, pasted
from tests.tui.at_the_bench import shelf

MOULD = "ribbon-leech-4"


def desk(name: str = "ember-under-peat") -> Desk:
    """The desk with a recipe as it came from the shelf."""
    recipe = shelf().recipes[name]
    return Desk(draft=begun(recipe, MOULD), saved=recipe)


def press(start: Desk, *keys: str) -> Reply:
    """The reply to the last of these keys, by Textual's names."""
    reply = Reply(desk=start)
    for key in keys:
        reply = answer(reply.desk, stroke_of(key, key if len(key) == 1 else None), shelf())
    return reply


def test_arrows_move_doses_finely_and_with_shift_coarsely() -> None:
    assert press(desk(), "right").desk.draft.recipe.parts[Part.SHELL].doses[0].load_pct == 0.23
    assert press(desk(), "shift+right").desk.draft.recipe.parts[Part.SHELL].doses[0].load_pct == 0.27
    assert press(desk(), "minus", "left").desk.draft.recipe.parts[Part.SHELL].doses[0].load_pct == 0.16
    assert press(desk(), "down", "down", "right").desk.line


def test_a_colour_is_added_from_a_list_and_taken_out() -> None:
    picking = press(desk(), "a").desk
    assert isinstance(picking.mode, Picking)
    assert "peat-brown" not in picking.mode.names, "what is in the cup is not offered again"
    added = press(picking, "down", "enter").desk
    assert added.draft.recipe.parts[Part.SHELL].doses[-1].colourant == picking.mode.names[1]
    assert press(added, "x").desk.draft.recipe.parts == desk().draft.recipe.parts
    assert press(picking, "escape").desk == desk()


def test_build_mould_tail_and_recipe_go_by_one_key_each() -> None:
    assert press(desk("peat-plain"), "b").desk.draft.recipe.build is Build.LAMINATE
    assert press(desk(), "m").desk.draft.mould != MOULD
    assert press(desk(), "m", "m", "m").desk.draft.mould == MOULD
    assert press(desk(), "t").desk.draft.recipe.tail is Tail.KEPT
    assert press(desk("peat-plain"), "t").desk.line
    other = press(desk(), "r", "down", "enter").desk
    assert other.draft.recipe == list(shelf().recipes.values())[1]
    assert other.is_kept


def test_a_wrong_hex_keeps_the_field_and_says_one_sentence() -> None:
    typed = press(desk(), "g", "1", "2", "g", "enter")
    assert typed.wish is None
    assert isinstance(typed.desk.mode, Typing)
    assert typed.desk.mode.typed == "#12g"
    assert typed.desk.mode.problem.startswith('Wanted colour: "#12g" is not a colour')
    mended = press(typed.desk, "backspace")
    assert isinstance(mended.desk.mode, Typing)
    assert not mended.desk.mode.problem
    assert press(mended.desk, "3", "enter").wish == FindDoses(part=Part.SHELL, wanted="#123")


def test_what_has_no_room_is_said_and_not_dropped_without_a_word() -> None:
    full = press(desk(), *"123456789012").desk.mode
    assert isinstance(full, Typing)
    assert not full.problem
    over = press(desk(), *"1234567890123").desk.mode
    assert isinstance(over, Typing)
    assert (over.typed, over.problem) == (
        full.typed,
        "There is room for 12 characters; what came after them is left out.",
    )


def test_letters_that_are_keys_are_typed_where_something_is_typed() -> None:
    mode = press(desk(), "g", *"abcdef").desk.mode
    assert isinstance(mode, Typing)
    assert mode.typed == "#abcdef"


def test_a_name_needs_something_that_a_file_can_be_called() -> None:
    typing = desk().entering(Typing(what=What.TITLE, typed="…"))
    refused = press(typing, "enter")
    assert isinstance(refused.desk.mode, Typing)
    assert refused.desk.mode.problem
    saving = press(refused.desk, "backspace", "N", "e", "w", "enter")
    assert isinstance(saving.wish, Save)
    assert (saving.wish.recipe.name, saving.wish.recipe.title, saving.wish.over) == ("new", "New", False)


def test_a_taken_name_is_written_over_only_by_its_own_key() -> None:
    taken = desk().entering(Taken(recipe=desk().draft.recipe, why="it is there already"))
    for key in ("enter", "space", "s", "y", "x"):
        assert press(taken, key) == Reply(desk=replace(taken, line=DEAD)), "and a dead key is answered"
    assert press(taken, "o").wish == Save(recipe=desk().draft.recipe, over=True)
    back = press(taken, "escape").desk.mode
    assert isinstance(back, Typing)
    assert back.typed == "Ember under Peat", "what was typed is not lost"


def test_a_shipped_name_is_never_the_one_that_is_offered() -> None:
    shelved = replace(desk(), shipped=frozenset({"ember-under-peat"}))
    offered = press(shelved, "right", "s").desk.mode
    assert isinstance(offered, Typing)
    assert offered.typed == "Ember under Peat, mine"
    own = press(desk(), "right", "s").desk.mode
    assert isinstance(own, Typing)
    assert own.typed == "Ember under Peat"
    assert shelved.kept(shelved.draft.recipe, "").shipped == frozenset(), "yours stands in its place now"


def test_a_key_that_does_nothing_says_so_and_one_that_does_is_silent() -> None:
    for key in ("k", "z", "enter"):
        assert press(desk(), key).desk.line == (DEAD if key != "enter" else "")
    assert press(press(desk(), "k").desk, "down").desk.line == ""
    assert press(desk(), "up").desk.line == "", "the cursor stands at the top: nothing to explain"
    for mode in (Picking(names=("a",)), Leaving()):
        assert press(desk().entering(mode), "k").desk.line == DEAD
    assert press(desk().entering(Typing(what=What.TITLE)), "k").desk.line == ""


def test_a_figure_where_no_colour_is_says_how_to_add_one() -> None:
    there = press(desk(), "down", "down").desk
    assert there.draft.dose is None
    for key in ("5", "right"):
        assert press(there, key).desk.line == "There is no colour here yet: Enter adds one, then type how much."
    assert isinstance(press(there, "enter").desk.mode, Picking)


def test_the_question_mark_asks_for_the_keys_but_is_typed_into_a_name() -> None:
    assert press(desk(), "question_mark").wish == Help()
    named = press(desk().entering(Typing(what=What.TITLE)), "question_mark").desk.mode
    assert isinstance(named, Typing)


def test_a_dose_at_its_end_says_so() -> None:
    assert press(desk(), *["plus"] * 80).desk.line == "It goes no higher."


def test_cores_are_ranked_the_other_way_by_a_key_with_the_cursor_on_the_same_one() -> None:
    recipe, mould = desk().draft.recipe, shelf().moulds[MOULD]
    cores = cores_found(recipe, mould, shelf(), Part.SHELL)
    shown = desk().entering(Cores(found=cores, at=7))
    other = press(shown, "t").desk.mode
    assert isinstance(other, Cores)
    assert other.by is Ranking.THIRD
    assert other.found[other.at] == cores[7]
    assert other.found[0].reads is Reads.THIRD
    assert press(shown, "t", "t").desk.mode == shown.mode


def test_the_window_is_that_of_the_dose_under_the_cursor() -> None:
    assert desk().moving == "peat-brown"
    assert press(desk(), "down").desk.moving == "dawn-highlight"
    assert press(desk(), "down", "down", "down").desk.moving == "", "on the core"


def test_what_is_not_saved_is_not_left_by_one_key() -> None:
    assert press(desk(), "escape").wish == Leave()
    changed = press(desk(), "right").desk
    asked = press(changed, "escape")
    assert asked.wish is None
    assert isinstance(asked.desk.mode, Leaving)
    assert press(asked.desk, "escape").desk == changed
    assert isinstance(press(asked.desk, "s").desk.mode, Typing)
    assert press(asked.desk, "q").wish == Leave()
    assert press(changed, "u", "escape").wish == Leave(), "nothing is left to lose"


def test_asking_waits_and_can_be_left() -> None:
    for key, wish in (("f", FindCores(part=Part.SHELL)), ("v", MakeVariants())):
        asked = press(desk(), key)
        assert asked.wish == wish
        assert isinstance(asked.desk.mode, Reckoning)
        assert isinstance(press(asked.desk, "escape").desk.mode, Building)
    on_core = press(desk(), "down", "down", "down", "f")
    assert on_core.wish == FindCores(part=Part.SHELL), "a core is tried under the shell wherever the cursor is"


def test_cores_variants_and_doses_are_taken_by_key() -> None:
    recipe, mould = desk().draft.recipe, shelf().moulds[MOULD]
    cores = cores_found(recipe, mould, shelf(), Part.SHELL)
    chosen = press(desk().entering(Cores(found=cores)), "down", "enter").desk
    assert chosen.draft.recipe.parts[Part.CORE].doses == cores[1].doses

    sheet = variants(recipe, mould, shelf())
    shown = desk().entering(Sheet(found=sheet, tail=Tail.CUT))
    taken = press(shown, "t", "7").desk.draft.recipe
    assert taken == replace(sheet[6].recipe, tail=Tail.KEPT)
    assert press(desk().entering(Sheet(found=sheet[:3], tail=Tail.CUT)), "7").desk.mode == Sheet(
        found=sheet[:3], tail=Tail.CUT
    )

    found = doses_found(recipe, mould, shelf(), Part.SHELL, "#6a3b20")
    offered = desk().entering(Offer(found=found))
    assert press(offered, "escape").desk.draft == desk().draft
    assert press(offered, "enter").desk.draft.recipe.parts[Part.SHELL].doses == found.doses


def test_the_whole_shelf_is_searched_by_a_second_press_and_left_by_escape() -> None:
    found = doses_found(desk().draft.recipe, shelf().moulds[MOULD], shelf(), Part.SHELL, "#6a3b20")
    asked = press(desk().entering(Offer(found=found)), "g")
    assert asked.wish == FindOnShelf(part=Part.SHELL, wanted="#6a3b20")
    assert asked.desk.mode == Reckoning(says=SEARCHING)
    assert tried(asked.desk, 16).mode == Reckoning(says=f"{SEARCHING} 16 sets so far.")
    left = press(tried(asked.desk, 16), "escape")
    assert left == Reply(desk=desk(), wish=StopAsking())
    assert tried(left.desk, 24) == desk(), "a word that comes too late changes nothing"
    assert tried(desk().entering(Reckoning(says="Saving …")), 8).mode == Reckoning(says="Saving …")


def test_a_goal_for_an_empty_cup_is_looked_for_on_the_shelf_at_once() -> None:
    goal = press(desk("peat-plain"), "n", "g", "6", "a", "3", "enter")
    assert goal.wish == FindOnShelf(part=Part.BODY, wanted="#6a3")


def test_an_answer_from_the_shelf_is_taken_by_its_digit_or_where_the_mark_is() -> None:
    found = doses_found(desk().draft.recipe, shelf().moulds[MOULD], shelf(), Part.SHELL, "#6a3b20")
    other = replace(found, doses=found.doses[:1])
    offered = desk().entering(Offers(found=(found, other)))
    for keys in (("2",), ("down", "enter")):
        taken = press(offered, *keys).desk
        assert taken.draft.recipe.parts[Part.SHELL].doses == other.doses
        assert press(taken, "u").desk.draft.recipe == desk().draft.recipe
    assert press(offered, "3").desk.line == DEAD
    assert press(offered, "escape").desk == desk()


def test_a_numeral_types_a_dose_and_what_is_none_stays_typed() -> None:
    typing = press(desk(), "0", ".", "4").desk.mode
    assert isinstance(typing, Typing)
    assert (typing.what, typing.typed, typing.ways) == (What.DOSE, "0.4", (By.LOAD,))
    assert press(desk(), "0", ".", "4", "enter").desk.draft.recipe.parts[Part.SHELL].doses[0].load_pct == 0.4
    refused = press(desk(), "9", "9", "enter").desk
    assert isinstance(refused.mode, Typing)
    assert refused.mode.typed == "99"
    assert refused.mode.problem == "That is 99 %; a dose is 0.001 to 50 % of its cup."
    assert refused.draft == desk().draft
    assert press(refused, "escape").desk == desk()
    bottom = press(desk(), *["down"] * 9).desk
    assert bottom.draft.dose is None
    assert press(bottom, "7").desk.line == ADD_FIRST, "no colour is under the cursor"


def test_flake_is_typed_as_it_was_typed_last() -> None:
    start = press(desk("hoarfrost-reed"), "down").desk
    covered = press(start, "3", "0", "tab", "enter").desk
    assert "cover 30 %" in covered.line
    again = press(covered, "4", "0", "enter").desk
    assert "cover 40 %" in again.line
    counted = press(again, "2", "0", "0", "tab", "enter").desk
    assert "200 flakes in each bait" in counted.line
    assert counted.dosed_by is By.COUNT
    colour = press(counted, "up", "1", "enter").desk
    assert colour.draft.dose is not None
    assert colour.draft.dose.load_pct == 1.0
    assert colour.dosed_by is By.COUNT


def test_a_colour_that_has_one_way_to_be_typed_says_so_at_tab() -> None:
    typed = press(desk(), "3", "tab").desk
    assert isinstance(typed.mode, Typing)
    assert (typed.mode.typed, typed.mode.problem) == ("3", ONE_WAY)
    assert press(typed, "0").desk.mode == replace(typed.mode, typed="30", problem="")


def test_a_paste_goes_where_something_is_typed_and_is_cleaned() -> None:
    assert pasted(desk(), "qqq") == desk()
    mode = pasted(desk().entering(Typing(what=What.TITLE)), "Du\x1b[2Jsk").mode
    assert isinstance(mode, Typing)
    assert "\x1b" not in mode.typed
    assert mode.typed.startswith("Du")


def test_a_plastic_is_chosen_by_a_key_and_an_empty_recipe_by_another() -> None:
    other = press(desk(), "p").desk
    assert other.draft.recipe.plastic != desk().draft.recipe.plastic
    assert press(other, "u").desk.draft.recipe == desk().draft.recipe
    empty = press(desk(), "n").desk
    assert all(not part.doses for part in empty.draft.recipe.parts.values())
    assert not empty.is_kept
    assert "A adds a colour" in empty.line


def test_an_emptied_cup_says_how_to_fill_it() -> None:
    assert press(desk(), "x").desk.line == ""
    assert press(desk(), "x", "backspace").desk.line == "The shell cup holds no colour now: A adds a colour."


def test_a_title_that_another_recipe_has_is_warned_of_once() -> None:
    name = "moon-under-reed"
    recipe = replace(shelf().recipes[name], title="Night heron")
    library = replace(shelf(), recipes={**shelf().recipes, name: recipe})
    typing = desk().entering(Typing(what=What.TITLE, typed="night heron"))
    warned = answer(typing, stroke_of("enter", None), library)
    assert warned.wish is None
    assert isinstance(warned.desk.mode, Typing)
    assert "moon-under-reed has this title too" in warned.desk.mode.problem
    assert isinstance(answer(warned.desk, stroke_of("enter", None), library).wish, Save)
