"""What the colour screen asks for: the same looks as everybody else's, packed for pictures."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.colour.difference import de2000
from bench.colour.flake import coverage
from bench.colour.lab import lab_from_hex
from bench.errors import BenchError
from bench.model.recipe import Build, Part, PartRecipe, Recipe, Tail
from bench.plan.look import look_at
from bench.plan.look_records import ViewName
from bench.tui.colour.facts import cup_warning, fields, offer_words
from bench.tui.colour.goal import MOST_ANSWERS, SearchStopped, doses_found, shelf_found
from bench.tui.colour.predict import cores_elsewhere, cores_found, predicted, variants
from tests.tui.at_the_bench import shelf

SHELF = shelf()
LEECH, LONG_REED = SHELF.moulds["ribbon-leech-4"], SHELF.moulds["long-reed-6"]
EMBER = SHELF.recipes["ember-under-peat"]


@pytest.mark.parametrize("recipe", SHELF.recipes.values(), ids=lambda recipe: recipe.name)
def test_both_tails_are_those_of_the_look_with_that_tail(recipe: Recipe) -> None:
    bait = predicted(recipe, LEECH, SHELF).bait
    assert bait is not None
    for tail in Tail if recipe.build.has_core else (Tail.KEPT,):
        plastic = SHELF.plastics[recipe.plastic]
        look = look_at(recipe=recipe, mould=LEECH, plastic=plastic, colourants=SHELF.colourants, tail=tail)
        tails = {view.side: view.hex for view in look.views if view.name is ViewName.TAIL}
        if tail is Tail.CUT:
            assert bait.core is not None
            assert bait.core.tail is not None
            assert tails == {Part.CORE: bait.core.tail.hex}
        else:
            assert list(tails.values()) == [side.tail.hex for side in bait.sides if side.tail is not None]


def test_what_does_not_go_together_is_a_sentence() -> None:
    shown = predicted(EMBER, LONG_REED, SHELF)
    assert shown.bait is None
    assert "no core rods" in shown.problem


def test_a_colour_that_nobody_read_is_said_and_hides_no_screen() -> None:
    unread = replace(SHELF.colourants["peat-brown"], swatch=(), vanishing=None)
    shown = predicted(EMBER, LEECH, replace(SHELF, colourants={**SHELF.colourants, "peat-brown": unread}))
    assert shown.bait is None
    assert "Peat brown" in shown.problem


def test_a_deep_cup_is_known_to_mislead() -> None:
    """Common practice, no source: a dye looks much darker in the cup than in the bait."""
    shown = predicted(SHELF.recipes["peat-plain"], LEECH, SHELF)
    assert shown.bait is not None
    assert shown.look is not None
    views = {view.name: view.lab for view in shown.look.views}
    assert views[ViewName.CUP].lightness < views[ViewName.BODY].lightness
    # The words are of what differs most: here the chroma by more than the lightness.
    assert shown.cup_misses == "too dull"
    assert cup_warning(shown).startswith('Do not judge by the cup: "in cup" looks plainly duller than "in bait"')
    cup, bait = (lab_from_hex(tint.hex) for tint in (shown.bait.sides[0].cup, shown.bait.sides[0].alone))
    assert shown.cup_off == pytest.approx(de2000(cup, bait), abs=1.0), "as far as the two fields look apart"


def test_flake_covers_as_much_as_it_covers_on_the_command_line() -> None:
    recipe = SHELF.recipes["hoarfrost-reed"]
    bait = predicted(recipe, LEECH, SHELF).bait
    assert bait is not None
    cut = SHELF.colourants["hoarfrost-flake"].flake
    assert cut is not None
    load = next(d.load_pct for d in recipe.parts[Part.BODY].doses if d.colourant == "hoarfrost-flake")
    expected = coverage(
        flake_g=load,
        across_flats_mm=cut.size_mm,
        plastic_ml=100_000 / SHELF.plastics[recipe.plastic].density_kg_m3,
        wall_mm=LEECH.section.body_mm,
        film_mm=cut.film_mm,
        density_g_ml=cut.density_kg_m3 / 1000,
    )
    assert bait.covered == pytest.approx(expected.covered)


def test_cores_come_best_seen_first_and_do_what_they_say() -> None:
    found = cores_found(EMBER, LEECH, SHELF, Part.SHELL)
    assert len(found) > 5
    shows = [core.core_visibility for core in found]
    assert shows == sorted(shows, reverse=True)
    best = found[0]
    tried = replace(EMBER, parts={**EMBER.parts, Part.CORE: replace(EMBER.parts[Part.CORE], doses=best.doses)})
    look = predicted(tried, LEECH, SHELF).look
    assert look is not None
    assert look.worst.core_visibility == pytest.approx(best.core_visibility)
    assert look.worst.third_colour == pytest.approx(best.third_colour)
    with pytest.raises(BenchError, match="no core"):
        cores_found(SHELF.recipes["peat-plain"], LEECH, SHELF, Part.BODY)


@pytest.mark.parametrize("name", ["peat-plain", "dusk-and-dawn", "ember-under-peat", "moon-between-banks"])
def test_a_sheet_has_nine_variants_all_of_them_different(name: str) -> None:
    recipe = SHELF.recipes[name]
    found = variants(recipe, LEECH, SHELF)
    assert len(found) == 9
    assert len({str(each.recipe.parts) for each in found}) == 9
    assert len({each.says for each in found}) == 9
    assert any(each.recipe.parts == recipe.parts for each in found), "the present one is among them"
    assert all(not list(each.recipe.faults()) for each in found)


def test_doses_reckon_with_the_flake_that_stays_in_the_cup() -> None:
    reed = SHELF.recipes["hoarfrost-reed"]
    long_reed = SHELF.moulds["long-reed-6"]
    found = doses_found(reed, long_reed, SHELF, Part.BODY, "#4a833e")
    body = replace(reed.parts[Part.BODY], doses=found.doses)
    met = predicted(replace(reed, parts={Part.BODY: body}), long_reed, SHELF)
    assert met.bait is not None
    off = de2000(lab_from_hex(met.bait.sides[0].alone.hex), lab_from_hex("#4a833e"))
    assert off == pytest.approx(found.off, abs=0.5)
    assert off < 2


def test_doses_for_a_colour_that_was_mixed_find_it_again() -> None:
    """The look of known doses is a target that can be met: the search has to come within what an eye sees."""
    wanted = predicted(EMBER, LEECH, SHELF)
    assert wanted.bait is not None
    over = wanted.bait.sides[0].over_core
    assert over is not None
    thinner = replace(
        EMBER.parts[Part.SHELL],
        doses=tuple(replace(dose, load_pct=0.05) for dose in EMBER.parts[Part.SHELL].doses),
    )
    begun = replace(EMBER, parts={**EMBER.parts, Part.SHELL: thinner})
    found = doses_found(begun, LEECH, SHELF, Part.SHELL, over.hex)
    assert found.off < 1.0
    met = predicted(
        replace(begun, parts={**begun.parts, Part.SHELL: replace(thinner, doses=found.doses)}), LEECH, SHELF
    )
    assert met.bait is not None
    assert met.bait.sides[0].over_core is not None
    assert de2000(lab_from_hex(met.bait.sides[0].over_core.hex), lab_from_hex(over.hex)) < 1.5


def test_the_shelf_offers_fillings_of_few_colours_that_look_as_was_said() -> None:
    seen: list[int] = []
    found = shelf_found(EMBER, LEECH, SHELF, Part.SHELL, "#306030", seen.append)
    assert seen == list(range(len(seen)))
    assert 2 <= len(found) <= MOST_ANSWERS
    assert len({frozenset(dose.colourant for dose in each.doses) for each in found}) == len(found)
    assert found[0].off < 2
    for each in found[:2]:
        shell = replace(EMBER.parts[Part.SHELL], doses=each.doses)
        met = predicted(replace(EMBER, parts={**EMBER.parts, Part.SHELL: shell}), LEECH, SHELF)
        assert met.bait is not None
        over = met.bait.sides[0].over_core
        assert over is not None
        assert de2000(lab_from_hex(over.hex), lab_from_hex("#306030")) == pytest.approx(each.off, abs=1.0)
        assert de2000(lab_from_hex(over.hex), lab_from_hex(each.hex)) < 1.0
        assert met.look is not None
        assert met.look.worst.core_visibility == pytest.approx(each.core_visibility, abs=0.5)


def test_where_all_of_the_nearest_hide_the_core_one_is_offered_that_does_not() -> None:
    found = shelf_found(EMBER, LEECH, SHELF, Part.SHELL, "#306030")
    assert [each.shows_core for each in found] == [False] * (MOST_ANSWERS - 1) + [True]
    assert found[-1].core_visibility is not None
    assert found[-1].core_visibility >= 5.0, "CIEDE2000 that is plain at arm's length; common practice, no source"
    assert found[-1].off > found[0].off


def test_nothing_from_the_shelf_is_too_little_to_weigh_and_what_is_left_out_is_reckoned() -> None:
    reed, mould = SHELF.recipes["hoarfrost-reed"], SHELF.moulds["ribbon-leech-4"]
    for each in shelf_found(reed, mould, SHELF, Part.BODY, "#6a3b20"):
        assert all(dose.load_pct >= 0.01 for dose in each.doses), "0.01 g in a cup of 100 g is what a scale shows"
        body = replace(reed.parts[Part.BODY], doses=each.doses)
        met = predicted(replace(reed, parts={Part.BODY: body}), mould, SHELF)
        assert met.bait is not None
        off = de2000(lab_from_hex(met.bait.sides[0].alone.hex), lab_from_hex("#6a3b20"))
        assert off == pytest.approx(each.off, abs=1.0)


def test_a_filling_from_the_shelf_leaves_the_flake_in_the_cup() -> None:
    reed = SHELF.recipes["hoarfrost-reed"]
    flake = [each for each in reed.parts[Part.BODY].doses if SHELF.colourants[each.colourant].flake]
    found = shelf_found(reed, SHELF.moulds["long-reed-6"], SHELF, Part.BODY, "#7a4b2c")
    assert flake
    assert all(set(flake) <= set(each.doses) for each in found)


def test_a_search_nobody_waits_for_ends_at_once() -> None:
    def heard(number: int) -> None:
        if number == 3:
            raise SearchStopped

    with pytest.raises(SearchStopped):
        shelf_found(EMBER, LEECH, SHELF, Part.SHELL, "#306030", heard)


def test_doses_are_refused_where_there_is_nothing_to_dose() -> None:
    bare = replace(EMBER, build=Build.PLAIN, parts={Part.BODY: PartRecipe()}, tail=Tail.KEPT)
    with pytest.raises(BenchError, match="0 colours to dose"):
        doses_found(bare, LEECH, SHELF, Part.BODY, "#336699")


def test_a_laminate_shows_each_side_over_the_other_as_its_look_does() -> None:
    shown = predicted(SHELF.recipes["dusk-and-dawn"], LEECH, SHELF)
    assert shown.look is not None
    assert shown.bait is not None
    over = [view.hex for view in shown.look.views if view.name is ViewName.OVER_OTHER]
    assert [tint.hex for label, tint in fields(shown.bait) if label.endswith("over other")] == over
    assert len(over) == 2


def test_cores_on_another_plastic_are_counted() -> None:
    firm = next(name for name in SHELF.plastics if name != EMBER.plastic)
    assert cores_elsewhere(replace(EMBER, plastic=firm), SHELF).partition(" ")[0].isdigit()
    assert "on another plastic" in cores_elsewhere(replace(EMBER, plastic=firm), SHELF)


def test_an_offer_says_what_it_costs_before_it_is_taken() -> None:
    found = doses_found(EMBER, LEECH, SHELF, Part.SHELL, "#6a3b20")
    assert found.core_visibility is not None
    hidden = offer_words(replace(found, core_visibility=2.0, is_capped=True, off=9.0), {})
    assert "The core would no longer show: 2.0, 5 or more shows." in hidden
    assert "It stops at 3 % colour together." in hidden
    assert not any("no longer" in each for each in offer_words(replace(found, core_visibility=9.0), {}))
    assert "for side B," in offer_words(replace(found, part=Part.SIDE_B), {})[0]
