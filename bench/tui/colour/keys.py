"""Which key is which press on the colour screen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum


class Press(Enum):
    """What can be pressed."""

    UP = "up"
    DOWN = "down"
    MORE = "more"
    LESS = "less"
    MUCH_MORE = "much more"
    MUCH_LESS = "much less"
    TAKE = "take"
    LEAVE = "leave"
    RUB_OUT = "rub out"
    ADD = "add"
    REMOVE = "remove"
    BUILD = "build"
    MOULD = "mould"
    RECIPE = "recipe"
    PLASTIC = "plastic"
    NEW = "new"
    TAIL = "tail"
    CORES = "cores"
    GOAL = "goal"
    VARIANTS = "variants"
    SAVE = "save"
    UNDO = "undo"
    WORDS = "words"
    QUIT = "quit"
    HELP = "help"
    DIGIT = "digit"
    SWITCH = "switch"
    OTHER = "other"


_KEYS: Mapping[str, Press] = {
    "up": Press.UP,
    "down": Press.DOWN,
    "right": Press.MORE,
    "left": Press.LESS,
    **dict.fromkeys(("shift+right", "plus", "equals_sign", "ctrl+right"), Press.MUCH_MORE),
    **dict.fromkeys(("shift+left", "minus", "ctrl+left"), Press.MUCH_LESS),
    **dict.fromkeys(("enter", "space"), Press.TAKE),
    "escape": Press.LEAVE,
    "backspace": Press.RUB_OUT,
    "a": Press.ADD,
    **dict.fromkeys(("x", "delete"), Press.REMOVE),
    "b": Press.BUILD,
    "m": Press.MOULD,
    "r": Press.RECIPE,
    "p": Press.PLASTIC,
    "n": Press.NEW,
    "t": Press.TAIL,
    "f": Press.CORES,
    "g": Press.GOAL,
    "v": Press.VARIANTS,
    "s": Press.SAVE,
    "u": Press.UNDO,
    "w": Press.WORDS,
    "q": Press.QUIT,
    "question_mark": Press.HELP,
    "tab": Press.SWITCH,
    **{str(digit): Press.DIGIT for digit in range(1, 10)},
}
"""The keys by Textual's names."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stroke:
    """One press, and the character that it types, empty where it types none."""

    press: Press
    character: str = ""


def stroke_of(key: str, character: str | None) -> Stroke:
    """What that key means here, capitals like small letters."""
    press = _KEYS.get(key if len(key) > 1 else key.lower(), Press.OTHER)
    printed = character if character is not None and len(character) == 1 and character.isprintable() else ""
    return Stroke(press=press, character=printed)
