"""What the digits mean, in rows: in columns where there is room, one after the other where there is little."""

from __future__ import annotations

from functools import lru_cache
from string import digits

from rich.cells import cell_len

from bench.tui.pour.rows import Forms, growing
from bench.tui.text import wrap
from bench.tui.widgets.lines import MARK, Line, line

MOST_ACROSS = 3
"""More columns would be read across instead of downwards."""

BETWEEN = "   "


def choice_rows(choices: tuple[str, ...], room: int) -> Forms:
    """The forms of the choices, the lowest first; one that leaves a choice out is marked."""
    lowest, columns = lowest_whole(choices, room), in_columns(choices, room)
    forms = growing(lowest, room)
    return (*forms, columns) if len(columns) > len(lowest) else forms


@lru_cache(maxsize=16)
def lowest_whole(choices: tuple[str, ...], room: int) -> tuple[Line, ...]:
    """Every choice in as few rows as there can be."""
    return min(in_columns(choices, room), in_a_row(choices, room), key=len)


def in_a_row(choices: tuple[str, ...], room: int) -> tuple[Line, ...]:
    """The choices one after the other."""
    rows: list[str] = []
    for choice in choices:
        short, *more = wrap(choice, max(1, room)) or ("",)
        if rows and not more and cell_len(rows[-1] + BETWEEN + short) <= room:
            rows[-1] += BETWEEN + short
        else:
            rows += [short, *more]
    return tuple(line(row) for row in rows)


def in_columns(choices: tuple[str, ...], room: int) -> tuple[Line, ...]:
    """The choices in as many columns as fit, read downwards; in one that goes on below where none fits."""
    if not choices:
        return ()
    if max(map(cell_len, choices)) > room:
        return tuple(row for choice in choices for row in _hanging(choice, room))
    widest = max(len(choice) for choice in choices) + 2
    across = max(1, min(MOST_ACROSS, (room + 2) // widest))
    down = -(-len(choices) // across)
    rows = (choices[place::down] for place in range(down))
    return tuple(line("".join(choice.ljust(widest) for choice in row).rstrip()) for row in rows)


def _hanging(choice: str, room: int) -> tuple[Line, ...]:
    """A choice in as many rows as it takes, its words below each other behind its digit and mark."""
    words = choice.lstrip(f"{digits}{MARK} ")
    head = choice.removesuffix(words)
    broken = wrap(words, max(1, room - cell_len(head)))
    return tuple(line(f"{' ' * cell_len(head) if place else head}{row}") for place, row in enumerate(broken))
