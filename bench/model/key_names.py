"""What can be pressed at the bench, and what keys are called.

A key has the name that Textual gives it (``space``, ``pagedown``, ``f9``, ``full_stop``, ``shift+f3``). Settings
may also write a sign as itself (``"."``).
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterator, Mapping
from enum import StrEnum
from functools import cache
from itertools import islice

from bench.errors import Fault, quoted


class Action(StrEnum):
    """What a key can be chosen for. Digits, Enter and Escape are not for choosing: they type, take and leave."""

    FORWARD = "forward"
    BACK = "back"
    HOLD = "hold"
    READ = "read"
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


USUAL_KEYS: Mapping[Action, tuple[str, ...]] = {
    Action.FORWARD: ("space", "enter", "pagedown"),
    Action.BACK: ("b", "backspace", "pageup"),
    Action.HOLD: ("p",),
    Action.READ: ("a",),
    Action.TEMPERATURE: ("t",),
    Action.MOULD: ("m",),
    Action.CORE: ("c",),
    Action.YES: ("y",),
    Action.LEARNT: ("l",),
    Action.SKIP: ("s",),
    Action.STOP: ("x",),
    Action.NOTE: ("n",),
    Action.HELP: ("question_mark",),
    Action.LEAVE: ("q",),
}
"""Page Up and Page Down are what pedals and presenter remotes send."""

MOST_KEYS = 8
"""Of one action; nobody has more feet."""

FIXED: Mapping[str, str] = {
    **{str(digit): "which types a figure" for digit in range(10)},
    "escape": "which leaves an entry",
    "ctrl+c": "which the terminal keeps for itself",
    "ctrl+q": "which leaves the program",
    "ctrl+z": "which the terminal keeps for itself",
}
"""Keys that mean one thing always. Enter does too, but going on is that thing: forward has it in any case."""

ENTER = "enter"

_NAMED: Mapping[str, str] = {
    "space": "Space",
    ENTER: "Enter",
    "escape": "Esc",
    "tab": "Tab",
    "backspace": "Backspace",
    "delete": "Delete",
    "insert": "Insert",
    "home": "Home",
    "end": "End",
    "pageup": "Page Up",
    "pagedown": "Page Down",
    "up": "↑",
    "down": "↓",
    "left": "←",
    "right": "→",
    **{f"f{number}": f"F{number}" for number in range(1, 25)},
}
_SIGNS = {
    "solidus": "slash",
    "reverse_solidus": "backslash",
    "commercial_at": "at",
    "hyphen_minus": "minus",
    "plus_sign": "plus",
    "low_line": "underscore",
}
"""Where Textual's name is not Unicode's."""

_HELD = re.compile(r"(?:(?:ctrl|alt|shift|super|meta|hyper)\+)*")


def key_of(written: str) -> str:
    """The key's name where settings wrote the sign itself; small letters for capitals."""
    held = _HELD.match(written.lower())
    start = held.end() if held and held.end() < len(written) else 0
    before, last = written[:start].lower(), written[start:]
    if len(last) != 1:
        return before + last.lower()
    return before + (last.lower() if last.isalnum() else _sign_name(last))


def is_key(name: str) -> bool:
    """Whether a terminal could send a key of this name."""
    last = _HELD.sub("", name, count=1)
    return last in _NAMED or is_sign(last)


def is_sign(name: str) -> bool:
    """Whether a key of this name types a sign: a letter, a digit, a mark, and no blank."""
    return (len(name) == 1 and name.isalnum()) or name in _signs()


def key_words(name: str) -> str:
    """The key as people read it on a keyboard: "Page Down", "B", "?", "Ctrl+F9"."""
    held = _HELD.match(name)
    before, last = (held[0], name[held.end() :]) if held else ("", name)
    shown = _NAMED.get(last) or _signs().get(last) or (last.upper() if len(last) == 1 else last)
    return before.title() + shown


def keys_for(chosen: Mapping[Action, tuple[str, ...]]) -> Mapping[Action, tuple[str, ...]]:
    """The keys of every action: those that settings choose, else the usual ones. Forward has Enter in any case."""
    every = {
        action: tuple(dict.fromkeys(key_of(key) for key in chosen.get(action, usual)))
        for action, usual in USUAL_KEYS.items()
    }
    if ENTER not in every[Action.FORWARD]:
        every[Action.FORWARD] = (*every[Action.FORWARD], ENTER)
    return every


def first_and_own(action: Action, keys: tuple[str, ...]) -> tuple[str, ...]:
    """The first key of that action, and the first beside it that is none of the usual ones, mostly a pedal's."""
    first, *others = keys
    return (first, *islice((key for key in others if key not in USUAL_KEYS[action]), 1))


def why_not(key: str, action: Action, every: Mapping[Action, tuple[str, ...]]) -> tuple[str, str] | None:
    """Why that action cannot have the key, as what was found and what is wanted; None where it can."""
    if key in FIXED:
        return f"{key_words(key)}, {FIXED[key]}", "another key"
    if key == ENTER and action is not Action.FORWARD:
        return "Enter, which takes a figure and goes on", "another key"
    for other, keys in every.items():
        if other is not action and key in keys:
            return f"{key_words(key)}, which is {other} already", "a key that nothing else has"
    return None


def key_faults(chosen: Mapping[Action, tuple[str, ...]]) -> Iterator[Fault]:
    """What is wrong with these keys, a sentence each."""
    every = keys_for(chosen)
    told: set[str] = set()
    for action, written in chosen.items():
        if not 1 <= len(written) <= MOST_KEYS:
            yield Fault(key=f"keys.{action}", found=f"{len(written)} keys", wanted=f"1 to {MOST_KEYS}")
        for place, text in enumerate(written[:MOST_KEYS]):
            where, key = f"keys.{action}[{place}]", key_of(text)
            if not is_key(key):
                yield _no_key(where, text)
            elif key not in told and (refused := why_not(key, action, every)) is not None:
                told.add(key)
                yield Fault(key=where, found=refused[0], wanted=refused[1])


def _no_key(where: str, text: str) -> Fault:
    close = difflib.get_close_matches(text.lower()[:40], _NAMED, n=1, cutoff=0.6)
    return Fault(
        key=where,
        found=quoted(text) if text.isprintable() and text else "no name",
        wanted='the name of a key, such as "space", "pagedown", "f9" or "."',
        hint=f'"{close[0]}"' if close else "",
    )


def _sign_name(sign: str) -> str:
    name = unicodedata.name(sign, "").lower().replace("-", "_").replace(" ", "_")
    return _SIGNS.get(name, name)


@cache
def _signs() -> Mapping[str, str]:
    """The signs of a keyboard by their names."""
    return {_sign_name(sign): sign for sign in map(chr, range(33, 127)) if not sign.isalnum()}
