"""Whether the air was cleared for as long as planned."""

from __future__ import annotations

import pytest

from bench.model.recipe import Build
from bench.model.step_kind import StepKind
from bench.session.aired import aired_short
from bench.session.events import SkipReason, StepSkipped
from bench.session.story import story
from tests.session.bench_sessions import Maker, maker


def at_the_air() -> Maker:
    hands = maker(Build.PLAIN, count=4, warm_up_shots=0)
    hands.press()
    while hands.session.step.kind is not StepKind.PURGE_AIR:
        hands.finish_step()
    return hands


def test_cleared_by_its_clock_it_was_as_planned() -> None:
    hands = at_the_air()
    hands.walk_to_the_end()
    assert aired_short(hands.session) is None


def test_ended_by_hand_it_is_told_how_long_it_was() -> None:
    hands = at_the_air()
    planned_s = hands.session.step.length_s
    hands.clock.advance(38)
    hands.press()
    hands.walk_to_the_end()
    short = aired_short(hands.session)
    assert short is not None
    assert short.cleared_s == pytest.approx(38)
    assert short.planned_s == planned_s
    words = f"the air was cleared for 38 s of {planned_s / 60:.0f} min"
    assert words in [each.words for each in story(hands.session.job, hands.events)]


def test_left_out_it_was_not_cleared_at_all() -> None:
    hands = at_the_air()
    hands.happen(StepSkipped(at=hands.now(), step=hands.session.step.id, reason=SkipReason.NO_TIME))
    short = aired_short(hands.session)
    assert short is not None
    assert short.cleared_s == 0
