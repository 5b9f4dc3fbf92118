"""What stands against going on names the cups that it is about."""

from __future__ import annotations

import pytest

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.session.asked_words import cups_words, why_words
from bench.session.asking import Asked
from bench.session.view import view
from tests.session.bench_sessions import placed
from tests.tui.at_the_bench import at, at_kind, at_step, session_of


def test_cups_are_named_in_their_order() -> None:
    assert cups_words([Part.CORE]) == "the core cup"
    assert cups_words([Part.CORE, Part.SHELL]) == "the shell and core cups"
    assert cups_words([Part.SHELL_B, Part.SHELL_A]) == "the shell A and B cups"


@pytest.mark.parametrize(
    ("cup_c", "why", "words"),
    [
        (160.0, Asked.COLD, "the shell A and B cups are under their band"),
        (185.0, Asked.HOT, "the shell A and B cups are over their band"),
        (170.0, Asked.EARLY, "it is not over yet"),
    ],
)
def test_every_cup_outside_its_band_is_named(cup_c: float, why: Asked, words: str) -> None:
    session, now = at_step("r1.shell.shot", session_of("ember-between-banks", "ribbon-leech-4"))
    seen = view(placed(session, at(now), cup_c=cup_c), at(now))
    assert why_words(why, seen) == words


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (StepKind.SET, "it is not over yet: it may be liquid inside"),
        (StepKind.PURGE_AIR, "it is not over yet: the fumes are still in the room"),
        (StepKind.HOLD, "it is not over yet"),
    ],
)
def test_what_is_left_early_says_what_may_be_so(kind: StepKind, words: str) -> None:
    session, now = at_kind(kind)
    assert why_words(Asked.EARLY, view(session, at(now))) == words
