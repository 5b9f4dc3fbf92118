"""What a key makes of the desk: the desk after it, and what is asked of the outside."""

from __future__ import annotations

from dataclasses import replace

from bench.colour.cores import Ranking
from bench.model.library import Library
from bench.model.recipe import PARTS, Part, Tail
from bench.tui.colour.desk import (
    Building,
    Cores,
    Desk,
    FindCores,
    Help,
    Leave,
    Leaving,
    MakeVariants,
    Offer,
    Offers,
    Picking,
    ReadWords,
    Reckoning,
    Reply,
    Save,
    Sheet,
    StopAsking,
    Taken,
    Typing,
    What,
)
from bench.tui.colour.draft import COARSE, Draft
from bench.tui.colour.goal import DosesFound
from bench.tui.colour.keys import Press, Stroke
from bench.tui.colour.predict import in_order
from bench.tui.colour.typed import NUMERALS, SEARCHING, dosing, searching, typing
from bench.tui.text import clean

_STEPS = {Press.MORE: 1, Press.LESS: -1, Press.MUCH_MORE: COARSE, Press.MUCH_LESS: -COARSE}


ADD_FIRST = "There is no colour here yet: Enter adds one, then type how much."
DEAD = "That key does nothing here; the keys that do stand below."


def answer(desk: Desk, stroke: Stroke, library: Library) -> Reply:
    """What that key does now; a key that does nothing is answered by a line."""
    before = replace(desk, line="")
    reply = _answered(before, stroke, library)
    if reply != Reply(desk=before) or isinstance(desk.mode, Typing | Reckoning) or stroke.press in _MAY_STAY:
        return reply
    return Reply(desk=replace(before, line=DEAD))


_MAY_STAY = (Press.UP, Press.DOWN)
"""Keys that may find nothing further on."""


def _answered(desk: Desk, stroke: Stroke, library: Library) -> Reply:
    match desk.mode:
        case Building() if stroke.character in NUMERALS:
            reply = dosing(desk, stroke, library) if desk.draft.dose else Reply(desk=replace(desk, line=ADD_FIRST))
        case Building():
            reply = _building(desk, stroke.press, library)
        case Picking():
            reply = Reply(desk=_picking(desk, desk.mode, stroke.press, library))
        case Typing():
            reply = typing(desk, desk.mode, stroke, library)
        case Taken():
            reply = _taken(desk, desk.mode, stroke)
        case Leaving():
            reply = _leaving(desk, stroke.press)
        case Reckoning():
            left = Reply(desk=desk.entering(Building()), wish=StopAsking())
            reply = left if stroke.press is Press.LEAVE else Reply(desk=desk)
        case Cores() | Sheet() | Offer() | Offers():
            reply = _choosing(desk, desk.mode, stroke)
    return reply


def _choosing(desk: Desk, mode: Cores | Sheet | Offer | Offers, stroke: Stroke) -> Reply:
    """What a key makes of what is offered."""
    match mode:
        case Cores():
            return Reply(desk=_cores(desk, mode, stroke.press))
        case Sheet():
            return Reply(desk=_sheet(desk, mode, stroke))
        case Offers():
            return Reply(desk=_offers(desk, mode, stroke))
        case Offer():
            return _offer(desk, mode, stroke.press)


def _building(desk: Desk, press: Press, library: Library) -> Reply:
    match press:
        case Press.ADD | Press.TAKE:
            return Reply(desk=_adding(desk, library))
        case Press.RECIPE:
            return Reply(desk=desk.entering(Picking(names=tuple(library.recipes), recipes=True)))
        case Press.PLASTIC:
            return Reply(desk=desk.drawing(_next_plastic(desk.draft, library)))
        case Press.NEW:
            line = "An empty recipe: A adds a colour, U takes this back."
            return Reply(desk=desk.drawing(desk.draft.emptied(), line))
        case Press.LEAVE | Press.QUIT:
            return Reply(desk=desk, wish=Leave()) if desk.is_kept else Reply(desk=desk.entering(Leaving()))
        case Press.CORES | Press.VARIANTS | Press.GOAL | Press.SAVE | Press.WORDS | Press.HELP:
            return _asking(desk, press)
        case _:
            return Reply(desk=desk.drawing(*_drawn(desk.draft, press, library)))


