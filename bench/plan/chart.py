"""A timeline drawn in characters: a lane for the hands, the heater and each mould, time from left to right.

Every column is the same stretch of time and shows what takes up most of it; a dot is waiting, and after the end
there is nothing. The marks are letters, so that the chart needs no colour. A ruler tells the minutes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from bench.plan.rows import Row
from bench.plan.schedule import Resource
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

LEGEND: tuple[tuple[str, str], ...] = (
    ("w", "weigh"),
    ("p", "cup on the heat"),
    ("#", "heat"),
    ("f", "finish the heat"),
    ("u", "warm-up shot"),
    ("i", "rods in"),
    ("s", "shot"),
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

WAITING = "."

_MINUTES = (1, 2, 5, 10, 15, 30, 60, 120, 240, 480)
_LEAST_APART = 9
"""Columns between two minutes on the ruler."""

_ROUNDING = 1e-6


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
    lanes = tuple(
        (
            name,
            _lane([row for row in rows if resource in row.resources], width, starts_s, column_s)[
                : max(0, done)
            ].ljust(width),
        )
        for name, resource in _resources(rows)
    )
    return Chart(lanes=lanes, column_s=column_s, starts_s=starts_s, ruler=_ruler(width, starts_s, column_s))


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
    present = set("".join(cells for _, cells in drawn.lanes))
    return tuple((mark, words) for mark, words in LEGEND if mark in present)


def _resources(rows: Sequence[Row]) -> Iterator[tuple[str, Resource]]:
    yield "hands", HANDS
    yield "heater", HEATER
    moulds = sorted({row.mould for row in rows} - {0})
    for number in moulds:
        yield (f"mould {number}" if len(moulds) > 1 else "mould"), mould_resource(number)


def _lane(rows: Sequence[Row], width: int, starts_s: float, column_s: float) -> str:
    shares: list[dict[str, float]] = [{} for _ in range(width)]
    for row in rows:
        first = max(0, int((row.start_s - starts_s) / column_s))
        last = min(width - 1, int((row.end_s - starts_s) / column_s))
        for place in range(first, last + 1):
            left_s = starts_s + place * column_s
            shared_s = min(row.end_s, left_s + column_s) - max(row.start_s, left_s)
            if shared_s > 0:
                mark = MARKS[row.kind]
                shares[place][mark] = shares[place].get(mark, 0.0) + shared_s
    return "".join(_mark(share, column_s) for share in shares)


def _mark(share: Mapping[str, float], column_s: float) -> str:
    idle_s = column_s - sum(share.values())
    best = max(share, key=lambda mark: share[mark], default=WAITING)
    return best if share and share[best] >= idle_s else WAITING
