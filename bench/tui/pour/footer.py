"""The keys at the foot of the screen, in as many rows as they are given."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from bench.tui.pour.hints import Hint
from bench.tui.pour.rows import Forms
from bench.tui.widgets.lines import Line, Piece, Tone, in_rows, width_of


@lru_cache(maxsize=16)
def keys_in_rows(hints: tuple[Hint, ...], wide: tuple[Hint, ...], room: int) -> Forms:
    """The keys in one row, in two and so on up to all of them, always in the same order. The ``wide`` form of a
    hint takes no row of its own, and the place of no other hint."""
    every = len(_rows(hints, room))
    wider = dict(zip(hints, wide, strict=False))
    chosen = (_fitting(hints, room, rows) if rows < every else hints for rows in range(1, every + 1))
    return tuple(_widened(each, wider, room) for each in chosen)


def _widened(hints: tuple[Hint, ...], wider: Mapping[Hint, Hint], room: int) -> tuple[Line, ...]:
    rows = _rows(hints, room)
    wide = _rows([wider.get(hint, hint) for hint in hints], room)
    fits = len(wide) == len(rows) and all(width_of(row) <= room for row in wide)
    return wide if fits else rows


def _fitting(hints: Sequence[Hint], room: int, rows: int) -> tuple[Hint, ...]:
    """As many as fit into so many rows, in brief where it must be: the first, and then by rank, the first of each
    before the others."""
    kept = {hints[0]: hints[0]}
    for hint in sorted(hints[1:], key=lambda each: each.rank):
        for form in (hint, replace(hint, does=hint.brief or hint.does)):
            tried = {**kept, hint: form}
            if len(_rows([tried[each] for each in hints if each in tried], room)) <= rows:
                kept = tried
                break
    return tuple(kept[each] for each in hints if each in kept)


def _rows(hints: Sequence[Hint], room: int) -> tuple[Line, ...]:
    cells = ((Piece(text=hint.key, tone=Tone.KEY), Piece(text=f" {hint.does}", tone=Tone.PLAIN)) for hint in hints)
    return in_rows(cells, room, gap=3)
