"""The colour screen as rows, at every size, with every colour depth and with strings that mean harm."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.model.library import Library
from bench.model.recipe import Part, Tail
from bench.tui.colour.cells import Patch, text_of, width_of
from bench.tui.colour.depth import Depth
from bench.tui.colour.desk import (
    Building,
    Cores,
    Desk,
    Leaving,
    Mode,
    Offer,
    Picking,
    Reckoning,
    Sheet,
    Taken,
    Typing,
    What,
)
from bench.tui.colour.draft import begun
from bench.tui.colour.facts import advice, fields
from bench.tui.colour.goal import doses_found
from bench.tui.colour.page import Showing, page
from bench.tui.colour.predict import Predicted, cores_found, predicted, variants
from tests.tui.at_the_bench import shelf

MOULD = "ribbon-leech-4"
BUILDING = Building()
HOSTILE = "[@click=app.bell]x[/] \x1b[2J\x9b31m\u202eabc\x07" + "a\u0301" * 40


@cache
def looked_at(name: str) -> Predicted:
    """The look of a recipe of the shelf."""
    return predicted(shelf().recipes[name], shelf().moulds[MOULD], shelf())


def showing(
    name: str = "ember-under-peat",
    mode: Mode = BUILDING,
    *,
    depth: Depth = Depth.TRUE,
    line: str = "",
) -> Showing:
    """The screen with that recipe, in that mode."""
    draft = begun(shelf().recipes[name], MOULD)
    desk = Desk(draft=draft, mode=mode, line=line, saved=draft.recipe)
    return Showing(desk=desk, library=shelf(), predicted=looked_at(name), depth=depth)


@cache
def modes() -> tuple[Mode, ...]:
    """Every mode, as it is with the demo."""
    library, recipe = shelf(), shelf().recipes["ember-under-peat"]
    mould = library.moulds[MOULD]
    shell = next(iter(recipe.parts))
    return (
        Building(),
        Picking(names=tuple(library.colourants), at=3),
        Picking(names=tuple(library.recipes), recipes=True),
        Typing(what=What.GOAL, typed="#12", problem='Wanted colour: "#12" is not a colour; give six hex digits.'),
        Typing(what=What.TITLE, typed="x" * 60),
        Reckoning(says="Mixing variants …"),
        Cores(found=cores_found(recipe, mould, library, shell), at=7),
        Sheet(found=variants(recipe, mould, library), tail=Tail.CUT),
        Offer(found=doses_found(recipe, mould, library, shell, "#6a3b20")),
        Taken(recipe=recipe, why='a recipe called "ember-under-peat" is on the shelf already'),
        Leaving(),
    )


NAMES = st.sampled_from(
    ["ember-under-peat", "peat-plain", "dusk-and-dawn", "moon-between-banks", "hoarfrost-reed"]
)


@settings(max_examples=150, deadline=None)
@given(NAMES, st.integers(0, 10), st.integers(1, 250), st.integers(1, 80), st.sampled_from(list(Depth)))
def test_every_window_gets_exactly_its_rows(name: str, mode: int, width: int, height: int, depth: Depth) -> None:
    rows = page(showing(name, modes()[mode], depth=depth, line="A line that answers a key."), width, height)
    assert len(rows) == height
    assert all(width_of(row) <= width for row in rows)
    if depth is Depth.NONE:
        assert not any(isinstance(piece, Patch) and (piece.fore or piece.ground) for row in rows for piece in row)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (240, 70)])
def test_what_matters_stands_in_every_usual_window(size: tuple[int, int]) -> None:
    shown = "\n".join(text_of(row) for row in page(showing(), *size))
    for words in (
        "Ember under Peat",
        "Peat brown",
        "0.22 %",
        "▼ now",
        "tail cut",
        "slice",
        "window",
    ):
        assert words in shown, words
    assert "Esc back" in shown


def test_80_by_24_shows_all_of_it() -> None:
    shown = "\n".join(text_of(row) for row in page(showing(), 80, 24))
    for words in (
        "Chalk white",
        "tail kept",
        "tail cut",
        "core shows",
        "shell tints",
        "unlike both",
        "wall hides",
        "weigh it so.",
        "Do not judge by the cup",
        "in cup",
        "in bait",
        "over core",
        "save",
        "variants",
        "F cores",
        "goal",
    ):
        assert words in shown, words


def test_the_cup_stands_beside_the_bait_in_its_own_colour() -> None:
    bait = looked_at("ember-under-peat").bait
    assert bait is not None
    patches = [piece for row in page(showing(), 80, 24)[-12:] for piece in row if isinstance(piece, Patch)]
    colours = [patch.fore for patch in patches]
    cup = colours.index(bait.sides[0].cup.hex)
    assert colours[cup + 1] == bait.sides[0].alone.hex
    assert bait.sides[0].over_core is not None
    assert colours[cup + 2] == bait.sides[0].over_core.hex


def test_without_colours_the_words_stand_in_the_pictures_place() -> None:
    shown = "\n".join(text_of(row) for row in page(showing(depth=Depth.NONE), 80, 24))
    bait = looked_at("ember-under-peat").bait
    assert bait is not None
    assert bait.core is not None
    for tint in (bait.sides[0].cup, bait.sides[0].alone, bait.sides[0].over_core, bait.core.alone, bait.core.tail):
        assert tint is not None
        assert tint.hex in shown


def test_few_colours_are_said_to_be_rough() -> None:
    assert "16 colours" in "\n".join(text_of(row) for row in page(showing(depth=Depth.FEW), 100, 40))


def test_strings_that_mean_harm_come_out_harmless() -> None:
    library = _hostile(shelf())
    recipe = library.recipes["ember-under-peat"]
    draft = begun(recipe, MOULD)
    shown = predicted(recipe, library.moulds[MOULD], library)
    variety = variants(recipe, library.moulds[MOULD], library)
    for mode in (
        *(mode for mode in modes() if not isinstance(mode, Sheet)),
        Typing(what=What.TITLE, typed=HOSTILE),
        Taken(recipe=recipe, why=HOSTILE),
        Sheet(found=variety, tail=Tail.KEPT),
    ):
        desk = Desk(draft=draft, mode=mode)
        for size in ((60, 20), (120, 40)):
            text = "".join(
                text_of(row) for row in page(Showing(desk=desk, library=library, predicted=shown), *size)
            )
            assert not [c for c in text if ord(c) < 0x20 or 0x7F <= ord(c) < 0xA0 or c == "\u202e"], mode


def _hostile(library: Library) -> Library:
    return replace(
        library,
        colourants={name: replace(each, title=HOSTILE) for name, each in library.colourants.items()},
        recipes={name: replace(each, title=HOSTILE + name) for name, each in library.recipes.items()},
        moulds={name: replace(each, title=HOSTILE) for name, each in library.moulds.items()},
    )


@pytest.mark.parametrize("depth", list(Depth))
@pytest.mark.parametrize(
    "name", ["ember-under-peat", "moon-between-banks", "lantern-under-soot", "moon-under-reed"]
)
def test_at_80x24_how_far_the_core_shows_and_that_the_cup_misleads_are_never_dropped(
    name: str, depth: Depth
) -> None:
    misled = replace(looked_at(name), cup_off=12.0, cup_misses="too dark")
    seen = replace(showing(name, depth=depth), predicted=misled)
    text = " ".join("\n".join(text_of(row) for row in page(seen, 80, 24)).split())
    assert "core shows" in text
    assert f'"{misled.cup_fields[0]}" looks plainly darker than "{misled.cup_fields[1]}".' in text


def loaded(name: str, times: float) -> Showing:
    """That recipe with so many times its loads but in the core, after something was said."""
    recipe = shelf().recipes[name]
    parts = {
        part: each
        if part is Part.CORE
        else replace(each, doses=tuple(replace(dose, load_pct=times * dose.load_pct) for dose in each.doses))
        for part, each in recipe.parts.items()
    }
    draft = begun(replace(recipe, parts=parts), MOULD)
    look = predicted(draft.recipe, shelf().moulds[MOULD], shelf())
    desk = Desk(draft=draft, mode=BUILDING, line="Dose taken.", saved=draft.recipe)
    return Showing(desk=desk, library=shelf(), predicted=look, depth=Depth.MANY)


@pytest.mark.parametrize(
    ("name", "times", "figure"),
    [
        ("lantern-under-soot", 2.0, "weigh it closely, or take about 0.021 %."),
        ("ember-under-peat", 0.2, "bring Peat brown up to 0.085 % or more."),
        ("ember-between-banks", 4.0, "bring Reed green down to 0.57 % or less."),
    ],
)
def test_at_80x24_the_dose_that_is_recommended_is_never_cut(name: str, times: float, figure: str) -> None:
    seen = loaded(name, times)
    assert figure in " ".join("\n".join(text_of(row) for row in page(seen, 80, 24)).split())
    (amount,) = re.findall(r"[\d.]+ %", figure)
    assert amount in advice(seen.predicted), "the same as in full"


@pytest.mark.parametrize("name", ["ember-under-peat", "moon-between-banks", "peat-plain"])
def test_what_the_cup_is_compared_with_is_named_as_its_field_is(name: str) -> None:
    seen = looked_at(name)
    assert seen.bait is not None
    assert set(seen.cup_fields) <= {label for label, _ in fields(seen.bait)}
    tints = dict(fields(seen.bait))
    # Coloraide, another's formulas, on what the two fields show; a hex code is rounded.
    cup, bait = (Color(tints[label].hex) for label in seen.cup_fields)
    if not any(tints[label].clipped for label in seen.cup_fields):
        assert cup.delta_e(bait, method="2000") == pytest.approx(seen.cup_off, abs=1.0)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
def test_a_terminal_of_few_colours_says_that_pictures_may_deceive(size: tuple[int, int]) -> None:
    texts = {depth: "\n".join(text_of(row) for row in page(showing(depth=depth), *size)) for depth in Depth}
    assert "This terminal shows 256 colours: trust the figures." in texts[Depth.MANY]
    assert "This terminal shows 16 colours: trust the figures." in texts[Depth.FEW]
    assert not any("trust the figures" in texts[depth] for depth in (Depth.TRUE, Depth.NONE))


def test_the_place_where_a_colour_is_added_stands_there_wherever_the_cursor_is() -> None:
    rows = [text_of(row) for row in page(showing(), 80, 24)]
    assert sum("+ add a colour" in row for row in rows) == 2, "one in each cup"
