"""A timeline drawn in characters: a lane for the hands, the heater and each mould, time from left to right.

Every column is the same stretch of time and shows what takes up most of it, a push counted twice so that none is
lost beside its hold; a dot is waiting, and after the end there is nothing. The marks are letters, so that the
chart needs no colour. A ruler tells the minutes.

A capital is a plastic: of the cup on the heater in the heater's lane, of the shot in the others. With several
moulds a lane under the hands tells by its number at which of them they work, and where shells lie out a lane tells
whose.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from bench.model.recipe import Part
from bench.plan.lying_out import lying_out
from bench.plan.records import Shot
from bench.plan.rows import Row
from bench.plan.work import HANDS, HEATER, TaskKind, mould_resource

MARKS: Mapping[TaskKind, str] = {
    TaskKind.WEIGH: "w",
    TaskKind.HEAT_ON: "p",
    TaskKind.HEAT: "#",
    TaskKind.FINISH_HEAT: "f",
    TaskKind.WARM_UP_SHOT: "u",
    TaskKind.RODS_IN: "i",
    TaskKind.SHOT: "s",
    TaskKind.HOLD: "h",
    TaskKind.SET: "=",
    TaskKind.OPEN: "o",
    TaskKind.RODS_OUT: "r",
    TaskKind.LOOK_AT_SHELLS: "l",
    TaskKind.TRIM: "x",
    TaskKind.SHELLS_BACK: "b",
    TaskKind.LOOK_AT_BAITS: "l",
    TaskKind.REST_MOULD: "~",
}

SHOTS: Mapping[Shot, str] = {Shot.SHELL: "S", Shot.CORE: "C"}
"""The marks of a shot that is not the only one of its round."""

CUPS: Mapping[Part, str] = {
    Part.SIDE_A: "A",
    Part.SIDE_B: "B",
    Part.SHELL: "S",
    Part.SHELL_A: "A",
    Part.SHELL_B: "B",
    Part.CORE: "C",
}
"""The marks of a cup on the heater that is not the only one."""

LEGEND: tuple[tuple[str, str], ...] = (
    ("w", "weigh"),
    ("p", "cup on the heat"),
    ("#", "heat"),
    ("f", "finish the heat"),
    ("u", "warm-up shot"),
    ("i", "rods in"),
    ("s", "shot"),
    ("S", "shell shot, or its cup on the heater"),
    ("C", "core shot, or its cup on the heater"),
    ("A", "side A's cup on the heater"),
    ("B", "side B's cup on the heater"),
    ("h", "hold"),
    ("=", "set"),
    ("o", "open"),
    ("r", "rods out"),
    ("l", "look"),
    ("x", "trim"),
    ("b", "shells back"),
    ("~", "mould rests"),
    (".", "wait"),
)

AT, SHELLS = "at", "shells"

NUMBERED: Mapping[str, str] = {
    AT: "the mould that the hands work for",
    SHELLS: "the mould whose shells lie out, + of several",
}
"""Lanes whose cells are numbers of moulds, and what they tell."""

SEVERAL = "+"

WAITING = "."

_MINUTES = (1, 2, 5, 10, 15, 30, 60, 120, 240, 480)
_LEAST_APART = 9
"""Columns between two minutes on the ruler."""

_ROUNDING = 1e-6

_PUSHES = frozenset({MARKS[TaskKind.SHOT], *SHOTS.values()})


@dataclass(frozen=True, kw_only=True, slots=True)
class Chart:
    """``lanes`` are a name and its cells, all ``width`` long; ``column_s`` is what one cell stands for,
    ``starts_s`` where the chart begins. ``ruler`` is as long as the cells and tells the minutes."""

    lanes: tuple[tuple[str, str], ...]
    column_s: float
    starts_s: float
    ruler: str


def chart(rows: Sequence[Row], *, width: int, starts_s: float = 0.0, ends_s: float | None = None) -> Chart:
    """The rows between two moments, the whole timeline unless told, in ``width`` columns (1 or more)."""
    last_s = max((row.end_s for row in rows), default=0.0)
    end_s = last_s if ends_s is None else ends_s
    width = max(1, width)
    column_s = max(end_s - starts_s, 1.0) / width
    done = min(width, math.ceil((last_s - starts_s) / column_s - _ROUNDING)) if rows else width
    scale = _Scale(width=width, starts_s=starts_s, column_s=column_s)
    lanes = tuple((name, cells[: max(0, done)].ljust(width)) for name, cells in _lanes(rows, scale))
    return Chart(lanes=lanes, column_s=column_s, starts_s=starts_s, ruler=_ruler(width, starts_s, column_s))


def rounds_chart(rows: Sequence[Row], *, width: int, starts_s: float, ends_s: float) -> Chart:
    """The moulds' lanes with nothing in them but the number of each round where its first push is, as far as there
    is room for it."""
    width = max(1, width)
    column_s = max(ends_s - starts_s, 1.0) / width
    begins: dict[int, dict[int, float]] = {}
    for row in rows:
        if row.kind is TaskKind.SHOT:
            rounds = begins.setdefault(row.mould, {})
            rounds[row.round] = min(row.start_s, rounds.get(row.round, row.start_s))
    lanes = []
    for name, number in _moulds(rows):
        cells, free = [" "] * width, 0
        for each, start_s in sorted(begins.get(number, {}).items()):
            place, label = math.floor((start_s - starts_s) / column_s + _ROUNDING), str(each)
            if free <= place <= width - len(label):
                cells[place : place + len(label)] = label
                free = place + len(label) + 1
        lanes.append((name, "".join(cells)))
    return Chart(lanes=tuple(lanes), column_s=column_s, starts_s=starts_s, ruler=_ruler(width, starts_s, column_s))


def _ruler(width: int, starts_s: float, column_s: float) -> str:
    """Whole minutes, each beginning in the column in which it falls, as many as leave room between them."""
    apart_min = next((each for each in _MINUTES if 60 * each / column_s >= _LEAST_APART), _MINUTES[-1])
    cells = [" "] * width
    minute = math.ceil(starts_s / 60 / apart_min - _ROUNDING) * apart_min
    while (place := int((60 * minute - starts_s) / column_s + _ROUNDING)) < width:
        label = str(minute)
        if place + len(label) <= width:
            cells[place : place + len(label)] = label
        minute += apart_min
    return "".join(cells)


def used_marks(drawn: Chart) -> tuple[tuple[str, str], ...]:
    """The part of the legend that the chart needs."""
    present = set("".join(cells for name, cells in drawn.lanes if name not in NUMBERED))
    return tuple((mark, words) for mark, words in LEGEND if mark in present)


_Spell = tuple[str, float, float]
"""A mark, and from when to when it holds, s."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Scale:
    width: int
    starts_s: float
    column_s: float