def _drawn(draft: Draft, press: Press, library: Library) -> tuple[Draft, str]:
    """The draft after a key that changes it, and the line that answers a key that cannot."""
    line = ""
    match press:
        case Press.MORE | Press.LESS | Press.MUCH_MORE | Press.MUCH_LESS:
            line = "" if draft.dose else ADD_FIRST
            moved = draft.with_dose_moved(_STEPS[press])
            if draft.dose and moved is draft:
                line = f"It goes no {'higher' if _STEPS[press] > 0 else 'lower'}."
            draft = moved
        case Press.UP | Press.DOWN:
            draft = draft.moved(1 if press is Press.DOWN else -1)
        case Press.REMOVE | Press.RUB_OUT:
            draft, line = _taken_out(draft)
        case Press.BUILD:
            draft = draft.with_next_build()
        case Press.MOULD:
            draft = _next_mould(draft, library)
        case Press.TAIL:
            line = "" if draft.recipe.build.has_core else "Only core work cuts the tail."
            draft = draft.with_other_tail()
        case Press.UNDO:
            line = "" if draft.past else "Nothing to take back."
            draft = draft.undone()
        case _:
            pass
    return draft, line


def _asking(desk: Desk, press: Press) -> Reply:
    draft = desk.draft
    match press:
        case Press.CORES:
            waiting = desk.entering(Reckoning(says="Trying every core on the shelf …"))
            return Reply(desk=waiting, wish=FindCores(part=_shell_of(draft)))
        case Press.VARIANTS:
            return Reply(desk=desk.entering(Reckoning(says="Mixing variants …")), wish=MakeVariants())
        case Press.GOAL:
            return Reply(desk=desk.entering(Typing(what=What.GOAL, typed="#")))
        case Press.SAVE:
            return Reply(desk=desk.entering(Typing(what=What.TITLE, typed=clean(desk.offered_title))))
        case Press.HELP:
            return Reply(desk=desk, wish=Help())
        case _:
            return Reply(desk=desk, wish=ReadWords())


def _shell_of(draft: Draft) -> Part:
    """The shell under the cursor, or the first one while it is on the core."""
    part = draft.place.part
    return PARTS[draft.recipe.build][0] if part is Part.CORE else part


def _next_mould(draft: Draft, library: Library) -> Draft:
    moulds = list(library.moulds)
    place = moulds.index(draft.mould) if draft.mould in moulds else -1
    return replace(draft, mould=moulds[(place + 1) % len(moulds)])


def _taken_out(draft: Draft) -> tuple[Draft, str]:
    """The draft without the dose under the cursor, and what to do about a cup that is empty then."""
    if draft.dose is None:
        return draft, "There is no colour here to take out."
    part, left = draft.place.part, draft.without_dose()
    empty = not left.recipe.parts[part].doses
    return left, f"The {part.words} cup holds no colour now: A adds a colour." if empty else ""


def _next_plastic(draft: Draft, library: Library) -> Draft:
    plastics = sorted(library.plastics)
    place = plastics.index(draft.recipe.plastic) if draft.recipe.plastic in plastics else -1
    return draft.on_plastic(plastics[(place + 1) % len(plastics)])


def _adding(desk: Desk, library: Library) -> Desk:
    held = {dose.colourant for dose in desk.draft.recipe.parts[desk.draft.place.part].doses}
    names = tuple(name for name in library.colourants if name not in held)
    if not names:
        return replace(desk, line="Every colour on the shelf is in this cup already.")
    return desk.entering(Picking(names=names))


def _picking(desk: Desk, mode: Picking, press: Press, library: Library) -> Desk:
    match press:
        case Press.UP | Press.DOWN:
            return desk.entering(replace(mode, at=_within(mode.at, press, len(mode.names))))
        case Press.TAKE if mode.names and mode.recipes:
            recipe = library.recipes[mode.names[mode.at]]
            return replace(desk.drawing(desk.draft.begun_anew(recipe)), saved=recipe)
        case Press.TAKE if mode.names:
            return desk.drawing(desk.draft.with_colourant(mode.names[mode.at]))
        case Press.LEAVE | Press.QUIT:
            return desk.entering(Building())
        case _:
            return desk


def _within(at: int, press: Press, count: int) -> int:
    return max(0, min(count - 1, at + (1 if press is Press.DOWN else -1)))


