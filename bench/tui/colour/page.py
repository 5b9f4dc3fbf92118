"""The colour screen in a window of any size: rows of words and pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.colour.cores import Ranking
from bench.model.library import Library
from bench.tui.colour.cells import EMPTY, Row, beside, fitted
from bench.tui.colour.depth import Depth
from bench.tui.colour.desk import (
    Building,
    Cores,
    Desk,
    Leaving,
    Mode,
    Offer,
    Offers,
    Picking,
    Reckoning,
    Sheet,
    Taken,
    Typing,
)
from bench.tui.colour.doses import left_rows
from bench.tui.colour.facts import advice, cup_warning, numbers, short_advice, span_of, warnings
from bench.tui.colour.gauge import gauge_rows
from bench.tui.colour.predict import Predicted
from bench.tui.colour.sheet import sheet_rows
from bench.tui.colour.strip import strip_rows
from bench.tui.colour.views import picture_rows
from bench.tui.text import clean, join, wrap
from bench.tui.widgets.lines import Line, Piece, Tone, clipped, in_rows, line, lines, spread

MARGIN = 1
LEAST_LEFT, MOST_LEFT = 26, 46
LONGEST_ROW = 100
LEAST_FOR_ROUGH = 12
"""Rows from which a row says that colours are rough; below that there is next to no picture."""

LEAST_ADVICE = 2
"""Rows of advice that numbers never take."""

KEYS = (
    ("← → 0–9", "dose"),
    ("- +", "coarse"),
    ("A", "add"),
    ("X", "take out"),
    ("S", "save"),
    ("Esc", "back"),
    ("V", "variants"),
    ("F", "cores"),
    ("G", "goal"),
    ("T", "tail"),
    ("B", "build"),
    ("M", "mould"),
    ("P", "plastic"),
    ("N", "new"),
    ("R", "recipes"),
    ("U", "undo"),
    ("W", "words"),
    ("?", "keys"),
)
LIST_KEYS = (("↑ ↓", "choose"), ("Enter", "take it"), ("Esc", "back"))
SHOWS_KEYS = (("↑ ↓", "choose"), ("Enter", "take it"), ("T", "third colour first"), ("Esc", "back"))
THIRD_KEYS = (("↑ ↓", "choose"), ("Enter", "take it"), ("T", "best seen first"), ("Esc", "back"))
TYPE_KEYS = (("Enter", "take it"), ("Backspace", "rub out"), ("Esc", "back"))
DOSE_KEYS = (("Enter", "take it"), ("Tab", "counted otherwise"), ("Backspace", "rub out"), ("Esc", "back"))
SHEET_KEYS = (("1–9", "take it"), ("T", "other tail"), ("Esc", "back"))
OFFER_KEYS = (("Enter", "take them"), ("G", "search the shelf"), ("Esc", "back"))
OFFERS_KEYS = (("1–9", "take it"), ("↑ ↓", "read one"), ("Enter", "take the marked one"), ("Esc", "back"))
SHADOW_KEYS = (("O", "put yours in its place"), ("Esc", "another name"))
TAKEN_KEYS = (("O", "write over"), ("Esc", "another name"))
LEAVING_KEYS = (("S", "save"), ("Q", "leave"), ("Esc", "stay"))
WAITING_KEYS = (("Esc", "leave it"),)


@dataclass(frozen=True, kw_only=True, slots=True)
class Showing:
    """What there is to show."""

    desk: Desk
    library: Library
    predicted: Predicted
    depth: Depth = Depth.TRUE


def page(seen: Showing, width: int, height: int) -> tuple[Row, ...]:
    """Exactly ``height`` rows, each at most ``width`` columns."""
    if width < 1 or height < 1:
        return ()
    room = max(1, width - 2 * MARGIN)
    keys = _keys(seen.desk, room)[: 1 if height < 12 else 3]
    above: tuple[Row, ...] = (_top(seen, room),)
    said = lines(wrap(f"» {seen.desk.line}", room), Tone.NOTICE) if seen.desk.line else ()
    said = (*_rough(seen.depth, room, height), *said)
    rest = max(0, height - len(keys) - len(above) - len(said))
    mode = seen.desk.mode
    inside = sheet_rows(mode, room, rest, seen.depth) if isinstance(mode, Sheet) else _inside(seen, room, rest)
    rows = (*above, *inside, *(EMPTY,) * (rest - len(inside)), *said, *keys)[:height]
    return tuple(_indented(row, width) for row in rows)


def _indented(row: Row, width: int) -> Row:
    return fitted((Piece(text=" " * MARGIN), *row), width) if row else row


def _top(seen: Showing, room: int) -> Line:
    draft = seen.desk.draft
    mould = seen.library.moulds.get(draft.mould)
    changed = "" if seen.desk.is_kept else " (not saved)"
    left = join(("Colour", clean(draft.recipe.title) + changed, clean(mould.title if mould else draft.mould)))
    tail = f", tail {draft.recipe.tail}" if draft.recipe.build.has_core else ""
    return spread(line(left, Tone.TITLE), line(f"{draft.recipe.build}{tail}", Tone.QUIET), room)


def _inside(seen: Showing, room: int, height: int) -> tuple[Row, ...]:
    """Doses and pictures above, then the strip, the gauge, the numbers and the advice."""
    bait, text = seen.predicted.bait, min(room, LONGEST_ROW)
    foot = _foot(seen, text, height)
    gauge = _gauge(seen, room, height)
    spare = height - len(foot) - len(gauge)
    strip: tuple[Row, ...] = ()
    if bait is not None and seen.depth is not Depth.NONE and spare >= 9:
        strip = strip_rows(bait, room, _strip_height(spare), seen.depth)
    body_height = max(0, spare - len(strip) - (2 if height > 26 else 0))
    body = _body(seen, room, body_height)
    air: tuple[Row, ...] = (EMPTY,) if height > 26 else ()
    padded = (*body, *(EMPTY,) * body_height)[:body_height]
    return (*air, *padded, *strip, *air, *gauge, *foot)[:height]


def _strip_height(spare: int) -> int:
    return 3 if spare < 22 else 2 + spare // 8


def _body(seen: Showing, room: int, height: int) -> tuple[Row, ...]:
    left = max(LEAST_LEFT, min(MOST_LEFT, room * 42 // 100))
    if _is_wide(seen.desk):
        left = max(left, min(room * 55 // 100, 60))
    right = room - left - 2
    bait = seen.predicted.bait
    pictures = picture_rows(bait, right, height, seen.depth) if bait is not None and right > 0 else ()
    return beside(
        [(left_rows(seen.desk, seen.library, min(left, room), height, seen.depth), left), (pictures, right)]
    )


def _is_wide(desk: Desk) -> bool:
    """Whether what stands on the left needs more room than doses do."""
    return isinstance(desk.mode, Cores | Typing | Taken | Offer | Offers)


def _gauge(seen: Showing, room: int, height: int) -> tuple[Row, ...]:
    part = seen.desk.draft.place.part
    span = span_of(seen.predicted.look, part) if seen.predicted.bait is not None else None
    if span is None:
        return ()
    # The advice says in full what the gauge's own sentence says.
    return gauge_rows(span, room)[:2] if height >= 12 else ()


def _foot(seen: Showing, room: int, height: int) -> tuple[Row, ...]:
    """Numbers, advice and warnings, always in as many rows, so that no picture jumps while a dose moves."""
    most = max(2, min(8, height // 4))
    said = _wrapped(numbers(seen.predicted, seen.desk.draft.place.part), room)
    tone = Tone.PLAIN if seen.predicted.bait is not None else Tone.CAUTION
    cup = cup_warning(seen.predicted)
    cups = lines(wrap(cup, room), Tone.CAUTION) if cup else ()
    # How far the core shows, and that the cup misleads, stay whatever else has to give way.
    first = said[:1] if most - len(cups) >= LEAST_ADVICE + 1 else ()
    part, rows_left = seen.desk.draft.place.part, most - len(first) - (len(cups) if first else 0)
    advised = lines(wrap(advice(seen.predicted, part), room), tone)
    if len(advised) > rows_left:
        # Advice ends with what to do, and that would be cut off.
        advised = lines(wrap(short_advice(seen.predicted, part), room), tone)[:rows_left]
    more = said[1 : max(1, most - len(advised) - len(cups))] if first else ()
    rows: list[Line] = [*first, *more, *advised]
    if len(rows) + len(cups) <= most:
        rows += cups
    for text in warnings(seen.predicted, marked=seen.depth is not Depth.NONE):
        each = lines(wrap(text, room), Tone.CAUTION)
        if len(rows) + len(each) <= most:
            rows += each
    return (*rows, *(EMPTY,) * (most - len(rows)))


def _rough(depth: Depth, room: int, height: int) -> tuple[Line, ...]:
    """What a terminal's few colours mean for the pictures: unlike ones may be drawn alike."""
    if depth in (Depth.TRUE, Depth.NONE) or height < LEAST_FOR_ROUGH:
        return ()
    return (clipped(line(f"This terminal shows {depth.value}: trust the figures.", Tone.QUIET), room),)


