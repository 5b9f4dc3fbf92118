"""The one gate for every string that did not come from this program's own source: titles, notes, names, words.

A terminal obeys control characters in whatever it is sent, and no widget stops them. ``clean`` makes them visible
and harmless; ``cut`` and ``wrap`` fit the result into columns.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping

from rich.cells import cell_len

LONGEST = 200
"""Characters of a foreign string that are shown; a screen has no room for more, and drawing has to end."""

ELLIPSIS = "…"
_REPLACED = "\N{REPLACEMENT CHARACTER}"

_C0, _DELETE, _C1 = range(0x20), 0x7F, range(0x80, 0xA0)
_DIRECTION = (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x061C)
_INVISIBLE = (0x2028, 0x2029, 0xFEFF, 0x00AD, *range(0x200B, 0x200E), *range(0x2060, 0x2065))
_SURROGATES = range(0xD800, 0xE000)

_SEEN: Mapping[int, str] = {
    **{code: chr(0x2400 + code) for code in _C0},
    _DELETE: "\N{SYMBOL FOR DELETE}",
    **dict.fromkeys((*_C1, *_DIRECTION, *_INVISIBLE, *_SURROGATES), _REPLACED),
}
"""Each character that a terminal would obey or hide, and what is shown in its place."""

_MARKS = "\u0300-\u036f\u0483-\u0489\u1ab0-\u1aff\u1dc0-\u1dff\u20d0-\u20ff\ufe20-\ufe2f"
_PILED_MARKS = re.compile(f"([{_MARKS}]{{3}})[{_MARKS}]+")

_NARROW = re.compile("[ -~\u00a0-\u00ac\u00ae-\u02ff\u2010-\u2027\u2190-\u22ff\u2500-\u25fc]*").fullmatch
"""One column each: letters with and without accents, dashes, arrows, signs, and what large figures are made of."""


def clean(text: str, *, limit: int = LONGEST) -> str:
    """The text as one harmless line of at most ``limit`` characters: control characters become their pictures,
    marks that turn the reading direction or hide are replaced, piles of accents are cut to three."""
    composed = unicodedata.normalize("NFC", text[: 4 * limit]).replace("\t", " ").replace("\r\n", "\n")
    shown = _PILED_MARKS.sub(r"\1", composed.replace("\n", " ").translate(_SEEN))
    return shown if len(shown) <= limit else shown[: limit - 1] + ELLIPSIS


def columns_of(text: str) -> int:
    """The columns that the text takes. Rich keeps thousands of texts that it measured; most need no measuring."""
    return len(text) if _NARROW(text) else cell_len(text)


def cut(text: str, width: int) -> str:
    """The beginning of the text that fits into ``width`` columns, marked where something is left out."""
    if columns_of(text) <= width:
        return text
    if width < 1:
        return ""
    return _fitting(text, width - 1) + ELLIPSIS


def wrap(text: str, width: int) -> tuple[str, ...]:
    """The text broken between words into lines of at most ``width`` columns; words that are wider are broken."""
    if width < 1:
        return ()
    lines: list[str] = []
    line, used = "", 0
    for word in _words(text, width):
        wide = columns_of(word)
        if line and used + 1 + wide <= width:
            line, used = f"{line} {word}", used + 1 + wide
        else:
            if line:
                lines.append(line)
            line, used = word, wide
    return (*lines, line) if line else ()


def join(parts: Iterable[str], separator: str = " · ") -> str:
    """The parts that say something, with the separator between them."""
    return separator.join(part for part in parts if part)


def _words(text: str, width: int) -> Iterable[str]:
    for word in text.split():
        rest = word
        while columns_of(rest) > width:
            # A character can be wider than the whole line; it goes in as it is, and the line is clipped.
            piece = _fitting(rest, width) or rest[0]
            yield piece
            rest = rest[len(piece) :]
        if rest:
            yield rest


def _fitting(text: str, width: int) -> str:
    used = 0
    for place, character in enumerate(text):
        used += columns_of(character)
        if used > width:
            return text[:place]
    return text
