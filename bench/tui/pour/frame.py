"""From a picture to the rows of a window of any size.

Every section of the screen can be shown in several forms, from the least to the fullest. Rows are granted in the
order of what a maker at the bench needs first: what to do, how long, what comes next and the caution always; the
strip, the rest of the cautions and air between the sections as far as there is room; what is left makes the large
figures larger.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import zip_longest

from bench.tui.pour.beside import GAP, WHOLE_WORDS, beside, larger_beside
from bench.tui.pour.brief_order import order_in_brief, with_corner
from bench.tui.pour.brief_words import in_brief
from bench.tui.pour.caution_rows import caution_rows
from bench.tui.pour.choice_rows import choice_rows, lowest_whole
from bench.tui.pour.footer import keys_in_rows
from bench.tui.pour.gauges import Gauge
from bench.tui.pour.middle import Middle
from bench.tui.pour.picture import Picture
from bench.tui.pour.rows import Forms, Wanted, granted, growing, labelled
from bench.tui.pour.samples import sample_rows
from bench.tui.pour.sheet import sheet_rows
from bench.tui.text import join, wrap
from bench.tui.widgets.blocks import Drawing, drawings
from bench.tui.widgets.lines import BLANK, Line, Piece, Tone, clipped, line, lines, spread, width_of

NARROW = 60
"""Columns below which margins shrink and the strip stands in one column."""

BETWEEN = 4
"""Empty columns between the two of the strip."""

LONGEST_ROW = 100
"""Columns of running text; longer rows are hard to follow."""

LOW, LONGEST_ROW_IF_LOW = 12, 140
"""In a window of so few rows a sentence that is hard to follow is better than one that is cut short."""


DOUBT_ROWS = 3
"""What was typed, what it was probably meant to be and what answers that, in the fewest words."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Frame:
    """Exactly as many rows as the window has. ``is_whole`` is False when cautions to acknowledge did not fit."""

    rows: tuple[Line, ...]
    is_whole: bool = True


@lru_cache(maxsize=1)
def frame(picture: Picture, width: int, height: int) -> Frame:
    """The picture in a window of that size. Most ticks bring the picture that stands there already."""
    if width < 1 or height < 1:
        return Frame(rows=(), is_whole=False)
    if width < NARROW and height <= LOW:
        picture = in_brief(picture)
    margin = 1 if width < NARROW else 2
    room = max(1, width - 2 * margin)
    if picture.sheet is None:
        rows, whole = _step_rows(picture, room, height), True
    else:
        rows, whole = _sheet_frame(picture, room, height)
    kept = (*rows, *(BLANK,) * height)[:height]
    return Frame(rows=tuple(_indented(row, margin, width) for row in kept), is_whole=whole)


@lru_cache(maxsize=64)
def _indented(row: Line, margin: int, width: int) -> Line:
    if not row:
        return row
    return clipped((Piece(text=" " * margin, tone=row[0].tone), *row), width)


def _sheet_frame(picture: Picture, room: int, height: int) -> tuple[tuple[Line, ...], bool]:
    """The sheet and the keys under it, in two rows where it is whole even so."""
    assert picture.sheet is not None, "only a picture with a sheet is framed so"
    forms = keys_in_rows(picture.hints, picture.wide_hints, room)[:2] or ((),)
    above = (_top(picture, room), *_notices(picture, room))
    tried: tuple[tuple[Line, ...], bool] = (), False
    for said, keys in (*((above, each) for each in reversed(forms)), ((), forms[0])):
        shown = said[: max(0, height - len(keys))]
        inside, whole = sheet_rows(picture.sheet, room, max(0, height - len(shown) - len(keys)))
        tried = (*shown, *inside, *keys), whole
        if whole:
            break
    return tried


def _step_rows(picture: Picture, room: int, height: int) -> tuple[Line, ...]:
    text_room = min(room, _longest(height))
    sections = _sections(picture, room, text_room)
    shown = granted(sections, _order_of(picture, sections, text_room), height)
    large = _large_beside(picture.middle, shown["large"], room, height)
    if large is not None:
        return _beside_words(picture, large, room, height)
    shown = with_corner(shown, picture, room) if picture.is_brief else shown
    # What is left over stays empty above the keys, which stand at the bottom.
    return (*_filled(_above_keys(picture, shown), height - len(shown["keys"])), *shown["keys"])


