"""Words and digits drawn with full and half blocks, as large as the space allows.

One dot is ``scale`` cells wide and ``scale`` half cells high, which is about square: a terminal's cell is twice as
high as wide. Only the space, the full block and the two half blocks are used: every console font has them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from bench.tui.widgets.font import SMALL, TALL, Font

LARGEST_SCALE = 24
"""Beyond this the dots would only grow past any window."""

LONGEST = 32
"""Characters that are drawn: titles and figures are seen from afar, sentences in blocks are slow to read."""

GAP = 2
"""Empty rows of dots between lines, so that they stay apart."""

_CELLS = {("#", "#"): "█", ("#", "."): "▀", (".", "#"): "▄", (".", "."): " "}


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawing:
    """Text in blocks: its lines, all of one width, the scale it is drawn at, and how many half cells a capital is
    high."""

    lines: tuple[str, ...]
    scale: int
    halves_high: int


def drawings(text: str, width: int, *, small: bool = False) -> tuple[Drawing, ...]:
    """The ways to draw the text within ``width`` cells, from the lowest to the highest.

    It breaks between words where it has to. ``small`` allows the small alphabet where the tall one takes more
    rows. Empty where nothing fits, where the alphabet lacks a character, or where it is a sentence and no title.
    """
    return _drawings(text, width, small) if len(text) <= LONGEST else ()


def largest(text: str, width: int, height: int) -> Drawing | None:
    """The largest drawing within that space; None where there is none."""
    fitting = [drawing for drawing in drawings(text, width) if len(drawing.lines) <= height]
    return fitting[-1] if fitting else None


@lru_cache(maxsize=8)
def _drawings(text: str, width: int, small: bool) -> tuple[Drawing, ...]:  # noqa: FBT001 - lru_cache keys by place
    words = text.split()
    found = [
        _drawn(broken, TALL, scale)
        for scale in range(1, LARGEST_SCALE)
        if (broken := _broken(words, TALL, width // scale))
    ]
    if small and (broken := _broken(words, SMALL, width)):
        found.append(_drawn(broken, SMALL, 1))
    return tuple(sorted(found, key=lambda drawing: len(drawing.lines)))


def _broken(words: list[str], font: Font, dots: int) -> list[str]:
    """The words in as few lines of so many dots as hold them; none when a word is too wide for any."""
    lines: list[str] = []
    for word in words:
        if not font.can_draw(word) or font.dots_wide(word) > dots:
            return []
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and font.dots_wide(joined) <= dots:
            lines[-1] = joined
        else:
            lines.append(word)
    return lines


def _drawn(texts: list[str], font: Font, scale: int) -> Drawing:
    rows = [row for row in _stacked(texts, font) for _ in range(scale)]
    if len(rows) % 2:
        rows.append("." * len(rows[0]))
    pairs = tuple(zip(rows[::2], rows[1::2], strict=True))
    # Large figures repeat their lines: each is made once, and kept once.
    made = {pair: "".join(_CELLS[dots] * scale for dots in zip(*pair, strict=True)) for pair in set(pairs)}
    lines = tuple(made[pair] for pair in pairs)
    return Drawing(lines=lines, scale=scale, halves_high=font.height * scale)


def _stacked(texts: list[str], font: Font) -> list[str]:
    """The rows of dots of all lines together."""
    widest = max(font.dots_wide(text) for text in texts)
    rows: list[str] = []
    for text in texts:
        if rows:
            rows += ["." * widest] * GAP
        rows += [row.ljust(widest, ".") for row in font.rows(text)]
    return rows
