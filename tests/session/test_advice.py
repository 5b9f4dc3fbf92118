"""Every verdict on offer, of every build and tail, is answered with something that can be done there.

Which joint peels of what: common practice, no source. What a build has not is known from its parts.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from bench.model.recipe import Build, Tail
from bench.session.advice import advice
from bench.session.events import VerdictGiven
from bench.session.next_words import next_lines
from bench.session.verdicts import Subject, Verdict, options
from tests.session.bench_sessions import maker


def subjects(build: Build) -> tuple[Subject, ...]:
    return tuple(Subject) if build.has_core else (Subject.BAITS,)


OFFERED = [
    (build, tail, subject, verdict)
    for build in Build
    for tail in Tail
    if build.has_core or tail is Tail.KEPT
    for subject in subjects(build)
    for verdict in options(subject, build)
]

ONLY_WITH_A_CORE = ("core", "rod", "bore", "shell", "oil")
ONLY_WITH_SIDES = ("side",)


def not_there(build: Build) -> Iterator[str]:
    """What this build has none of."""
    if not build.has_core:
        yield from ONLY_WITH_A_CORE
    if build not in (Build.LAMINATE, Build.LAMINATE_CORE):
        yield from ONLY_WITH_SIDES


@pytest.mark.parametrize(("build", "tail", "subject", "verdict"), OFFERED)
def test_no_verdict_is_answered_with_what_cannot_be_done(
    build: Build, tail: Tail, subject: Subject, verdict: Verdict
) -> None:
    said = advice(verdict, subject, build)
    assert bool(said) is (verdict is not Verdict.RIGHT)
    hands = maker(build, tail=tail)
    hands.press()
    hands.happen(VerdictGiven(at=hands.now(), round=1, subject=subject, verdict=verdict))
    lines = " ".join(next_lines(hands.session))
    assert said in lines
    told = lines.replace("a bait without a core has no window", "")
    assert not set(re.findall(r"\w+?(?=s?\b)", f"{said} {told}")) & set(not_there(build))
    if subject is Subject.SHELLS:
        assert "core" not in said, "nobody has shot it yet"


def test_what_peels_is_answered_by_the_joint_that_there_is() -> None:
    sides = advice(Verdict.PEELS, Subject.BAITS, Build.LAMINATE)
    core = advice(Verdict.PEELS, Subject.BAITS, Build.CORE)
    both = advice(Verdict.PEELS, Subject.BAITS, Build.LAMINATE_CORE)
    assert sides.startswith("both sides at the hot end of the band")
    assert core.startswith("wipe the oil out of the bores")
    assert sides in both
    assert core in both


def test_a_core_that_is_short_is_not_to_be_pushed_faster() -> None:
    assert "slow push" in advice(Verdict.SHORT, Subject.BAITS, Build.CORE)
    assert "faster" in advice(Verdict.SHORT, Subject.SHELLS, Build.CORE)
    assert "faster" in advice(Verdict.SHORT, Subject.BAITS, Build.LAMINATE)
