"""Cautions that fill the middle of the screen: an opening card, or the alarm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bench.tui.pour.beside import beside, larger_beside
from bench.tui.pour.choice_rows import lowest_whole
from bench.tui.pour.picture import Sheet, Words
from bench.tui.text import wrap
from bench.tui.widgets.blocks import largest
from bench.tui.widgets.lines import BLANK, Line, Tone, line, lines

LONGEST_ROW = 100

CARD_ROWS = 8
"""A card's large word stays this low: the card is there to be read."""


STAND_IN = "   "
"""What follows a caution's sign stands in as far as its words."""


def sheet_rows(sheet: Sheet, room: int, height: int) -> tuple[tuple[Line, ...], bool]:
    """Exactly ``height`` rows, and whether every caution stands on them in full.

    The words come first; the sentence behind each, its source and the large word follow where there is room.
    """
    width = min(room, LONGEST_ROW)
    forms = [list(_rows(sheet, width, depth=depth, airy=airy)) for depth, airy in _FORMS]
    forms.append(list(_bare(sheet, width)))
    fitting = [form for form in forms if len(form) <= height]
    rows = fitting[0] if fitting else [*forms[-1][: max(0, height - 1)], _too_small(sheet)]
    return _with_large(sheet, rows, room, height), bool(fitting)


def _with_large(sheet: Sheet, rows: list[Line], room: int, height: int) -> tuple[Line, ...]:
    """The rows with the large word above them, or right of them where that is larger and costs them no column."""
    most = height if sheet.is_alarm else CARD_ROWS
    above = largest(sheet.large, room, min(most, height - len(rows) - 1))
    drawn = lines(above.lines, _tone(sheet)) if above is not None else ()
    right = larger_beside(sheet.large, drawn, room, min(most, height), words=LONGEST_ROW)
    filled = tuple((*rows, *_gap(sheet) * height)[:height])
    if right is not None:
        return beside(filled, right, _tone(sheet), at=0, columns=LONGEST_ROW)
    return (*drawn, *_gap(sheet) * bool(drawn), *filled)[:height]


_FORMS = ((2, True), (1, True), (1, False), (0, True), (0, False))
"""How much of each caution is said (0: its words, 1: the sentence behind them, 2: its source as well), and whether
an empty row stands between them; the fullest first."""


def _bare(sheet: Sheet, width: int) -> Iterator[Line]:
    """The heading, what is typed or asked, and the cautions; the footer says which key."""
    yield line(sheet.heading, Tone.ALARM if sheet.is_alarm else Tone.TITLE)
    yield from _asked(sheet, width)
    for caution in sheet.cautions:
        yield from _caution(caution, width, sheet, depth=0)


def _rows(sheet: Sheet, width: int, *, depth: int, airy: bool) -> Iterator[Line]:
    head, text = (Tone.ALARM, Tone.ALARM) if sheet.is_alarm else (Tone.TITLE, Tone.PLAIN)
    yield line(sheet.heading, head)
    for said in sheet.says:
        yield from lines(wrap(said, width), text)
    yield from _asked(sheet, width)
    for caution in sheet.cautions:
        if airy:
            yield from _gap(sheet)
        yield from _caution(caution, width, sheet, depth=depth)
    if sheet.foot:
        if airy:
            yield from _gap(sheet)
        yield from lines(wrap(sheet.foot, width), Tone.ALARM if sheet.is_alarm else Tone.KEY)


def _asked(sheet: Sheet, width: int) -> Iterator[Line]:
    for asked in sheet.asks:
        yield from lines(wrap(asked, width), Tone.ALARM)
    for row in lowest_whole(sheet.choices, width):
        yield tuple(replace(piece, tone=Tone.ALARM) for piece in row)


def _caution(caution: Words, width: int, sheet: Sheet, *, depth: int) -> Iterator[Line]:
    loud, calm = (Tone.ALARM, Tone.ALARM) if sheet.is_alarm else (Tone.CAUTION, Tone.PLAIN)
    room = max(1, width - len(STAND_IN))
    broken = wrap(caution.words, room)
    for place, row in enumerate(broken):
        yield line(f"{STAND_IN if place else '!  '}{row}", loud)
    if depth > 0:
        yield from (line(f"{STAND_IN}{row}", calm) for row in wrap(caution.more, room))
    if depth > 1 and caution.source:
        quiet = Tone.ALARM if sheet.is_alarm else Tone.QUIET
        yield from (line(f"{STAND_IN}{row}", quiet) for row in wrap(f"Source: {caution.source}", room))


def _tone(sheet: Sheet) -> Tone:
    return Tone.ALARM if sheet.is_alarm else Tone.TITLE


def _gap(sheet: Sheet) -> tuple[Line, ...]:
    """An empty row; inside the alarm it is filled like the others."""
    return (line(" ", Tone.ALARM),) if sheet.is_alarm else (BLANK,)


def _too_small(sheet: Sheet) -> Line:
    return line("↓ Make the window larger: not all fits.", Tone.ALARM if sheet.is_alarm else Tone.NOTICE)
