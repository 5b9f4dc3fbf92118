"""Everything that can go wrong on the user's side, as one tree.

    BenchError            one sentence, printed once by ``bench.__main__``; exit code 1
    ├── UnitError         a quantity that cannot be read
    ├── FaultyFiles       files that do not load: carries every fault found, not only the first
    └── IllegalMove       an event that the session's present state does not allow

A defect of ours is any other exception: it is not caught on the way and ends with exit code 3.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

_INDEX = re.compile(r"\[(\d{1,9})\]\.?")
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


class BenchError(Exception):
    """A problem in what the user gave. ``str(error)`` is one clear sentence for the user."""


class UnitError(BenchError):
    """A quantity that cannot be read.

    ``found`` is what was given and ``wanted`` what would be right, both as words that fit in a sentence.
    """

    def __init__(self, *, found: str, wanted: str) -> None:
        self.found = found
        self.wanted = wanted
        super().__init__(f"found {found}, wanted {wanted}")


class IllegalMove(BenchError):
    """An event that the session's present state does not allow; the message names both."""

    def __init__(self, *, state: str, event: str, why: str = "") -> None:
        self.state = state
        self.event = event
        self.why = why
        super().__init__(f"{event} is not possible while the session is {state}" + (f": {why}" if why else ""))


@dataclass(frozen=True, kw_only=True, slots=True)
class Fault:
    """One mistake in one file: where it stands, what was found, what is wanted.

    ``key`` is the dotted path inside the file ("rods.diameter", "parts.shell.doses[1].load"), empty for the
    whole file. ``found`` and ``wanted`` are words that fit after "found" and "wanted". ``hint`` is the
    nearest right word, empty when nothing is near. ``remedy`` is a sentence on the way out, where there is another
    than to put it right. ``doubt`` is for what is unlikely and may still be so: it refuses nothing, and
    ``wanted`` is what is usual.
    """

    key: str
    found: str
    wanted: str
    hint: str = ""
    file: str = ""
    remedy: str = ""
    doubt: bool = False

    def sentence(self) -> str:
        """The fault as one line for the user, without the control characters that a file's name may hold."""
        place = ": ".join(part for part in (printable(self.file), place_words(self.key)) if part)
        hint = f"; did you mean {self.hint}?" if self.hint else "."
        remedy = f" {self.remedy}" if self.remedy else ""
        if self.doubt:
            return f"look at: {place}: found {self.found}, usual is {self.wanted}{hint}{remedy}"
        return f"{place}: found {self.found}, wanted {self.wanted}{hint}{remedy}"


def place_words(key: str) -> str:
    """The path inside a file as people count: "the second of warm", "load of the first of parts.shell.doses"."""
    if '"' in key:
        return key
    words, *rest = _INDEX.split(key)
    for place, name in zip(rest[::2], rest[1::2], strict=True):
        words = f"{f'{name} of ' if name else ''}the {_ordinal(int(place) + 1)} of {words}"
    return words


def _ordinal(number: int) -> str:
    if number <= len(_ORDINALS):
        return _ORDINALS[number - 1]
    ending = "th" if 10 < number % 100 < 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def printable(text: str) -> str:
    """Foreign text with a mark for each character that a terminal would obey or cannot show."""
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text)


def quoted(text: str, limit: int = 40) -> str:
    """Foreign text, fit to stand in a one-line message: quoted, cut with a mark, no control characters."""
    shown = printable(text[:limit])
    return f'"{shown}…"' if len(text) > limit else f'"{shown}"'


class FaultyFiles(BenchError):
    """Files that do not load. ``faults`` holds every one found; the message is a line for each."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(fault.sentence() for fault in self.faults))


BEYOND_NUMBERS = "these figures are too large or too small to reckon with: check their units"


@contextmanager
def reckonable() -> Iterator[None]:
    """Figures from files and flags may be any size; those that no number can hold are the user's to put right."""
    try:
        yield
    except ArithmeticError as error:
        raise BenchError(BEYOND_NUMBERS) from error
