"""Heat spent through the heats, the standing and the reheats of a whole session."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Part
from bench.session.session import Session
from bench.session.spent import parts_spent, pct_of
from bench.session.summary import summarise
from bench.session.view import view
from bench.session.warned import WarningKind
from tests.session.bench_sessions import Maker, job, maker


def spent(hands: Maker) -> float:
    return view(hands.session, hands.now()).cups[0].spent_pct


def test_it_only_ever_grows_while_a_melt_lasts() -> None:
    hands = maker(Build.PLAIN, count=8)
    hands.walk_to("m1.warm-up1.heat.body")
    before = spent(hands)
    assert before == pytest.approx(0.0, abs=1e-3)
    while hands.session.step.id != "heat-off":
        hands.finish_step()
        assert spent(hands) >= before
        before = spent(hands)
    assert before > 3.0


def test_reheats_count_on_where_the_last_heat_ended() -> None:
    hands = maker(Build.PLAIN, count=8)
    hands.walk_to("r2.heat.body")
    at_first = spent(hands)
    hands.walk_to("r3.heat.body")
    assert spent(hands) > at_first + 0.5


def test_a_fresh_melt_begins_at_nothing_and_the_worst_is_remembered() -> None:
    hands = maker(Build.PLAIN, count=40)
    second = hands.session.job.plan.part(Part.BODY).melts[1]
    hands.walk_to(f"r{second.first_round}.heat.body")
    assert spent(hands) == pytest.approx(0.0, abs=0.1)  # it may have had its first burst by now
    (part,) = parts_spent(hands.session)
    assert part.part is Part.BODY
    assert part.share_pct > 3.0


def test_a_hold_keeps_no_cup_from_being_spent() -> None:
    hands = maker(Build.PLAIN, count=8, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    before = spent(hands)
    hands.clock.advance(120)
    assert spent(hands) > before + 1.0


def test_it_warns_at_80_and_at_100_percent_and_stops_nothing() -> None:
    hands = Maker(
        session=Session(
            job=replace(
                job(Build.PLAIN, count=40), plastic=replace(job(Build.PLAIN).plastic, heat_limit_s=20 * 60.0)
            )
        )
    )
    kinds: list[WarningKind] = []
    hands.press()
    while not hands.session.state.over:
        kinds += [each.kind for each in view(hands.session, hands.now()).warnings]
        hands.finish_step()
    assert WarningKind.HEAT_NEARLY_SPENT in kinds
    assert kinds.index(WarningKind.HEAT_NEARLY_SPENT) < kinds.index(WarningKind.HEAT_SPENT)
    (part,) = summarise(hands.session).spent
    assert part.share_pct > 100


def test_240_minutes_at_160_are_all_that_plastic_stands() -> None:
    assert pct_of(job(Build.PLAIN), 240.0) == 100.0
