"""Keys as a maker hears them, by the names that the screen shows: "B", "page down", "space or the pedal"."""

from __future__ import annotations

from collections.abc import Mapping

from bench.model.key_names import USUAL_KEYS, Action, first_and_own, key_words
from bench.signals.spoken import whole

Keys = Mapping[Action, tuple[str, ...]]
"""Every action with its keys, the one that is named first."""

USUAL: Keys = USUAL_KEYS

PEDAL = "the pedal"
"""A key beside the first one to go on: nobody knows by name what a pedal sends."""

_HEARD = {
    **{name: f"{name} arrow" for name in ("up", "down", "left", "right")},
    **{f"f{number}": f"F {whole(number)}" for number in range(1, 25)},
    "ctrl": "control",
}
"""What a voice would not make of the sign or the short word on the screen."""


def key(name: str) -> str:
    """One key: a letter as a letter, a sign by its name, "control F nine"."""
    return " ".join(map(_part, name.split("+")))


def key_for(action: Action, keys: Keys) -> str:
    """What to press for that."""
    first, *own = first_and_own(action, keys[action])
    return f"{key(first)} or {PEDAL}" if own and action is Action.FORWARD else key(first)


def _part(name: str) -> str:
    if name in _HEARD:
        return _HEARD[name]
    if name.isdigit():
        return whole(int(name))
    shown = key_words(name)
    if len(shown) == 1:
        return shown if shown.isalnum() else name.replace("_", " ")
    return shown.lower()