def _moulds(rows: Sequence[Row]) -> Iterator[tuple[str, int]]:
    moulds = sorted({row.mould for row in rows} - {0})
    for number in moulds:
        yield (f"mould {number}" if len(moulds) > 1 else "mould"), number


def _lanes(rows: Sequence[Row], scale: _Scale) -> Iterator[tuple[str, str]]:
    by_hand = [row for row in rows if HANDS in row.resources]
    moulds = list(_moulds(rows))
    yield "hands", _lane([_spell(row, _mark(row)) for row in by_hand], scale)
    if len(moulds) > 1:
        at = [_spell(row, str(row.mould) if row.mould else " ") for row in by_hand]
        yield AT, _lane(at, scale).replace(WAITING, " ")
    heats = [_spell(row, _cup(row)) for row in rows if HEATER in row.resources]
    yield "heater", _lane(heats, scale)
    for name, number in moulds:
        done = [_spell(row, _mark(row)) for row in rows if mould_resource(number) in row.resources]
        yield name, _lane(done, scale)
    out = [(str(each.mould), each.start_s, each.end_s) for each in lying_out(rows)]
    if out:
        yield SHELLS, _several(out, scale)


def _spell(row: Row, mark: str) -> _Spell:
    return mark, row.start_s, row.end_s


def _mark(row: Row) -> str:
    if row.kind is TaskKind.SHOT and row.shot is not None:
        return SHOTS.get(row.shot, MARKS[row.kind])
    return MARKS[row.kind]


def _cup(row: Row) -> str:
    return _mark(row) if row.part is None else CUPS.get(row.part, _mark(row))


def _lane(spells: Sequence[_Spell], scale: _Scale) -> str:
    return "".join(_most(share, scale.column_s) for share in _shares(spells, scale))


def _several(spells: Sequence[_Spell], scale: _Scale) -> str:
    """Every mark that holds for half of a column or more, since several may at once."""
    cells = []
    for share in _shares(spells, scale):
        held = [mark for mark, shared_s in share.items() if shared_s >= scale.column_s / 2]
        cells.append(held[0] if len(held) == 1 else SEVERAL if held else " ")
    return "".join(cells)


def _shares(spells: Sequence[_Spell], scale: _Scale) -> list[dict[str, float]]:
    """By column, how much of it each mark takes up, s."""
    shares: list[dict[str, float]] = [{} for _ in range(scale.width)]
    for mark, start_s, end_s in spells:
        first = max(0, int((start_s - scale.starts_s) / scale.column_s))
        last = min(scale.width - 1, int((end_s - scale.starts_s) / scale.column_s))
        for place in range(first, last + 1):
            left_s = scale.starts_s + place * scale.column_s
            shared_s = min(end_s, left_s + scale.column_s) - max(start_s, left_s)
            if shared_s > 0:
                shares[place][mark] = shares[place].get(mark, 0.0) + shared_s
    return shares


def _most(share: Mapping[str, float], column_s: float) -> str:
    idle_s = column_s - sum(share.values())
    weighed = {mark: shared_s * (2 if mark in _PUSHES else 1) for mark, shared_s in share.items()}
    best = max(weighed, key=lambda mark: weighed[mark], default=WAITING)
    return best if weighed and weighed[best] >= idle_s else WAITING
