"""Handwork is written once for all drafts, so it must not depend on what differs between them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Tail
from bench.plan.cups import working_cups
from bench.plan.handwork import Handwork
from bench.plan.records import Plan, Shot
from bench.plan.rhythm import Rhythm, planned
from bench.plan.tasks import Bench, works_of
from tests.plan.bench_records import MOULD, PLASTIC, STATION, plan_of


def bench_of(plan: Plan) -> Bench:
    return Bench(
        plan=plan,
        mould=MOULD,
        station=STATION,
        cups=working_cups(plan, plastic=PLASTIC, station=STATION),
        handwork=Handwork(plan, mould=MOULD, station=STATION),
    )


def slower(rhythm: Rhythm) -> Rhythm:
    """Every shot holds and sets for twice as long, and its mould cools for a minute."""
    return replace(
        rhythm,
        settings={
            key: replace(each, hold_s=2 * each.hold_s, set_s=2 * each.set_s)
            for key, each in rhythm.settings.items()
        },
        cooling_s=dict.fromkeys(rhythm.settings, 60.0),
    )


@pytest.mark.parametrize("build", list(Build))
@pytest.mark.parametrize("moulds", [1, 2, 4])
def test_works_are_the_same_whatever_was_written_before(build: Build, moulds: int) -> None:
    plan = plan_of(build, count=40, tail=Tail.CUT if build.has_core else Tail.KEPT, moulds=moulds)
    used, rhythm = bench_of(plan), planned(plan)
    others = [works_of(used, together=together, rhythm=slower(rhythm)) for together in (1, 2)]
    again = works_of(used, together=1, rhythm=rhythm)
    assert again == works_of(bench_of(plan), together=1, rhythm=rhythm)
    assert again != others[0]


@pytest.mark.parametrize("build", list(Build))
def test_every_round_is_shot_from_the_melt_that_serves_it(build: Build) -> None:
    """Looked up at once, and one after another."""
    plan = plan_of(build, count=160)
    for part in plan.parts:
        numbers = range(1, plan.rounds + 1)
        assert len(part.melts) > 1
        assert dict(part.melt_by_round) == {number: plan.melt(part.part, number) for number in numbers}


def test_a_mould_is_opened_for_what_was_shot_into_it() -> None:
    works = works_of(bench := bench_of(plan_of(Build.CORE, count=8)), together=1, rhythm=planned(bench.plan))
    opened = [(work.round, work.shot) for work in works if work.kind == "open" and work.round > 0]
    rounds = range(1, bench.plan.rounds + 1)
    assert sorted(opened) == sorted((number, shot) for number in rounds for shot in (Shot.SHELL, Shot.CORE))
