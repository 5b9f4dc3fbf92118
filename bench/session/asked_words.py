"""The words for what stands against going on, with the cups that it is about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.session.asking import Asked
from bench.session.view import View
from bench.session.warned import WarningKind


def why_words(why: Asked, view: View) -> str:
    """What speaks against going on, in words that end a sentence."""
    if why is Asked.EARLY and view.step.kind in _EARLY:
        return f"{why.value}: {_EARLY[view.step.kind]}"
    kind = _OF_CUPS.get(why)
    parts = [
        each.part for each in view.warnings if each.kind is kind and each.part in view.step.parts and each.part
    ]
    if kind is None or not parts:
        return why.value
    side = "under" if kind is WarningKind.CUP_COLD else "over"
    band = f"is {side} its band" if len(parts) == 1 else f"are {side} their band"
    return f"{cups_words(parts)} {band}"


def cups_words(parts: Sequence[Part]) -> str:
    """Cups by their names: "the core cup", "the shell A and B cups", "the shell and core cups"."""
    return f"the {short_names(parts)} cup{'s' if len(parts) > 1 else ''}"


def short_names(parts: Sequence[Part]) -> str:
    """Parts by their names, what these have in common named once: "shell A and B"."""
    first, *others = (part.words for part in sorted(parts, key=list(Part).index))
    stem = f"{first.partition(' ')[0]} "
    return " and ".join((first, *(other.removeprefix(stem) for other in others)))


_EARLY: Mapping[StepKind, str] = {
    StepKind.SET: "it may be liquid inside",
    StepKind.PURGE_AIR: "the fumes are still in the room",
}
"""What is so where a clock is not waited for, after the words that it is not over."""

_OF_CUPS: Mapping[Asked, WarningKind] = {Asked.COLD: WarningKind.CUP_COLD, Asked.HOT: WarningKind.CUP_HOT}
