"""Which key is which press, and which presses are only a key held down."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Press(StrEnum):
    """What can be pressed on the pour screen."""

    FORWARD = "forward"
    BACK = "back"
    HOLD = "hold"
    ACKNOWLEDGE = "acknowledge"
    TEMPERATURE = "temperature"
    MOULD = "mould"
    CORE = "core"
    YES = "yes"
    LEARNT = "learnt"
    SKIP = "skip"
    STOP = "stop"
    NOTE = "note"
    HELP = "help"
    LEAVE = "leave"
    ESCAPE = "escape"
    DIGIT = "digit"


@dataclass(frozen=True, kw_only=True, slots=True)
class Stroke:
    """One press; ``digit`` counts for a digit only."""

    press: Press
    digit: int = 0


KEYS: Mapping[str, Stroke] = {
    **dict.fromkeys(("space", "enter", "pagedown"), Stroke(press=Press.FORWARD)),
    **dict.fromkeys(("b", "backspace", "pageup"), Stroke(press=Press.BACK)),
    "p": Stroke(press=Press.HOLD),
    "a": Stroke(press=Press.ACKNOWLEDGE),
    "t": Stroke(press=Press.TEMPERATURE),
    "m": Stroke(press=Press.MOULD),
    "c": Stroke(press=Press.CORE),
    "y": Stroke(press=Press.YES),
    "l": Stroke(press=Press.LEARNT),
    "s": Stroke(press=Press.SKIP),
    "x": Stroke(press=Press.STOP),
    "n": Stroke(press=Press.NOTE),
    "question_mark": Stroke(press=Press.HELP),
    "q": Stroke(press=Press.LEAVE),
    "escape": Stroke(press=Press.ESCAPE),
    **{str(digit): Stroke(press=Press.DIGIT, digit=digit) for digit in range(10)},
}
"""The keys by Textual's names. Page Up and Page Down are what pedals and presenter remotes send."""


def stroke_of(key: str) -> Stroke | None:
    """What that key means here, capitals like small letters; None for a key that means nothing."""
    return KEYS.get(key if len(key) > 1 else key.lower())


QUIET_S = 0.8
"""A held key is a stream of presses, for terminals report no release: its first repeat comes within 0.25 to 0.66 s
(usual settings of keyboards, common practice, no source). A press after more silence than this is a new one."""

BOUNCE_S = 0.2
"""Nobody means to move a session twice within this: a contact bounces, or a held key repeats."""

REPEAT_S = 0.15
"""A held key repeats within this, usually within 0.03 s. A press that might be its first repeat waits so long."""

HOLDABLE = frozenset({Press.FORWARD, Press.BACK, Press.ACKNOWLEDGE})
"""Presses of which a held key counts once: each of them moves the session."""


class Counts(StrEnum):
    """What becomes of a press."""

    NOW = "now"
    IF_ALONE = "if alone"
    NOT = "not"


@dataclass(frozen=True, kw_only=True, slots=True)
class Latest:
    """The latest press of a key and its moment, in seconds of the keyboard's clock; ``held`` once it repeats."""

    press: Press
    at_s: float
    held: bool = False


def counts(latest: Latest | None, press: Press, at_s: float, *, quiet_s: float = QUIET_S) -> Counts:
    """Whether this press is one of its own, or goes on from the latest as a held key does.

    Between bounce and quiet nobody can tell yet: it counts if no other follows it within ``REPEAT_S``.
    """
    if press not in HOLDABLE or latest is None or latest.press is not press:
        return Counts.NOW
    gap_s = at_s - latest.at_s
    if not 0 <= gap_s < quiet_s:
        return Counts.NOW
    return Counts.NOT if latest.held or gap_s < BOUNCE_S else Counts.IF_ALONE


def following(latest: Latest | None, press: Press, at_s: float, *, quiet_s: float = QUIET_S) -> Latest:
    """The latest press once this one has come: held when it repeats as only a held key does."""
    if latest is None or latest.press is not press or not 0 <= at_s - latest.at_s < quiet_s:
        return Latest(press=press, at_s=at_s)
    return Latest(press=press, at_s=at_s, held=latest.held or at_s - latest.at_s < REPEAT_S)
