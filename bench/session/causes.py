"""What a session knows of why a bait came out as it did."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from bench.plan.records import Shot
from bench.session.made_again import outside_words
from bench.session.shots_made import ShotMade
from bench.session.verdicts import Given, Subject, Verdict

OF_COLD = frozenset({Verdict.SHORT, Verdict.WRINKLED})
"""What plastic or mould below its range brings about (common practice, no source)."""


def verdict_words(given: Given, shots: Iterable[ShotMade], degrees: Callable[[float], str]) -> str:
    """The verdict, with the shots of its round that were too cold where that is the likely cause."""
    said = f"round {given.round}, {given.subject}: {given.verdict.words}"
    causes = [f"{words}, {degrees(temp_c)}" for words, temp_c in likely_causes(given, shots)]
    return f"{said}; likely cause: {'; '.join(causes)}" if causes else said


def likely_causes(given: Given, shots: Iterable[ShotMade]) -> Iterator[tuple[str, float]]:
    """What was below its range at those shots, each with its estimate in degC; nothing for any other verdict."""
    if given.verdict not in OF_COLD:
        return
    for made in shots:
        is_of_it = given.subject is Subject.BAITS or made.shot is Shot.SHELL
        if made.step.round == given.round and is_of_it:
            too_cold = tuple(each for each in made.outside if not each.above)
            yield from outside_words(replace(made, outside=too_cold))