def _large_beside(middle: Middle, between: Sequence[Line], room: int, height: int) -> Drawing | None:
    """What is large, between the top row and the keys, or in every row where both find room beside it."""
    least = larger_beside(middle.large, between, room, height - 2)
    if middle.is_title:
        return least
    have = lines(least.lines, middle.tone) if least is not None else between
    return larger_beside(middle.large, have, room, height, words=WHOLE_WORDS) or least


def _beside_words(picture: Picture, large: Drawing, room: int, height: int) -> tuple[Line, ...]:
    """What is large stands right of the words; the top row and the keys keep the whole width as far as its height
    leaves them rows."""
    under = height - 1 - len(large.lines)
    widest = _longest(height) if under > 0 else max(_longest(height), WHOLE_WORDS)
    columns = min(widest, room - GAP - len(large.lines[0]))
    text_room = min(columns, _longest(height))
    keys = keys_in_rows(picture.hints, picture.wide_hints, room if under > 0 else columns)
    sections = {
        **_sections(picture, columns, text_room),
        "top": ((_top(picture, room if under >= 0 else columns),),),
        "large": (),
        "keys": tuple(form for form in keys if len(form) <= max(1, under)),
    }
    shown = granted(sections, _order(picture, sections, text_room), height)
    top, keys_shown = shown["top"], shown["keys"]
    above = len(top) if under >= 0 else 0
    below = len(keys_shown) if under > 0 else 0
    words = (*_filled(_above_keys(picture, shown), height - len(keys_shown)), *keys_shown)
    start = len(top) - above + len(shown["notices"]) + len(shown["air1"])
    middle = beside(words[above : height - below], large, picture.middle.tone, at=start, columns=columns)
    return (*words[:above], *middle, *words[height - below :])


def _above_keys(picture: Picture, shown: Mapping[str, tuple[Line, ...]]) -> tuple[Line, ...]:
    places = _ACTION_PLACES if picture.middle.is_title else _PLACES
    return tuple(row for name in places for row in shown[name])


def _filled(rows: tuple[Line, ...], height: int) -> tuple[Line, ...]:
    return (*rows, *(BLANK,) * (height - len(rows)))


_PLACES = (
    "top",
    "notices",
    "air1",
    "title",
    "do",
    "air2",
    "large",
    "label",
    "air3",
    "details",
    "choices",
    "samples",
    "air4",
    "then",
    "later",
    "meanwhile",
    "air5",
    "strip",
    "air6",
    "cautions",
    "air7",
)
"""The sections from top to bottom, above the keys; "air" is an empty row."""

_ACTION_PLACES = ("top", "notices", "air1", "large", "air2", "do", "label", *_PLACES[_PLACES.index("air3") :])
"""The same where the large words are the step's own title: what to do follows it."""


def _longest(height: int) -> int:
    return LONGEST_ROW if height > LOW else LONGEST_ROW_IF_LOW


def _sections(picture: Picture, room: int, text_room: int) -> dict[str, Forms]:
    middle = picture.middle
    detail_tone = Tone.LATE if middle.tone is Tone.LATE else Tone.PLAIN
    return {
        "top": ((_top(picture, room),),),
        "notices": growing(_notices(picture, text_room), text_room),
        "title": () if middle.is_title else _title(picture, room),
        "do": _do(picture, room, text_room),
        "large": _large(picture, room),
        "label": _label(picture, text_room),
        "details": growing(
            tuple(row for text in middle.details for row in _detail(text, text_room, detail_tone)), text_room
        ),
        "choices": choice_rows(middle.choices, text_room),
        "samples": growing(sample_rows(middle.samples, text_room)),
        "then": _then(picture, room),
        "later": _later(picture, text_room),
        "meanwhile": _meanwhile(picture, text_room),
        "strip": _strip(picture.gauges, room),
        "cautions": caution_rows(picture, room),
        "keys": keys_in_rows(picture.hints, picture.wide_hints, room),
        **{place: ((BLANK,),) for place in _PLACES if place.startswith("air")},
    }


_ROOMY = (
    *(Wanted("air2", 1), Wanted("large", 8)),
    *(Wanted("meanwhile", 2), Wanted("strip", 99), Wanted("later", 1), Wanted("label", 3)),
    *(Wanted(f"air{number}", 1) for number in (1, 3, 5, 7, 6, 4)),
    *(Wanted("cautions", 99), Wanted("title", 8), Wanted("large", 16), Wanted("then", 4), Wanted("do", 9)),
    *(Wanted("title", 11), Wanted("large", 21), Wanted("do", 14), Wanted("then", 8), Wanted("do", 18)),
    Wanted("large", 99),
)
"""Who gets the rows that are left once everything is said."""


