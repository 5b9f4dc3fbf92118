"""What is typed on the colour screen: a wanted colour, a name, a dose."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from bench.colour.lab import lab_from_hex
from bench.errors import BenchError
from bench.model.library import Library
from bench.model.recipe import Part
from bench.tui import present
from bench.tui.colour.amount import flake_line, next_way, typed_load, ways
from bench.tui.colour.desk import (
    Building,
    Desk,
    FindDoses,
    FindOnShelf,
    Reckoning,
    Reply,
    Save,
    Typing,
    What,
)
from bench.tui.colour.draft import ready_to_save, slug
from bench.tui.colour.keys import Press, Stroke
from bench.tui.text import clean

LONGEST: Mapping[What, int] = {What.GOAL: 12, What.DOSE: 12, What.TITLE: 60}
"""Characters that are taken of what is typed."""

NUMERALS = frozenset("0123456789.,")
"""What begins a dose: the empty text of a key that types nothing is not among them."""

SEARCHING = "Trying the colours of the whole shelf …"


def searching(desk: Desk, part: Part, wanted: str) -> Reply:
    """The whole shelf is asked for doses."""
    return Reply(desk=desk.entering(Reckoning(says=SEARCHING)), wish=FindOnShelf(part=part, wanted=wanted))


def pasted(desk: Desk, text: str) -> Desk:
    """The desk after a paste: it goes where something is typed, cleaned, and nowhere else."""
    if not isinstance(desk.mode, Typing):
        return desk
    return desk.entering(_typed(desk.mode, clean(text)))


def typing(desk: Desk, mode: Typing, stroke: Stroke, library: Library) -> Reply:
    """What a key makes of what is typed."""
    if stroke.press is Press.LEAVE:
        return Reply(desk=desk.entering(Building()))
    if stroke.press is Press.RUB_OUT:
        return Reply(desk=desk.entering(replace(mode, typed=mode.typed[:-1], problem="")))
    if stroke.press is Press.SWITCH and mode.what is What.DOSE:
        by = next_way(mode.by, desk.draft, library)
        problem = "" if len(mode.ways) > 1 else ONE_WAY
        return Reply(desk=replace(desk, mode=replace(mode, by=by, problem=problem)))
    if stroke.press is Press.TAKE and stroke.character != " ":
        return _typed_whole(desk, mode, library)
    return Reply(desk=desk.entering(_typed(mode, stroke.character)))


ONE_WAY = "This is typed in percent of its cup; only flake can be counted otherwise."


def _typed(mode: Typing, text: str) -> Typing:
    """With that text too; where there is no room for all of it that is said, never dropped without a word."""
    whole, most = mode.typed + text, LONGEST[mode.what]
    problem = (
        "" if len(whole) <= most else f"There is room for {most} characters; what came after them is left out."
    )
    return replace(mode, typed=whole[:most], problem=problem)


def _typed_whole(desk: Desk, mode: Typing, library: Library) -> Reply:
    match mode.what:
        case What.GOAL:
            return _typed_goal(desk, mode)
        case What.DOSE:
            return Reply(desk=_typed_dose(desk, mode, library))
        case What.TITLE:
            return _typed_title(desk, mode, library)


def dosing(desk: Desk, stroke: Stroke, library: Library) -> Reply:
    """The first numeral of a dose for the colour under the cursor; flake goes on as it was typed last."""
    found = ways(desk.draft, library)
    by = desk.dosed_by if desk.dosed_by in found else found[0]
    return Reply(desk=desk.entering(Typing(what=What.DOSE, typed=stroke.character, by=by, ways=found)))


def _typed_dose(desk: Desk, mode: Typing, library: Library) -> Desk:
    try:
        load_pct = typed_load(mode.typed, mode.by, desk.draft, library)
    except BenchError as error:
        return desk.entering(replace(mode, problem=f"{present.sentence(clean(str(error)).rstrip('.'))}."))
    dosed = desk.draft.with_load(load_pct)
    by = mode.by if len(mode.ways) > 1 else desk.dosed_by
    return replace(desk.drawing(dosed, flake_line(dosed, library)), dosed_by=by)


def _typed_goal(desk: Desk, mode: Typing) -> Reply:
    wanted = "#" + mode.typed.strip().lstrip("#")
    try:
        lab_from_hex(wanted, field="wanted colour")
    except BenchError as error:
        problem = present.sentence(clean(str(error)))
        return Reply(desk=desk.entering(replace(mode, problem=problem)))
    part = desk.draft.place.part
    if not desk.draft.recipe.parts[part].doses:
        return searching(desk, part, wanted)
    wish = FindDoses(part=part, wanted=wanted)
    return Reply(desk=desk.entering(Reckoning(says="Looking for doses …")), wish=wish)


def _typed_title(desk: Desk, mode: Typing, library: Library) -> Reply:
    title = " ".join(mode.typed.split())
    if not slug(title):
        problem = "A name needs a letter or a digit, from a to z or 0 to 9."
        return Reply(desk=desk.entering(replace(mode, problem=problem)))
    twins = [each.name for each in library.recipes.values() if each.title.casefold() == title.casefold()]
    if twins and slug(title) not in twins and not mode.problem:
        problem = f"{clean(twins[0])} has this title too; Enter again saves it all the same."
        return Reply(desk=desk.entering(replace(mode, problem=problem)))
    wish = Save(recipe=ready_to_save(desk.draft, title))
    return Reply(desk=desk.entering(Reckoning(says="Saving …")), wish=wish)
