from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.plan.look import look_at
from bench.session import drive, next_loads
from bench.session.corrections import Corrected, Correction
from bench.session.events import VerdictGiven
from bench.session.next_words import next_lines
from bench.session.verdicts import Subject, Verdict
from bench.session.view import view
from bench.tui.pour.entry import Learnt, Nothing
from bench.tui.pour.keys import USUAL
from bench.tui.pour.learnt_words import correction_lines, correction_words, verdict_lines
from bench.tui.pour.middle import middle
from bench.tui.widgets.lines import MARK
from tests.tui.at_the_bench import at, at_kind, at_step, reach
from tests.tui.pour.pictures import METRIC


def correction(of: Corrected, *, value: float, profile: float = 1.0, readings: int = 3) -> Correction:
    return Correction(of=of, value=value, profile=profile, spread=0.15, readings=readings, refused=False)


@pytest.mark.parametrize(
    ("of", "value", "profile", "says"),
    [
        (Corrected.CUP_LOSS, 1.124, 1.0, "cups lose 1.12 times the reckoned heat, within 15 %, from 3 readings"),
        (
            Corrected.HEATER,
            380.2,
            420.0,
            "the heater gives 380 W, the profile says 420 W, within 15 %, from 3 readings",
        ),
        (Corrected.MOULD_LOSS, 0.8, 1.0, "moulds lose 0.80 times the reckoned heat, within 15 %, from 3 readings"),
        (
            Corrected.SET_TIME,
            1.2,
            1.0,
            "baits need 1.20 times the reckoned time to set, within 15 %, from 3 verdicts",
        ),
    ],
)
def test_each_says_what_how_well_and_from_what(of: Corrected, value: float, profile: float, says: str) -> None:
    assert correction_words(correction(of, value=value, profile=profile)) == says


def test_what_is_used_is_marked_and_what_is_refused_says_so() -> None:
    session, now = reach(lambda there: len(there.corrections.all) > 0)
    assert all(MARK in each for each in correction_lines(view(session, at(now))))
    first = session.corrections.all[0].of
    refused = session.after(drive.refuse_or_restore(session, first, at(now)))
    lines = correction_lines(view(refused, at(now)))
    assert lines[0].startswith("1   ")
    assert lines[0].endswith("refused")


def test_they_fill_the_middle_while_they_are_shown() -> None:
    session, now = reach(lambda there: len(there.corrections.all) > 0)
    seen = view(session, at(now))
    shown = middle(session, seen, Learnt(), METRIC.units)
    assert shown.choices == correction_lines(seen)
    assert shown.leads


def test_a_heater_that_is_bounded_says_so_and_no_spread_is_better_than_a_bench_repeats_itself() -> None:
    one = correction(Corrected.HEATER, value=800.0, profile=400.0, readings=1)
    words = correction_words(replace(one, spread=0.01, capped=True))
    assert "800 W, no more is believed of the readings" in words
    assert "within 15 %, from 1 reading" in words


def test_a_soft_bait_is_answered_on_the_screen() -> None:
    session, now = at_kind(StepKind.LOOK_AT_BAITS)
    assert verdict_lines(session, view(session, at(now))) == ()
    given = VerdictGiven(at=at(now), round=session.step.round, subject=Subject.BAITS, verdict=Verdict.SOFT)
    session = session.after(given)
    seen = view(session, at(now))
    told = "Soft or torn: leave it closed longer; the next sets are made longer."
    assert verdict_lines(session, seen) == (told,)
    assert told in middle(session, seen, Nothing(), UnitSystem.METRIC).details
    assert session.corrections.set_factor > 1.0, "and so they are"


@pytest.mark.parametrize("verdict", [Verdict.TOO_DENSE, Verdict.TOO_FAINT])
def test_the_look_gives_the_load_to_try_that_the_end_screen_gives(verdict: Verdict) -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    session = session.after(
        VerdictGiven(at=at(now), round=session.step.round, subject=Subject.SHELLS, verdict=verdict)
    )
    (told,) = verdict_lines(session, view(session, at(now)))
    found = re.search(r": in the next melt try Peat brown in the shell at about (\S+ %), not (\S+ %)\.$", told)
    assert found is not None, told
    (ended,) = (line for line in next_lines(session) if "try about" in line)
    assert f"Peat brown in the shell: {found[2]} (" in ended
    assert f"try about {found[1]}, a first step towards its " in ended


def test_two_loads_are_told_where_either_would_do() -> None:
    session, now = at_kind(StepKind.LOOK_AT_BAITS)
    session = session.after(
        VerdictGiven(at=at(now), round=session.step.round, subject=Subject.BAITS, verdict=Verdict.CORE_HIDDEN)
    )
    (told,) = verdict_lines(session, view(session, at(now)))
    assert re.search(
        r" at about \S+ %, not 0\.22 %, or Ember red in the core at about 1\.35 %, not 0\.9 %\.$", told
    )


def test_what_was_judged_otherwise_with_the_same_load_is_told_before_any_change() -> None:
    session, now = at_step("r2.look")
    for number, verdict in ((1, Verdict.RIGHT), (2, Verdict.CORE_STRONG)):
        session = session.after(VerdictGiven(at=at(now), round=number, subject=Subject.BAITS, verdict=verdict))
    (told,) = verdict_lines(session, view(session, at(now)))
    assert told == (
        "Core too strong: round 1 was right with the same load, so look at both before changing; else in the next "
        "melt try Ember red in the core at about 0.6 %, not 0.9 %."
    )


def test_while_nothing_happens_the_loads_are_reckoned_once(monkeypatch: pytest.MonkeyPatch) -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    session = session.after(
        VerdictGiven(at=at(now), round=session.step.round, subject=Subject.SHELLS, verdict=Verdict.TOO_DENSE)
    )
    looked: list[None] = []

    def counted(**asked: Any) -> Any:
        looked.append(None)
        return look_at(**asked)

    monkeypatch.setattr(next_loads, "look_at", counted)
    for tick in range(5):
        verdict_lines(session, view(session, at(now + tick)))
    assert len(looked) <= 1


@pytest.mark.parametrize(
    ("verdict", "advice", "sets"),
    [
        (Verdict.SOFT, "Soft or torn: leave it closed longer", "the next sets are made longer"),
        (Verdict.SOONER, "Could have opened sooner: open it sooner", "the next sets are made shorter"),
    ],
)
def test_a_refused_change_of_the_sets_is_not_promised(verdict: Verdict, advice: str, sets: str) -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    given = VerdictGiven(at=at(now), round=session.step.round, subject=Subject.SHELLS, verdict=verdict)
    session = session.after(given)
    assert verdict_lines(session, view(session, at(now))) == (f"{advice}; {sets}.",)
    refused = session.after(drive.refuse_or_restore(session, Corrected.SET_TIME, at(now)))
    assert refused.corrections.set_factor == 1.0
    (told,) = verdict_lines(refused, view(refused, at(now)))
    assert USUAL.words(told) == f"{advice}; sets stay as planned, L can change them."
    again = refused.after(drive.refuse_or_restore(refused, Corrected.SET_TIME, at(now)))
    assert verdict_lines(again, view(again, at(now))) == (f"{advice}; {sets}.",)