def _order_of(picture: Picture, sections: dict[str, Forms], room: int) -> Iterable[Wanted]:
    if picture.is_brief and not _asks(picture.middle):
        return order_in_brief(picture, sections, room)
    return _order(picture, sections, room)


def _order(picture: Picture, sections: dict[str, Forms], room: int) -> Iterator[Wanted]:
    """Who gets rows first."""
    forms = sections["cautions"]
    reminders = sum(all(row and row[0].tone is Tone.REMIND for row in form) for form in forms)
    rows = [len(form) for form in forms] or [0]
    # A reminder is cut short, with a mark, only where notices too want the rows that say what to do.
    least = rows[0 if picture.notices else max(0, reminders - 1)]
    yield from (Wanted(name, 1) for name in ("keys", "title", "large"))
    # A digit that is offered means something: what it means is not left out for anything else.
    yield Wanted("choices", len(lowest_whole(picture.middle.choices, room)))
    if _asks(picture.middle):
        # Whatever else is to be said: it is read from the pedal, its whole reason and every key that answers it.
        yield from (Wanted("details", _reason_rows(picture.middle, room)), Wanted("large", 3))
        yield from (Wanted("notices", 1), Wanted("cautions", least), Wanted("keys", 2))
        yield from (Wanted(name, 1) for name in ("top", "do"))
    else:
        if picture.middle.doubts:
            # What a press would say of it is a question too.
            yield from (Wanted("details", DOUBT_ROWS), Wanted("cautions", least), Wanted("notices", 1))
        yield from (Wanted(name, 1) for name in ("then", "do", "top"))
        yield from (Wanted("notices", 2), Wanted("do", 3 if picture.keeps_do else 1))
    # A hold is shown with the key that stops.
    keys = 2 if picture.is_held else 1
    yield from (Wanted("cautions", least), Wanted("keys", keys), Wanted("then", 1))
    yield Wanted("strip", 0 if _asks(picture.middle) else picture.cups_first)
    if picture.middle.leads:
        yield Wanted("choices", 99)
        if picture.notices:
            yield from (Wanted("details", 1), Wanted("do", 2))
        yield from (Wanted("details", 99), Wanted("samples", 3))
    if picture.middle.tone is Tone.ENTRY:
        # What is typed or asked does not stand without its name.
        yield Wanted("label", 1)
    if picture.reminder or picture.notices:
        # These take rows that would otherwise make figures larger, never those that say what to do.
        yield from (Wanted("do", 3), Wanted("notices", 99))
    # It stands beside the caution of the moment, not in its place.
    yield Wanted("cautions", rows[min(reminders, len(rows) - 1)])
    if picture.middle.is_title:
        # What to do stands whole before its title grows; how long it takes is worth least.
        yield from (Wanted("do", 4), Wanted("details", 99))
    # Beside what is typed or asked its label says what it is; of a clock everybody knows.
    after = ("do", "label") if picture.middle.is_clock else ("label", "do")
    yield from (Wanted("large", 4), *(Wanted(name, 3) for name in after), Wanted("details", 99))
    keys = 2 if picture.reminder or picture.notices else 1
    yield from (Wanted("keys", keys), Wanted("title", 4), Wanted("strip", 3), Wanted("keys", 2))
    yield from _ROOMY


def _top(picture: Picture, room: int) -> Line:
    return spread(line(picture.heading, Tone.QUIET), line(picture.corner, Tone.PLAIN), room)


def _notices(picture: Picture, room: int) -> tuple[Line, ...]:
    return tuple(row for text in picture.notices for row in lines(wrap(f"» {text}", room), Tone.NOTICE))


def _title(picture: Picture, room: int) -> Forms:
    plain = line(picture.title, Tone.TITLE)
    return ((clipped(plain, room),), *_drawn(picture.title, room, Tone.TITLE, small=True))


def _large(picture: Picture, room: int) -> Forms:
    middle = picture.middle
    plain = clipped(line(middle.large, middle.tone), room)
    small = middle.is_title or _asks(middle) or picture.is_brief
    return ((plain,), *_drawn(middle.large, room, middle.tone, small=small))


def _asks(middle: Middle) -> bool:
    """Whether the large words are a question that a press answers."""
    return middle.leads and middle.large.endswith("?")


