"""Which key is which press, and which presses are only a key held down."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from bench.model.key_names import Action, first_and_own, key_words, keys_for


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
    POINT = "point"
    OTHER = "other"
    """A sign that means nothing: asked about only where it could be meant as part of a figure."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stroke:
    """One press; ``digit`` counts for a digit only."""

    press: Press
    digit: int = 0


PRESSES: Mapping[Action, Press] = {
    Action.FORWARD: Press.FORWARD,
    Action.BACK: Press.BACK,
    Action.HOLD: Press.HOLD,
    Action.READ: Press.ACKNOWLEDGE,
    Action.TEMPERATURE: Press.TEMPERATURE,
    Action.MOULD: Press.MOULD,
    Action.CORE: Press.CORE,
    Action.YES: Press.YES,
    Action.LEARNT: Press.LEARNT,
    Action.SKIP: Press.SKIP,
    Action.STOP: Press.STOP,
    Action.NOTE: Press.NOTE,
    Action.HELP: Press.HELP,
    Action.LEAVE: Press.LEAVE,
}
"""What keys can be chosen for in settings, as presses of this screen."""

_ACTIONS: Mapping[Press, Action] = {press: action for action, press in PRESSES.items()}
_FIXED: Mapping[str, Stroke] = {
    "escape": Stroke(press=Press.ESCAPE),
    **{str(digit): Stroke(press=Press.DIGIT, digit=digit) for digit in range(10)},
}
_POINTS = {name: Stroke(press=Press.POINT) for name in ("full_stop", "comma", "decimal")}
"""The point of a figure, as makers of different countries type it."""

_MARK = re.compile(rf"<key:({'|'.join(PRESSES.values())})>")


def key_for(press: Press) -> str:
    """A mark in a sentence where the key of that press belongs; ``Keyboard.words`` puts it in."""
    return f"<key:{press}>"


class Keyboard:
    """Which key is which press: the usual keys, and in their place those that settings choose."""

    def __init__(self, chosen: Mapping[Action, tuple[str, ...]] | None = None) -> None:
        self._keys = {PRESSES[action]: keys for action, keys in keys_for(chosen or {}).items()}
        own = {key: Stroke(press=press) for press, keys in self._keys.items() for key in keys}
        self._strokes = {**_POINTS, **own}
        self._strokes.update(_FIXED)

    def stroke_of(self, key: str, *, is_sign: bool = False) -> Stroke | None:
        """What the key with that name of Textual's means here, capitals like small letters; None for a key that
        means nothing, unless it ``is_sign``: typed where a figure is."""
        unknown = Stroke(press=Press.OTHER) if is_sign else None
        return self._strokes.get(key if len(key) > 1 else key.lower(), unknown)

    def shown(self, press: Press) -> str:
        """The key of that press as people read it, the first where it has several."""
        return key_words(self._keys[press][0])

    def shown_with_own(self, press: Press) -> str:
        """The same with the first key beside it that is none of the usual ones, mostly a pedal's: "Space / F9"."""
        return " / ".join(map(key_words, first_and_own(_ACTIONS[press], self._keys[press])))

    def all_shown(self, press: Press) -> str:
        """Every key of that press: "Space, Enter, Page Down"."""
        return ", ".join(key_words(key) for key in self._keys[press])

    def words(self, text: str) -> str:
        """The sentence with its keys in the places marked for them."""
        return _MARK.sub(lambda mark: self.shown(Press(mark[1])), text) if "<key:" in text else text


USUAL = Keyboard()


QUIET_S = 0.8
"""A held key is a stream of presses, for terminals report no release: its first repeat comes within 0.25 to 0.66 s
(usual settings of keyboards, common practice, no source). A press after more silence than this is a new one."""

APART_S = 0.33
"""Nobody means to move a session twice within this: a contact bounces, or a held key repeats. Separate presses of
a quick hand are farther apart."""

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
    """The latest press of a key and its moment, in seconds of the keyboard's clock."""

    press: Press
    at_s: float


def counts(latest: Latest | None, press: Press, at_s: float, *, quiet_s: float = QUIET_S) -> Counts:
    """Whether this press is one of its own, or goes on from the latest as a held key does.

    Between ``APART_S`` and quiet nobody can tell yet: it counts if no other follows it within ``REPEAT_S``. What
    came before does not matter then: a held key that has begun to repeat leaves no such gap, however often it is
    held, and where a slow line brings its repeats in bunches none of them comes alone.
    """
    if press not in HOLDABLE or latest is None or latest.press is not press:
        return Counts.NOW
    gap_s = at_s - latest.at_s
    if not 0 <= gap_s < quiet_s:
        return Counts.NOW
    return Counts.NOT if gap_s < APART_S else Counts.IF_ALONE
