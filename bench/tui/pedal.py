"""Learning what a pedal sends: one press shows it, a second press of the same key has it saved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from bench.model.key_names import Action, is_key, key_words, why_not

GOOD_KEYS = "Page Down, Space or F5 to F12"
"""What every terminal passes on: of F13 to F24, which pedals like to send, most make something else."""


TOGETHER_S = 0.15
"""Nobody presses two keys one after the other within this: a pedal that sends several does."""

MEANS: Mapping[Action, str] = {
    Action.FORWARD: "go on",
    Action.BACK: "go back",
    Action.HOLD: "hold",
    Action.READ: "I have read this",
    Action.TEMPERATURE: "temperature",
    Action.MOULD: "the mould's temperature",
    Action.CORE: "core colour",
    Action.YES: "yes",
    Action.LEARNT: "what is learnt",
    Action.SKIP: "skip",
    Action.STOP: "stop early",
    Action.NOTE: "note",
    Action.HELP: "help",
    Action.LEAVE: "leave",
}
"""What a key is for, to whoever has just pressed one."""


class Stage(StrEnum):
    """How far it has come."""

    WAITING = "waiting"
    SEEN = "seen"
    SAVING = "saving"
    SAVED = "saved"
    KNOWN = "known"
    REFUSED = "refused"
    NOT_KEPT = "not kept"
    SEVERAL = "several"


@dataclass(frozen=True, kw_only=True, slots=True)
class Learning:
    """What was pressed so far. ``why`` says why a key is not taken, or not saved; ``together`` are the keys that
    came as one press."""

    stage: Stage = Stage.WAITING
    key: str = ""
    why: str = ""
    together: tuple[str, ...] = ()

    @property
    def is_over(self) -> bool:
        """Whether the pedal goes on."""
        return self.stage in (Stage.SAVED, Stage.KNOWN)


def pressed(learning: Learning, key: str, every: Mapping[Action, tuple[str, ...]]) -> Learning:
    """What a press makes of it, where ``every`` action has these keys. A held pedal is not a second press: whoever
    asks has sorted that out."""
    if learning.stage in (Stage.SAVING, Stage.SAVED):
        return learning
    if key in every[Action.FORWARD]:
        return Learning(stage=Stage.KNOWN, key=key)
    if not is_key(key):
        why = f"The pedal sends something that terminals do not tell apart. Have it send {GOOD_KEYS}."
        return Learning(stage=Stage.REFUSED, key=key, why=why)
    taken = why_not(key, Action.FORWARD, every)
    if taken is not None:
        meant = next((MEANS[action] for action, keys in every.items() if key in keys), "")
        why = f'{key_words(key)} means "{meant}"' if meant else taken[0].replace(", which", "")
        return Learning(stage=Stage.REFUSED, key=key, why=f"{why} here. Have the pedal send {GOOD_KEYS}.")
    if learning.stage is Stage.SEEN and learning.key == key:
        return Learning(stage=Stage.SAVING, key=key)
    other = f"Before, it was {key_words(learning.key)}." if learning.stage is Stage.SEEN else ""
    return Learning(stage=Stage.SEEN, key=key, why=other)


def pressed_with(learning: Learning, before: str, key: str) -> Learning:
    """What it makes that another key came within ``TOGETHER_S`` of the one before: both are one press of a pedal,
    which would go on with the one and do something else with the other."""
    if learning.stage in (Stage.SAVING, Stage.SAVED):
        return learning
    return Learning(stage=Stage.SEVERAL, key=key, together=tuple(dict.fromkeys((*learning.together, before, key))))


def saved(learning: Learning, problem: str) -> Learning:
    """What came of the saving; ``problem`` is empty when it is done."""
    if problem:
        return Learning(stage=Stage.NOT_KEPT, key=learning.key, why=problem)
    return Learning(stage=Stage.SAVED, key=learning.key)


def large_words(learning: Learning) -> str:
    """The words to be read from the pedal."""
    match learning.stage:
        case Stage.WAITING:
            return "PRESS YOUR PEDAL"
        case Stage.SEEN:
            return "ONCE MORE"
        case Stage.SAVING:
            return "SAVING"
        case Stage.SAVED | Stage.KNOWN:
            return "IT GOES ON"
        case Stage.REFUSED:
            return "NOT THIS KEY"
        case Stage.NOT_KEPT:
            return "NOT KEPT"
        case Stage.SEVERAL:
            return "ONE KEY ONLY"


def words(learning: Learning, every: Mapping[Action, tuple[str, ...]]) -> tuple[str, ...]:
    """The sentences under them."""
    name = key_words(learning.key)
    match learning.stage:
        case Stage.WAITING:
            return (
                "Any pedal, button or remote that types one key will do.",
                "It will go on to the next step, as the advancing key does; it never acknowledges a caution.",
            )
        case Stage.SEEN:
            here = f"Here it is {name}."
            return (*filter(None, (learning.why,)), f"{here} Let go, then press the pedal once more to keep it.")
        case Stage.SAVING:
            return (f"{name} is put into settings.toml.",)
        case Stage.SAVED:
            beside = ", ".join(key_words(key) for key in every[Action.FORWARD])
            return (
                f"{name} goes on from the next session, beside {beside}.",
                "Settings keep it as keys.forward; take it out there.",
            )
        case Stage.KNOWN:
            return (f"The pedal sends {name}, which goes on already: nothing needs saving.",)
        case Stage.REFUSED:
            return (learning.why, "Press again when it sends another key.")
        case Stage.NOT_KEPT:
            return (
                f"The pedal's key, {name}, will do, but it could not be put into settings.toml.",
                learning.why,
                "The file is as it was. Put that right, then press the pedal twice again.",
            )
        case Stage.SEVERAL:
            *first, last = map(key_words, learning.together)
            count = "two" if len(first) == 1 else f"{len(first) + 1}"
            sent = f"Your pedal sends {count} keys, {', '.join(first)} and {last}."
            return (f"{sent} Set it to send one, then try again.", f"{GOOD_KEYS} will do.")
