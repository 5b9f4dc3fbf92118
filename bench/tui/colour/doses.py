"""The left of the colour screen: the cups with their doses, or whatever is chosen or typed in their place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from bench.colour.cores import Ranking
from bench.model.library import Library
from bench.model.recipe import PARTS
from bench.tui import present
from bench.tui.colour.cells import Patch, Row
from bench.tui.colour.depth import Depth, sent
from bench.tui.colour.desk import Cores, Desk, Leaving, Offer, Offers, Picking, Reckoning, Taken, Typing, What
from bench.tui.colour.draft import Draft, Place
from bench.tui.colour.facts import core_words, dose_words, filling_line, filling_words, offer_words, the
from bench.tui.text import clean, cut, wrap
from bench.tui.widgets.lines import Line, Piece, Tone, line, lines

CURSOR, NO_CURSOR = "› ", "  "
FIELD = "███"
DROPS = "25 drops"
ROOM_TO_WEIGH = 14 + len(DROPS)
"""Columns from which a name and what to weigh for it stand side by side."""


def left_rows(desk: Desk, library: Library, width: int, height: int, depth: Depth) -> tuple[Row, ...]:
    """At most so many rows; a list that is longer stays around its cursor."""
    rows: tuple[Row, ...]
    match desk.mode:
        case Picking():
            rows = _list(_picking(desk.mode, library, width), desk.mode.at, height, "Choose")
        case Cores():
            rows = _list(_cores(desk.mode, width, depth), desk.mode.at, height, _HEADINGS[desk.mode.by])
        case Typing():
            rows = _typing(desk, desk.mode, library, width)
        case Offer():
            rows = _offer(desk.mode, library, width, depth)
        case Offers():
            rows = _offers(desk.mode, library, width, height, depth)
        case Taken():
            rows = _taken(desk.mode, width)
        case Leaving():
            rows = lines(
                wrap("This colour is not saved. S saves it, Q leaves it, Esc stays.", width), Tone.CAUTION
            )
        case Reckoning():
            rows = lines(wrap(desk.mode.says, width), Tone.QUIET)
        case _:
            rows = _cups(desk.draft, library, width, height)
    return rows[:height]


_HEADINGS = {
    Ranking.SHOWS: "How far a core shows, best first",
    Ranking.THIRD: "How far a core shows, third colour first",
}


def _taken(mode: Taken, width: int) -> tuple[Row, ...]:
    why = lines(wrap(present.sentence(f"{clean(mode.why, limit=400)}."), width), Tone.CAUTION)
    over = "O writes over it." if mode.own else "O puts yours in its place."
    return (*why, line(over, Tone.KEY), line("Esc: another name.", Tone.KEY))


def _list(rows: Sequence[Row], at: int, height: int, heading: str) -> tuple[Row, ...]:
    return (line(heading, Tone.QUIET), *around(rows, at, height - 1))


def around(rows: Sequence[Row], at: int, height: int) -> tuple[Row, ...]:
    """As many of the rows as fit, with the one of the cursor among them."""
    first = max(0, min(at - height // 2, len(rows) - height))
    return tuple(rows[first : first + max(0, height)])


def _cups(draft: Draft, library: Library, width: int, height: int) -> tuple[Row, ...]:
    places = [Place(part=part, dose=None) for part in PARTS[draft.recipe.build]]
    held = sum(len(draft.recipe.parts[place.part].doses) for place in places)
    all_fit = 2 * len(places) + held <= height
    rows: list[Row] = []
    at = 0
    for part in PARTS[draft.recipe.build]:
        rows.append(line(f"{part.words} cup, for 100 g", Tone.QUIET))
        for number in (*range(len(draft.recipe.parts[part].doses)), None):
            place = Place(part=part, dose=number)
            if place == draft.place:
                at = len(rows)
            empty = not draft.recipe.parts[part].doses
            if number is not None or place == draft.place or empty or all_fit:
                rows.append(_dose(draft, place, library, width))
    plastic = library.plastics.get(draft.recipe.plastic)
    if len(rows) < height:
        name = clean(plastic.title if plastic else draft.recipe.plastic)
        rows.append(line(cut(f"plastic: {name}", width), Tone.QUIET))
    return around(rows, at, height)


def _dose(draft: Draft, place: Place, library: Library, width: int) -> Line:
    here = place == draft.place
    mark, tone = (CURSOR, Tone.ENTRY) if here else (NO_CURSOR, Tone.PLAIN)
    if place.dose is None:
        return (Piece(text=mark, tone=tone), Piece(text="+ add a colour", tone=tone if here else Tone.QUIET))
    dose = draft.recipe.parts[place.part].doses[place.dose]
    colourant = library.colourants.get(dose.colourant)
    title = clean(colourant.title if colourant else dose.colourant)
    figure = present.load(dose.load_pct).rjust(7)
    weigh = dose_words(dose, colourant)
    room = width - len(mark) - len(figure) - 1
    if room < ROOM_TO_WEIGH:
        weigh = ""
    names = room - len(DROPS) if weigh else room
    return (
        Piece(text=mark, tone=tone),
        Piece(text=cut(title, names - 1).ljust(names), tone=tone),
        Piece(text=figure, tone=Tone.COUNT),
        Piece(text=f" {cut(weigh, room - names)}", tone=Tone.QUIET),
    )


def _picking(mode: Picking, library: Library, width: int) -> tuple[Row, ...]:
    records = library.recipes if mode.recipes else library.colourants
    return tuple(
        _entry(clean(records[name].title), number == mode.at, width) for number, name in enumerate(mode.names)
    )


def _entry(text: str, here: bool, width: int) -> Line:  # noqa: FBT001 - a row is or is not under the cursor
    return line(cut(f"{CURSOR if here else NO_CURSOR}{text}", width), Tone.ENTRY if here else Tone.PLAIN)


def _cores(mode: Cores, width: int, depth: Depth) -> tuple[Row, ...]:
    return tuple(tuple(_core(mode, number, width, depth)) for number in range(len(mode.found)))


def _core(mode: Cores, number: int, width: int, depth: Depth) -> Iterator[Piece | Patch]:
    core, here = mode.found[number], number == mode.at
    tone = Tone.ENTRY if here else Tone.PLAIN
    words = core_words(core)
    shown = depth is not Depth.NONE
    room = max(8, width - len(words) - 3 - (2 * len(FIELD) + 1 if shown else 0))
    yield Piece(text=CURSOR if here else NO_CURSOR, tone=tone)
    if shown:
        for tint in (core.alone, core.over):
            colour = sent(tint.hex, depth)
            yield Patch(text=FIELD, fore=colour, ground=colour)
        yield Piece(text=" ")
    yield Piece(text=cut(clean(core.title).removeprefix("core of "), room).ljust(room), tone=tone)
    yield Piece(text=f" {words}", tone=Tone.QUIET)


_ASKS = {
    What.GOAL: "Which colour, as three or six hex digits?",
    What.DOSE: "How much?",
    What.TITLE: "Save it under which name?",
}


def _typing(desk: Desk, mode: Typing, library: Library, width: int) -> tuple[Row, ...]:
    # The end of what is typed has to be seen, so a long one loses its beginning.
    typed = clean(mode.typed)[-max(1, width - 3) :]
    field: Line = (Piece(text="› ", tone=Tone.ENTRY), Piece(text=f"{typed}▏", tone=Tone.ENTRY))
    asks = _ASKS[mode.what]
    if mode.what is What.DOSE:
        dose = desk.draft.dose
        asks = f"How much {clean(library.colourants[dose.colourant].title) if dose else ''}?"
        field = (*field, Piece(text=f" {mode.by.value}", tone=Tone.QUIET))
    return (line(cut(asks, width)), field, *lines(wrap(mode.problem, width), Tone.CAUTION))


def _offer(mode: Offer, library: Library, width: int, depth: Depth) -> tuple[Row, ...]:
    titles = {name: each.title for name, each in library.colourants.items()}
    said = offer_words(mode.found, titles)
    rows: list[Row] = [line(row) for text in said for row in wrap(text, width)]
    if depth is not Depth.NONE:
        colour = sent(mode.found.wanted, depth)
        rows.insert(len(wrap(said[0], width)), (Patch(text=FIELD * 3, fore=colour, ground=colour),))
    return (*rows, *lines(wrap("Enter takes them, G searches the whole shelf, Esc leaves them.", width), Tone.KEY))


def _offers(mode: Offers, library: Library, width: int, height: int, depth: Depth) -> tuple[Row, ...]:
    """A row each, by its digit, and beneath them in full the one that is marked, as far as there is room."""
    titles = {name: each.title for name, each in library.colourants.items()}
    here = mode.found[mode.at]
    rows = [_answer(mode, number, titles, width, depth) for number in range(len(mode.found))]
    full = [line(row) for text in filling_words(here, titles) for row in wrap(text, width)]
    listed = max(1, min(len(rows), height - 1 - len(full)))
    words = f"Nearest to {here.wanted} for {the(here.part)} "
    heading: Row = line(cut(words, width), Tone.QUIET)
    if depth is not Depth.NONE and len(words) + len(FIELD) <= width:
        wanted = sent(here.wanted, depth)
        heading = (*heading, Patch(text=FIELD, fore=wanted, ground=wanted))
    return (heading, *around(rows, mode.at, listed), *full)


def _answer(mode: Offers, number: int, titles: Mapping[str, str], width: int, depth: Depth) -> Row:
    found, here = mode.found[number], number == mode.at
    mark = Piece(text=f"{CURSOR if here else NO_CURSOR}{number + 1} ", tone=Tone.ENTRY if here else Tone.KEY)
    field: tuple[Piece | Patch, ...] = ()
    if depth is not Depth.NONE:
        colour = sent(found.hex, depth)
        field = (Patch(text=FIELD, fore=colour, ground=colour), Piece(text=" "))
    room = width - 4 - (len(FIELD) + 1 if field else 0)
    tone = Tone.ENTRY if here else Tone.PLAIN
    return (mark, *field, Piece(text=cut(filling_line(found, titles), max(0, room)), tone=tone))