def _wrapped(parts: Sequence[str], room: int) -> tuple[Line, ...]:
    """Parts in rows, broken between them where they do not fit into one."""
    rows: list[str] = []
    for part in parts:
        joined = f"{rows[-1]} · {part}" if rows else part
        if rows and len(joined) <= room:
            rows[-1] = joined
        else:
            rows.append(part)
    return tuple(clipped(line(row, Tone.COUNT), room) for row in rows)


def _keys(desk: Desk, room: int) -> tuple[Row, ...]:
    cells = ((Piece(text=key, tone=Tone.KEY), Piece(text=f" {does}")) for key, does in _hints(desk))
    return in_rows(cells, room, gap=2)


def _hints(desk: Desk) -> tuple[tuple[str, str], ...]:
    if isinstance(desk.mode, Building):
        return (
            KEYS if desk.draft.recipe.build.has_core else tuple(hint for hint in KEYS if hint[0] not in ("T", "F"))
        )
    if isinstance(desk.mode, Cores):
        return SHOWS_KEYS if desk.mode.by is Ranking.SHOWS else THIRD_KEYS
    if isinstance(desk.mode, Sheet) and not desk.draft.recipe.build.has_core:
        return tuple(hint for hint in SHEET_KEYS if hint[0] != "T")
    if isinstance(desk.mode, Typing) and len(desk.mode.ways) > 1:
        return DOSE_KEYS
    if isinstance(desk.mode, Taken) and not desk.mode.own:
        return SHADOW_KEYS
    return _HINTS[type(desk.mode)]


_HINTS: Mapping[type[Mode], tuple[tuple[str, str], ...]] = {
    Picking: LIST_KEYS,
    Typing: TYPE_KEYS,
    Sheet: SHEET_KEYS,
    Offer: OFFER_KEYS,
    Offers: OFFERS_KEYS,
    Taken: TAKEN_KEYS,
    Leaving: LEAVING_KEYS,
    Reckoning: WAITING_KEYS,
}