def _cores(desk: Desk, mode: Cores, press: Press) -> Desk:
    match press:
        case Press.UP | Press.DOWN:
            return desk.entering(replace(mode, at=_within(mode.at, press, len(mode.found))))
        case Press.TAKE if mode.found:
            chosen = mode.found[mode.at]
            return desk.drawing(desk.draft.with_doses(Part.CORE, chosen.doses), f"Core: {clean(chosen.title)}.")
        case Press.TAIL if mode.found:
            return desk.entering(_other_order(mode))
        case Press.LEAVE | Press.QUIT:
            return desk.entering(Building())
        case _:
            return desk


def _other_order(mode: Cores) -> Cores:
    """The same cores ranked the other way, the cursor on the same one."""
    by = Ranking.THIRD if mode.by is Ranking.SHOWS else Ranking.SHOWS
    found = in_order(mode.found, by)
    return Cores(found=found, at=found.index(mode.found[mode.at]), by=by)


def _sheet(desk: Desk, mode: Sheet, stroke: Stroke) -> Desk:
    match stroke.press:
        case Press.DIGIT if int(stroke.character or "0") <= len(mode.found):
            chosen = mode.found[int(stroke.character) - 1]
            tail = mode.tail if chosen.recipe.build.has_core else Tail.KEPT
            return desk.drawing(
                desk.draft.with_recipe(replace(chosen.recipe, tail=tail)), f"{clean(chosen.says)}."
            )
        case Press.TAIL if mode.found[0].recipe.build.has_core:
            return desk.entering(replace(mode, tail=Tail.KEPT if mode.tail is Tail.CUT else Tail.CUT))
        case Press.LEAVE | Press.QUIT | Press.VARIANTS:
            return desk.entering(Building())
        case _:
            return desk


def tried(desk: Desk, number: int) -> Desk:
    """The desk once so many sets of the shelf's colours were tried; one that waits for nothing stays as it is."""
    if not (isinstance(desk.mode, Reckoning) and desk.mode.says.startswith(SEARCHING)):
        return desk
    return replace(desk, mode=Reckoning(says=f"{SEARCHING} {number} sets so far."))


def _offer(desk: Desk, mode: Offer, press: Press) -> Reply:
    match press:
        case Press.TAKE:
            return Reply(desk=desk.drawing(desk.draft.with_doses(mode.found.part, mode.found.doses)))
        case Press.GOAL:
            return searching(desk, mode.found.part, mode.found.wanted)
        case Press.LEAVE | Press.QUIT:
            return Reply(desk=desk.entering(Building()))
        case _:
            return Reply(desk=desk)


def _offers(desk: Desk, mode: Offers, stroke: Stroke) -> Desk:
    match stroke.press:
        case Press.UP | Press.DOWN:
            return desk.entering(replace(mode, at=_within(mode.at, stroke.press, len(mode.found))))
        case Press.TAKE:
            return _filled(desk, mode.found[mode.at])
        case Press.DIGIT if int(stroke.character or "0") <= len(mode.found):
            return _filled(desk, mode.found[int(stroke.character) - 1])
        case Press.LEAVE | Press.QUIT:
            return desk.entering(Building())
        case _:
            return desk


def _filled(desk: Desk, found: DosesFound) -> Desk:
    """A part filled anew: its old colours can be had back."""
    return desk.drawing(desk.draft.with_doses(found.part, found.doses), f"The {found.part.words} is filled anew.")


def _taken(desk: Desk, mode: Taken, stroke: Stroke) -> Reply:
    if stroke.character.lower() == "o":
        return Reply(desk=desk.entering(Reckoning(says="Saving …")), wish=Save(recipe=mode.recipe, over=True))
    if stroke.press is Press.LEAVE:
        return Reply(desk=desk.entering(Typing(what=What.TITLE, typed=clean(mode.recipe.title))))
    return Reply(desk=desk)


def _leaving(desk: Desk, press: Press) -> Reply:
    match press:
        case Press.QUIT:
            return Reply(desk=desk, wish=Leave())
        case Press.SAVE:
            return _asking(desk.entering(Building()), Press.SAVE)
        case Press.LEAVE:
            return Reply(desk=desk.entering(Building()))
        case _:
            return Reply(desk=desk)
