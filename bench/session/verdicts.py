"""What the maker says of shells and of finished baits, one digit each."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bench.model.recipe import Build


class Subject(StrEnum):
    """What a verdict is about."""

    SHELLS = "shells"
    BAITS = "baits"


class Verdict(StrEnum):
    """A judgement of a round. Looks and make are judged apart: the latest of each stands."""

    RIGHT = "right"
    TOO_DENSE = "too dense"
    TOO_FAINT = "too faint"
    CORE_HIDDEN = "core hidden"
    CORE_FAINT = "core faint"
    CORE_STRONG = "core too strong"
    COLOUR_OFF = "colour off"
    SHORT = "short"
    DENTS = "dents"
    BUBBLES = "bubbles"
    SOFT = "soft or torn"
    SOONER = "could have opened sooner"
    WRINKLED = "wrinkled"
    OFF_CENTRE = "core off centre"
    PEELS = "peels"

    @property
    def words(self) -> str:
        """The verdict as people read it: what looks as it should may still be faulty in its make."""
        return "looks ok" if self is Verdict.RIGHT else self.value

    @property
    def of_several(self) -> str:
        """The verdict after the word for several: "baits peel"."""
        return "peel" if self is Verdict.PEELS else self.value


LOOKS = frozenset(
    {
        Verdict.RIGHT,
        Verdict.TOO_DENSE,
        Verdict.TOO_FAINT,
        Verdict.CORE_HIDDEN,
        Verdict.CORE_FAINT,
        Verdict.CORE_STRONG,
        Verdict.COLOUR_OFF,
    }
)
"""Verdicts on the look; the others are on the make."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Given:
    """One verdict, on one round."""

    round: int
    subject: Subject
    verdict: Verdict


ON_SHELLS: tuple[Verdict, ...] = (
    Verdict.RIGHT,
    Verdict.TOO_DENSE,
    Verdict.TOO_FAINT,
    Verdict.SOFT,
    Verdict.SHORT,
    Verdict.WRINKLED,
    Verdict.BUBBLES,
    Verdict.SOONER,
)
"""Here and below: a verdict has the same digit wherever it is on offer."""

ON_CORED_BAITS: tuple[Verdict, ...] = (
    Verdict.RIGHT,
    Verdict.CORE_HIDDEN,
    Verdict.CORE_FAINT,
    Verdict.CORE_STRONG,
    Verdict.SHORT,
    Verdict.DENTS,
    Verdict.BUBBLES,
    Verdict.OFF_CENTRE,
    Verdict.PEELS,
)
ON_PLAIN_BAITS: tuple[Verdict, ...] = (
    Verdict.RIGHT,
    Verdict.TOO_DENSE,
    Verdict.TOO_FAINT,
    Verdict.SOFT,
    Verdict.SHORT,
    Verdict.DENTS,
    Verdict.BUBBLES,
    Verdict.SOONER,
    Verdict.COLOUR_OFF,
)
ON_SIDED_BAITS: tuple[Verdict, ...] = (
    Verdict.RIGHT,
    Verdict.TOO_DENSE,
    Verdict.TOO_FAINT,
    Verdict.SOFT,
    Verdict.SHORT,
    Verdict.DENTS,
    Verdict.BUBBLES,
    Verdict.SOONER,
    Verdict.PEELS,
)


def options(subject: Subject, build: Build) -> tuple[Verdict, ...]:
    """The verdicts on offer for that build, nine at most, the first under digit 1."""
    if subject is Subject.SHELLS:
        return ON_SHELLS
    if build.has_core:
        return ON_CORED_BAITS
    return ON_SIDED_BAITS if build is Build.LAMINATE else ON_PLAIN_BAITS


def standing(given: tuple[Given, ...], round_number: int, subject: Subject) -> tuple[Verdict, ...]:
    """The verdicts that stand for that round: the latest on its look and the latest on its make."""
    latest: dict[bool, Verdict] = {}
    for verdict in given:
        if (verdict.round, verdict.subject) == (round_number, subject):
            latest[verdict.verdict in LOOKS] = verdict.verdict
    return tuple(latest[look] for look in (True, False) if look in latest)


def all_standing(given: tuple[Given, ...]) -> tuple[Given, ...]:
    """The verdicts that stand for every round, by round, shells before baits."""
    rounds = sorted({each.round for each in given})
    return tuple(
        Given(round=number, subject=subject, verdict=verdict)
        for number in rounds
        for subject in Subject
        for verdict in standing(given, number, subject)
    )


def replaced(given: tuple[Given, ...], by: Given) -> Verdict | None:
    """The verdict of the same round that stood until that one was given; None without one, or where it is the
    same."""
    stood = standing(given, by.round, by.subject)
    before = next((each for each in stood if (each in LOOKS) is (by.verdict in LOOKS)), None)
    return None if before is by.verdict else before
