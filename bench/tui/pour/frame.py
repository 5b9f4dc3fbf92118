"""From a picture to the rows of a window of any size.

Every section of the screen can be shown in several forms, from the least to the fullest. Rows are granted in the
order of what a maker at the bench needs first: what to do, how long, what comes next and the caution always; the
strip, the rest of the cautions and air between the sections as far as there is room; what is left makes the large
figures larger.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import zip_longest

from bench.tui.pour.gauges import Gauge
from bench.tui.pour.hints import Hint
from bench.tui.pour.middle import Middle, Sample
from bench.tui.pour.picture import Picture
from bench.tui.pour.rows import Forms, Wanted, granted
from bench.tui.pour.sheet import sheet_rows
from bench.tui.text import join, wrap
from bench.tui.widgets.blocks import drawings
from bench.tui.widgets.lines import BLANK, Line, Piece, Tone, clipped, line, lines, spread, width_of

NARROW = 60
"""Columns below which margins shrink and the strip stands in one column."""

LONGEST_ROW = 100
"""Columns of running text; longer rows are hard to follow."""


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
    assert picture.sheet is not None, "only a picture with a sheet is framed so"
    keys = next(iter(_keys(picture.hints, picture.wide_hints, room)), ())
    above = (_top(picture, room), *_notices(picture, room))[: max(0, height - len(keys))]
    inside, whole = sheet_rows(picture.sheet, room, max(0, height - len(above) - len(keys)))
    if not whole:
        above = ()
        inside, whole = sheet_rows(picture.sheet, room, max(0, height - len(keys)))
    return (*above, *inside, *keys), whole


def _step_rows(picture: Picture, room: int, height: int) -> tuple[Line, ...]:
    sections = _sections(picture, room)
    shown = granted(sections, _order(picture, sections), height)
    places = _ACTION_PLACES if picture.middle.is_title else _PLACES
    rows = [row for name in places for row in shown[name]]
    keys = shown["keys"]
    # What is left over stays empty above the keys, which stand at the bottom.
    return (*rows, *(BLANK,) * (height - len(rows) - len(keys)), *keys)


PATCH = "█" * 4
"""A patch of colour; its words say what it is where a terminal shows none."""

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


def _sections(picture: Picture, room: int) -> dict[str, Forms]:
    text_room = min(room, LONGEST_ROW)
    middle = picture.middle
    detail_tone = Tone.LATE if middle.tone is Tone.LATE else Tone.PLAIN
    return {
        "top": ((_top(picture, room),),),
        "notices": _growing(_notices(picture, text_room), text_room),
        "title": () if middle.is_title else _title(picture, room),
        "do": (
            *_growing(lines(wrap(picture.do, text_room)), text_room),
            *_drawn(picture.do.upper(), room, Tone.PLAIN),
        ),
        "large": _large(picture, room),
        "label": _growing(lines(wrap(middle.label, text_room), Tone.QUIET)),
        "details": _growing(
            tuple(row for text in middle.details for row in _detail(text, text_room, detail_tone)), text_room
        ),
        "choices": _growing(_columns(middle.choices, text_room)),
        "samples": _growing(_samples(middle.samples, text_room)),
        "then": _then(picture, room),
        "later": _later(picture, text_room),
        "meanwhile": _growing(_labelled("meanwhile", picture.meanwhile, text_room, Tone.PLAIN)),
        "strip": _growing(_strip(picture.gauges, room)),
        "cautions": _cautions(picture, room),
        "keys": _keys(picture.hints, picture.wide_hints, room),
        **{place: ((BLANK,),) for place in _PLACES if place.startswith("air")},
    }


def _order(picture: Picture, sections: dict[str, Forms]) -> Iterator[Wanted]:
    """Who gets rows first."""
    forms = sections["cautions"]
    reminders = sum(all(row and row[0].tone is Tone.REMIND for row in form) for form in forms)
    rows = [len(form) for form in forms] or [0]
    # A reminder is cut short, with a mark, only where notices too want the rows that say what to do.
    least = rows[0 if picture.notices else max(0, reminders - 1)]
    if _asks(picture.middle):
        # Whatever else is to be said: it is read from the pedal, and its reason with it.
        yield from (Wanted(name, 1) for name in ("keys", "title", "large", "do", "top", "details"))
        yield from (Wanted("large", 3), Wanted("notices", 1))
    else:
        yield from (Wanted(name, 1) for name in ("keys", "title", "large", "then", "do", "top"))
        yield Wanted("notices", 2)
    yield from (Wanted("cautions", least), Wanted("then", 1))
    if picture.middle.leads:
        yield Wanted("choices", 99)
        if picture.notices:
            yield from (Wanted("details", 1), Wanted("do", 2))
        yield from (Wanted("details", 99), Wanted("samples", 2))
    if picture.reminder or picture.notices:
        # These take rows that would otherwise make figures larger, never those that say what to do.
        yield from (Wanted("do", 3), Wanted("notices", 99))
    # It stands beside the caution of the moment, not in its place.
    yield Wanted("cautions", rows[min(reminders, len(rows) - 1)])
    yield from (Wanted("large", 4), Wanted("label", 1), Wanted("do", 3), Wanted("details", 99))
    yield from (Wanted("title", 4), Wanted("strip", 3), Wanted("keys", 2))
    yield from (Wanted("air2", 1), Wanted("large", 8))
    yield from (Wanted("meanwhile", 2), Wanted("strip", 99), Wanted("later", 1), Wanted("label", 3))
    yield from (Wanted(f"air{number}", 1) for number in (1, 3, 5, 7, 6, 4))
    yield from (
        Wanted("cautions", 99),
        Wanted("title", 8),
        Wanted("large", 16),
        Wanted("then", 4),
        Wanted("do", 9),
    )
    yield from (Wanted("title", 11), Wanted("large", 21), Wanted("do", 14), Wanted("then", 8), Wanted("do", 18))
    yield Wanted("large", 99)


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
    return ((plain,), *_drawn(middle.large, room, middle.tone, small=middle.is_title or _asks(middle)))


def _asks(middle: Middle) -> bool:
    """Whether the large words are a question that a press answers."""
    return middle.leads and middle.large.endswith("?")


@lru_cache(maxsize=64)
def _drawn(text: str, room: int, tone: Tone, *, small: bool = False) -> Forms:
    return tuple(lines(drawing.lines, tone) for drawing in drawings(text, room, small=small))


def _then(picture: Picture, room: int) -> Forms:
    plain = _labelled("then", picture.then, room, Tone.PLAIN)[:1]
    return (plain, *_drawn(f"THEN {picture.then.upper()}", room, Tone.QUIET))


def _later(picture: Picture, room: int) -> Forms:
    """As many of the steps after the next as fit whole into one row."""
    for count in range(len(picture.later), 0, -1):
        rows = _labelled("later", join(picture.later[:count]), room, Tone.QUIET)
        if len(rows) == 1:
            return (rows,)
    return ()


@lru_cache(maxsize=64)
def _labelled(label: str, text: str, room: int, tone: Tone) -> tuple[Line, ...]:
    if not text:
        return ()
    indent = len(label) + 2
    broken = wrap(text, max(1, room - indent))
    first = (Piece(text=f"{label}  ", tone=Tone.QUIET), Piece(text=broken[0], tone=tone))
    return (first, *(line(" " * indent + rest, tone) for rest in broken[1:]))


def _detail(text: str, room: int, tone: Tone) -> tuple[Line, ...]:
    """A detail keeps the spaces it begins with, so that a list stands in from its head."""
    indent = " " * (len(text) - len(text.lstrip()))
    return lines(tuple(indent + row for row in wrap(text, max(1, room - len(indent)))), tone)


def _samples(samples: Sequence[Sample], room: int) -> tuple[Line, ...]:
    """The predicted colours, each a patch with its words, in as many rows as they need."""
    rows: list[Line] = []
    row: Line = line("predicted  ", Tone.QUIET)
    for sample in samples:
        shown: Line = (Piece(text=PATCH, hex=sample.hex), Piece(text=f" {sample.words} {sample.hex}   "))
        if width_of(row) + width_of(shown) > room and len(row) > 1:
            rows.append(row)
            row = line(" " * len("predicted  "))
        row = (*row, *shown)
    return (*rows, row) if samples else ()


def _columns(choices: Sequence[str], room: int) -> tuple[Line, ...]:
    """The choices in as many columns as fit, read downwards."""
    if not choices:
        return ()
    widest = max(len(choice) for choice in choices) + 2
    across = max(1, min(3, (room + 2) // widest))
    down = -(-len(choices) // across)
    rows = (choices[place::down] for place in range(down))
    return tuple(line("".join(choice.ljust(widest) for choice in row).rstrip()) for row in rows)


def _strip(gauges: Sequence[Gauge], room: int) -> tuple[Line, ...]:
    if not gauges:
        return ()
    names = max(len(gauge.name) for gauge in gauges) + 2
    values = max(len(gauge.value) for gauge in gauges) + 2
    cells = [_gauge(gauge, names, values, room) for gauge in gauges]
    down = -(-len(cells) // 2)
    left, right = cells[:down], cells[down:]
    widest = max(width_of(cell) for cell in left) + 4
    if not right or widest + max(width_of(cell) for cell in right) > room:
        return tuple(clipped(cell, room) for cell in cells)
    return tuple(_beside(pair, widest) for pair in zip_longest(left, right, fillvalue=BLANK))


def _gauge(gauge: Gauge, names: int, values: int, room: int) -> Line:
    """Its words whole, or as many of the brief ones as fit whole."""
    figure: Line = (
        Piece(text=gauge.name.ljust(names), tone=Tone.QUIET),
        Piece(text=gauge.value.ljust(values), tone=Tone.TITLE),
    )
    forms = (gauge.words, *(join(gauge.brief[:count]) for count in range(len(gauge.brief), 0, -1)))
    shown = ((*figure, Piece(text=words)) for words in forms)
    return next((each for each in shown if width_of(each) <= room), (*figure, Piece(text=forms[-1])))


def _beside(pair: tuple[Line, Line], widest: int) -> Line:
    left, right = pair
    return (*left, Piece(text=" " * (widest - width_of(left))), *right) if right else left


def _cautions(picture: Picture, room: int) -> Forms:
    """Whole cautions only, beginning with the one whose turn it is; a reminder stands before all others."""
    if picture.reminder:
        broken = wrap(picture.reminder, max(1, room - 3))
        reminder = tuple(
            line(f"{'   ' if place else '!  '}{row}", Tone.REMIND) for place, row in enumerate(broken)
        )
        return (*_growing(reminder, room), *((*reminder, *form) for form in _of_the_moment(picture, room)))
    return _of_the_moment(picture, room)


def _of_the_moment(picture: Picture, room: int) -> Forms:
    count = len(picture.cautions)
    turned = [picture.cautions[(picture.turn + place) % count] for place in range(count)]
    wrapped = [_labelled("!", words, room, Tone.CAUTION) for words in turned]
    forms = [tuple(row for rows in wrapped[:number] for row in rows) for number in range(1, count)]
    # All of them together stand in their own order and do not turn.
    everything = tuple(row for words in picture.cautions for row in _labelled("!", words, room, Tone.CAUTION))
    return (*forms, everything) if count else ()


@lru_cache(maxsize=16)
def _keys(hints: tuple[Hint, ...], wide: tuple[Hint, ...], room: int) -> Forms:
    """The keys in one row, in two and so on up to all of them, always in the same order. The ``wide`` form of a
    hint takes no row of its own, and the place of no other hint."""
    every = len(_hint_rows(hints, room))
    wider = dict(zip(hints, wide, strict=False))
    chosen = (_fitting(hints, room, rows) if rows < every else hints for rows in range(1, every + 1))
    return tuple(_widened(each, wider, room) for each in chosen)


def _widened(hints: tuple[Hint, ...], wider: Mapping[Hint, Hint], room: int) -> tuple[Line, ...]:
    rows = _hint_rows(hints, room)
    wide = _hint_rows([wider.get(hint, hint) for hint in hints], room)
    fits = len(wide) == len(rows) and all(width_of(row) <= room for row in wide)
    return wide if fits else rows


def _fitting(hints: Sequence[Hint], room: int, rows: int) -> tuple[Hint, ...]:
    """As many as fit into so many rows: the first, and then by rank, the first of each before the others."""
    kept = {hints[0]}
    for hint in sorted(hints[1:], key=lambda each: each.rank):
        if len(_hint_rows([each for each in hints if each in kept or each is hint], room)) <= rows:
            kept.add(hint)
    return tuple(each for each in hints if each in kept)


def _hint_rows(hints: Sequence[Hint], room: int) -> tuple[Line, ...]:
    rows: list[Line] = []
    row: Line = ()
    for hint in hints:
        cell = (Piece(text=hint.key, tone=Tone.KEY), Piece(text=f" {hint.does}", tone=Tone.PLAIN))
        gap = (Piece(text="   "),) if row else ()
        if row and width_of((*row, *gap, *cell)) > room:
            rows.append(row)
            row = cell
        else:
            row = (*row, *gap, *cell)
    return (*rows, row) if row else tuple(rows)


def _growing(rows: tuple[Line, ...], marked_at: int = 0) -> Forms:
    """Any number of the rows from the first on; within ``marked_at`` columns, a mark says that more follow."""
    parts = [rows[:number] for number in range(1, len(rows))]
    if marked_at:
        parts = [(*part[:-1], _marked(part[-1], marked_at)) for part in parts]
    return (*parts, rows) if rows else ()


def _marked(row: Line, width: int) -> Line:
    marked = (*row, Piece(text=" …", tone=row[-1].tone if row else Tone.PLAIN))
    # Where there is no room behind the words, the mark stands in the place of the last of them.
    return marked if width_of(marked) <= width else clipped(row, max(0, min(width, width_of(row)) - 1))
