"""What a session knows of why a bait came out as it did."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.session.causes import likely_causes, verdict_words
from bench.session.shots_made import ShotMade, shot_made
from bench.session.verdicts import Given, Subject, Verdict
from tests.session.bench_sessions import maker, placed


def shot(step: str, *, cup_c: float, mould_c: float) -> ShotMade:
    hands = maker(count=4)
    hands.walk_to(step)
    now = hands.now()
    made = shot_made(placed(hands.session, now, cup_c=cup_c, mould_c=mould_c), now)
    assert made is not None
    return made


@pytest.fixture(scope="module")
def cold() -> ShotMade:
    """A shell shot whose cup was too cold and whose mould too warm."""
    return shot("r1.shell.shot", cup_c=150.0, mould_c=62.0)


def given(verdict: Verdict, subject: Subject = Subject.SHELLS, number: int = 1) -> Given:
    return Given(round=number, subject=subject, verdict=verdict)


def test_a_short_bait_names_the_cold_shot_of_its_round(cold: ShotMade) -> None:
    ((words, temp_c),) = likely_causes(given(Verdict.SHORT), [cold])
    assert words == "round 1, shell shot: the shell cup was under its band, by the estimate"
    assert temp_c == pytest.approx(150, abs=0.5)
    said = verdict_words(given(Verdict.SHORT), [cold], "{:.0f} C".format)
    assert said == f"round 1, shells: short; likely cause: {words}, 150 C"


def test_what_cold_does_not_bring_about_and_other_rounds_name_none(cold: ShotMade) -> None:
    for each in (given(Verdict.RIGHT), given(Verdict.BUBBLES), given(Verdict.SHORT, number=2)):
        assert list(likely_causes(each, [cold])) == []
    assert verdict_words(given(Verdict.BUBBLES), [cold], str) == "round 1, shells: bubbles"
    assert list(likely_causes(given(Verdict.SHORT), [replace(cold, outside=())])) == []


def test_a_finished_bait_may_be_short_of_any_of_its_shots_but_shells_only_of_their_own(cold: ShotMade) -> None:
    core = shot("r1.core.shot", cup_c=150.0, mould_c=45.0)
    assert len(list(likely_causes(given(Verdict.SHORT, Subject.BAITS), [cold, core]))) == 2
    assert len(list(likely_causes(given(Verdict.SHORT, Subject.SHELLS), [core]))) == 0
