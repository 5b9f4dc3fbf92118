"""Topping off while the gate is open."""

from __future__ import annotations

import math

import pytest

from bench.model.recipe import Build
from bench.session.feed import TopOffView
from bench.session.view import view
from tests.session.bench_sessions import Maker, maker


def holding() -> Maker:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.hold")
    return hands


def top_off(hands: Maker) -> TopOffView:
    seen = view(hands.session, hands.now()).top_off
    assert seen is not None
    return seen


def test_first_at_two_fifths_of_the_hold_then_near_its_end() -> None:
    hands = holding()
    hold_s = hands.session.step.length_s
    first = top_off(hands)
    assert first.next_in_s == pytest.approx(0.4 * hold_s)
    assert first.left_s == pytest.approx(hold_s)
    hands.clock.advance(0.45 * hold_s)
    assert top_off(hands).next_in_s == 0
    assert top_off(hands).volume_ml == first.volume_ml
    hands.clock.advance(0.25 * hold_s)
    last = top_off(hands)
    assert last.next_in_s == pytest.approx(0.15 * hold_s)
    hands.clock.advance(0.2 * hold_s)
    assert top_off(hands).next_in_s == 0


def test_both_together_are_what_the_plan_feeds() -> None:
    hands = holding()
    first = top_off(hands)
    hands.clock.advance(0.7 * hands.session.step.length_s)
    last = top_off(hands)
    planned_ml = hands.session.job.plan.rounds_table[0].shots[0].top_off_ml
    assert first.volume_ml + last.volume_ml == pytest.approx(planned_ml)
    assert first.volume_ml == pytest.approx(planned_ml * math.sqrt(0.4)), "by the square root of time"


def test_what_is_fed_and_what_dents_are_the_whole_shrink() -> None:
    """From 170 to the room at 20 degC by 6e-4 /K: 9 %; common practice, no source, says 7 to 10 %."""
    hands = holding()
    plan = hands.session.job.plan
    shot = plan.rounds_table[0].shots[0]
    fed_pct = 100 * shot.top_off_ml / (shot.volume_ml - plan.volumes.runner_ml)
    assert fed_pct + top_off(hands).dent_pct == pytest.approx(100 * 6e-4 * 150)


def test_only_the_hold_has_an_open_gate() -> None:
    hands = maker(Build.CORE)
    hands.press()
    shown = set()
    while hands.session.next_step is not None:
        if view(hands.session, hands.now()).top_off is not None:
            shown.add(hands.session.step.id.split(".")[-1])
        hands.finish_step()
    assert shown == {"hold"}
