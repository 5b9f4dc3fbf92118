"""Verdicts and their digits."""

from __future__ import annotations

from bench.model.recipe import Build
from bench.session.events import VerdictGiven
from bench.session.story import story
from bench.session.summary import summarise
from bench.session.verdicts import Given, Subject, Verdict, all_standing, options, replaced, standing
from tests.session.bench_sessions import maker


def test_a_verdict_has_one_digit_wherever_it_is_on_offer() -> None:
    digits: dict[Verdict, set[int]] = {}
    for build in Build:
        for subject in Subject:
            for digit, verdict in enumerate(options(subject, build), start=1):
                digits.setdefault(verdict, set()).add(digit)
    assert {verdict: where for verdict, where in digits.items() if len(where) > 1} == {}
    assert digits[Verdict.RIGHT] == {1}


def on_baits(verdict: Verdict, number: int = 1) -> Given:
    return Given(round=number, subject=Subject.BAITS, verdict=verdict)


def test_the_verdicts_that_stand_are_the_latest_on_look_and_on_make() -> None:
    given = (
        on_baits(Verdict.RIGHT, 2),
        on_baits(Verdict.CORE_HIDDEN),
        on_baits(Verdict.DENTS),
        on_baits(Verdict.CORE_STRONG),
    )
    expected = (on_baits(Verdict.CORE_STRONG), on_baits(Verdict.DENTS), on_baits(Verdict.RIGHT, 2))
    assert all_standing(given) == expected


def test_a_look_that_is_right_and_a_fault_of_the_make_read_as_two_things() -> None:
    given = (
        Given(round=1, subject=Subject.BAITS, verdict=Verdict.RIGHT),
        Given(round=1, subject=Subject.BAITS, verdict=Verdict.PEELS),
    )
    assert [each.words for each in standing(given, 1, Subject.BAITS)] == ["looks ok", "peels"]
    assert {each.words for each in Verdict} - {"looks ok"} == {each.value for each in Verdict} - {"right"}


def test_a_verdict_replaces_one_of_its_kind_only() -> None:
    given = (on_baits(Verdict.CORE_HIDDEN),)
    assert replaced(given, on_baits(Verdict.CORE_STRONG)) is Verdict.CORE_HIDDEN
    assert replaced(given, on_baits(Verdict.DENTS)) is None
    assert replaced(given, on_baits(Verdict.CORE_STRONG, 2)) is None
    assert replaced(given, on_baits(Verdict.CORE_HIDDEN)) is None


def test_a_changed_mind_is_told_in_the_course_of_events_and_leaves_one_answer() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.look")
    for verdict in (Verdict.CORE_HIDDEN, Verdict.CORE_STRONG):
        hands.happen(VerdictGiven(at=hands.now(), round=1, subject=Subject.BAITS, verdict=verdict))
    assert summarise(hands.session).verdicts == (on_baits(Verdict.CORE_STRONG),)
    assert [each.words for each in story(hands.session.job, hands.events)][-2:] == [
        "round 1, baits: core hidden",
        "round 1, baits: core too strong, before: core hidden",
    ]