def _reason_rows(middle: Middle, room: int) -> int:
    """How many rows the reason of a question takes: the first of what goes with it."""
    return len(_detail(middle.details[0], room, Tone.PLAIN)) if middle.details else 0


@lru_cache(maxsize=16)
def _drawn(text: str, room: int, tone: Tone, *, small: bool = False) -> Forms:
    return tuple(lines(drawing.lines, tone) for drawing in drawings(text, room, small=small))


def _then(picture: Picture, room: int) -> Forms:
    plain = labelled("then", picture.then, room, Tone.PLAIN)[:1]
    return (plain, *_drawn(f"THEN {picture.then.upper()}", room, Tone.QUIET))


def _label(picture: Picture, room: int) -> Forms:
    forms = growing(lines(wrap(picture.middle.label, room), Tone.QUIET), room)
    return forms[-1:] if picture.is_brief and picture.middle.tone is not Tone.ENTRY else forms


def _do(picture: Picture, room: int, text_room: int) -> Forms:
    rows = growing(lines(wrap(picture.do, text_room)), text_room)
    if picture.is_brief and _asks(picture.middle):
        # Half of it is worth no row beside a question.
        rows = rows[-1:]
    return (*rows, *_drawn(picture.do.upper(), room, Tone.PLAIN))


def _meanwhile(picture: Picture, room: int) -> Forms:
    rows = labelled("meanwhile", picture.meanwhile, room, Tone.PLAIN)
    return growing(rows)[-1:] if picture.is_brief else growing(rows)


def _later(picture: Picture, room: int) -> Forms:
    """As many of the steps after the next as fit whole into one row."""
    for count in range(len(picture.later), 0, -1):
        rows = labelled("later", join(picture.later[:count]), room, Tone.QUIET)
        if len(rows) == 1:
            return (rows,)
    return ()


def _detail(text: str, room: int, tone: Tone) -> tuple[Line, ...]:
    """A detail keeps the spaces it begins with, so that a list stands in from its head."""
    indent = " " * (len(text) - len(text.lstrip()))
    return lines(tuple(indent + row for row in wrap(text, max(1, room - len(indent)))), tone)


def _strip(gauges: Sequence[Gauge], room: int) -> Forms:
    """In each number of rows the first of them, in two columns where they fit beside one another."""
    if not gauges:
        return ()
    names = max(len(gauge.name) for gauge in gauges) + 2
    values = max(len(gauge.value) for gauge in gauges) + 2
    cells = [_gauge(gauge, names, values, room) for gauge in gauges]
    whole = next(rows for rows in range(1, len(cells) + 1) if _shown(cells, rows, room) == len(cells))
    return tuple(_in_columns(cells, rows, room) for rows in range(1, whole + 1))


def _shown(cells: Sequence[Line], rows: int, room: int) -> int:
    """How many of them so many rows hold."""
    left, right = cells[:rows], cells[rows : 2 * rows]
    widths = [max(map(width_of, column)) for column in (left, right) if column]
    return len(left) + (len(right) if sum(widths) + BETWEEN <= room else 0)


def _in_columns(cells: Sequence[Line], rows: int, room: int) -> tuple[Line, ...]:
    left, right = cells[:rows], cells[rows : _shown(cells, rows, room)]
    widest = max(map(width_of, left)) + BETWEEN
    if not right:
        return tuple(clipped(cell, room) for cell in left)
    return tuple(_beside(pair, widest) for pair in zip_longest(left, right, fillvalue=BLANK))


def _gauge(gauge: Gauge, names: int, values: int, room: int) -> Line:
    """Its words whole, or as many of the brief ones as fit whole."""
    figure: Line = (
        Piece(text=gauge.name.ljust(names), tone=Tone.QUIET),
        Piece(text=gauge.value.ljust(values if gauge.words else 0), tone=Tone.TITLE),
    )
    forms = (gauge.words, *(join(gauge.brief[:count]) for count in range(len(gauge.brief), 0, -1)))
    shown = ((*figure, Piece(text=words)) for words in forms)
    close: Line = (
        Piece(text=f"{gauge.name} ", tone=Tone.QUIET),
        Piece(text=f"{gauge.value} ", tone=Tone.TITLE),
        Piece(text=forms[-1]),
    )
    return next((each for each in shown if width_of(each) <= room), close)


def _beside(pair: tuple[Line, Line], widest: int) -> Line:
    left, right = pair
    return (*left, Piece(text=" " * (widest - width_of(left))), *right) if right else left
