"""A plan and its timeline agree: on moulds, on what they need, and on how long everything takes."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from bench.errors import BenchError
from bench.model.recipe import Build, Part, Tail
from bench.plan import jobs, make
from bench.plan.records import Plan
from bench.plan.schedule import NoOrder
from bench.plan.scope import Scope
from bench.plan.timeline import Draft, Timeline, TimelineMaker
from bench.plan.work import TaskKind
from tests.plan.bench_records import MOULD, STATION, job_of, plan_of

WHOLE_ML = 4 * 80.0 * 3.14159265 / 4 * 10.0**2 / 1000
"""Four bodies, tails left out: a warm-up shot is a little more."""


@pytest.mark.parametrize("build", list(Build))
@pytest.mark.parametrize("moulds", [1, 2, 4])
def test_plan_and_timeline_use_the_same_moulds(build: Build, moulds: int) -> None:
    job = job_of(build, count=40, moulds=moulds)
    assert job.plan.moulds == job.timeline.mould_count <= moulds
    warm_ups = [row for row in job.timeline.rows if row.kind is TaskKind.WARM_UP_SHOT]
    assert len(warm_ups) == job.plan.moulds * job.plan.warm_up_shots
    assert {row.mould for row in job.timeline.rows if row.kind is TaskKind.SHOT} == set(
        range(1, job.plan.moulds + 1)
    )


def test_every_mould_has_plastic_for_its_own_warm_up_shots() -> None:
    """A mould more is a warm-up shot more, with the recipe's 5 % of margin."""
    one, three = (plan_of(Build.PLAIN, count=40, moulds=moulds) for moulds in (1, 3))
    whole_ml = 4 * one.volumes.bait_ml + one.volumes.runner_ml
    assert whole_ml > WHOLE_ML
    more_ml = three.part(Part.BODY).total_ml - one.part(Part.BODY).total_ml
    cups = len(three.part(Part.BODY).melts) - len(one.part(Part.BODY).melts)
    assert more_ml == pytest.approx(2 * whole_ml * 1.05 + cups * 14.0)


@pytest.mark.parametrize("build", list(Build))
def test_the_total_is_opening_timeline_and_closing(build: Build) -> None:
    """600 s to ready, the plate, the rows, the fan, 600 s to clean, 6 s to lay out each bait."""
    job = job_of(build, count=24, tail=Tail.CUT if build.has_core else Tail.KEPT, moulds=2)
    plan = job.plan
    last_s = max(row.end_s for row in job.timeline.rows)
    around_s = 600.0 + plan.warm_mould_s + plan.purge_s + 600.0 + 6.0 * 4 * plan.rounds
    assert plan.total_s == pytest.approx(last_s + around_s)


@pytest.mark.parametrize("build", list(Build))
def test_the_rounds_are_as_the_timeline_has_them(build: Build) -> None:
    job = job_of(build, count=24, moulds=2)
    rows = {row.id: row for row in job.timeline.rows}
    for each in job.plan.rounds_table:
        for shot in each.shots:
            stem = f"r{each.round}.{shot.shot}"
            push, setting = rows[f"{stem}.shot"], rows[f"{stem}.set"]
            assert shot.mould_c == push.mould_c
            assert shot.hold_s == pytest.approx(rows[f"{stem}.hold"].end_s - push.end_s)
            assert shot.set_s == pytest.approx(setting.end_s - push.end_s)


def test_the_rests_that_are_warned_of_are_those_of_the_table() -> None:
    job = job_of(Build.PLAIN, count=40)
    rests = [each.rest_s for each in job.plan.rounds_table if each.rest_s > 0]
    (told,) = (warning for warning in job.plan.warnings if "rests before" in warning)
    assert f"{len(rests)} of 11 rounds, for {max(rests) / 60:.0f} min at most, {sum(rests) / 60:.0f} min" in told


@pytest.mark.parametrize(("build", "moulds"), [(Build.LAMINATE_CORE, 3), (Build.CORE, 2), (Build.PLAIN, 1)])
def test_a_mould_is_said_to_be_cold_where_the_table_has_it_cold(build: Build, moulds: int) -> None:
    plan = job_of(build, count=60, moulds=moulds).plan
    coldest_c = min(shot.mould_c for each in plan.rounds_table for shot in each.shots)
    told = [warning for warning in plan.warnings if "falls to" in warning]
    mould = "A mould" if plan.moulds > 1 else "The mould"
    assert bool(told) is (coldest_c < 39.5)
    assert not told or told[0].startswith(f"{mould} falls to {coldest_c:.0f} °C")


@pytest.mark.parametrize("build", list(Build))
@pytest.mark.parametrize("count", [4, 8, 12, 20, 40, 76])
def test_no_timeline_with_one_mould_is_shorter_than_what_that_mould_needs_alone(build: Build, count: int) -> None:
    tail = Tail.CUT if build.has_core else Tail.KEPT
    one_s = job_of(build, count=count, tail=tail).timeline.makespan_s
    alone_s, of_two_s = (
        jobs.one_mould_s(plan_of(build, count=count, tail=tail, moulds=moulds), MOULD, STATION)
        for moulds in (1, 2)
    )
    assert 0.2 * one_s < alone_s <= one_s
    assert of_two_s < jobs.SURELY * alone_s


@pytest.mark.parametrize("build", list(Build))
def test_one_mould_is_not_tried_where_two_are_sooner_done_than_it_could_be(
    build: Build, monkeypatch: pytest.MonkeyPatch
) -> None:
    tail = Tail.CUT if build.has_core else Tail.KEPT
    tried: list[int] = []
    reckon = make.reckon_plan

    def counted(scope: Scope, **given: Any) -> Plan:
        tried.append(scope.moulds)
        return reckon(scope, **given)

    monkeypatch.setattr("bench.plan.jobs.reckon_plan", counted)
    leapt = job_of(build, count=76, tail=tail, moulds=4)
    assert 1 not in tried
    monkeypatch.setattr(jobs, "one_mould_s", lambda *_: 0.0)
    walked = job_of(build, count=76, tail=tail, moulds=4)
    assert 1 in tried
    assert (leapt.plan, leapt.timeline) == (walked.plan, walked.timeline)


def test_fewer_moulds_than_asked_for_are_used_where_more_gain_nothing() -> None:
    job = job_of(Build.PLAIN, count=3, moulds=4)
    assert job.plan.rounds == 1
    assert job.plan.moulds == 1
    assert job.gain_s is None
    assert job.fewer == "1 of 4 moulds is used: there is one round only."
    assert job.fewer in job.plan.warnings
    two = job_of(Build.PLAIN, count=7, moulds=4)
    assert (two.plan.moulds, two.fewer) == (2, "2 of 4 moulds are used: there are 2 rounds only.")
    all_used = job_of(Build.PLAIN, count=40, moulds=4)
    assert all_used.fewer == ""
    assert "" not in all_used.plan.warnings


def test_fewer_moulds_are_said_to_be_used_as_more_gain_nothing() -> None:
    job = job_of(Build.LAMINATE, count=40, moulds=4)
    assert job.plan.moulds == 3
    assert job.fewer == "3 of 4 moulds are used: with more the last bait would be out hardly any sooner."


def test_fewer_moulds_are_said_to_be_used_where_more_have_no_order(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where a search ends in a corner with three and with four moulds."""
    draft = TimelineMaker.draft

    def cornered(maker: TimelineMaker, *, loosened: bool = True) -> Draft:
        found = draft(maker, loosened=loosened)
        if len(found.beats) > 2:
            raise NoOrder("none")
        return found

    monkeypatch.setattr(TimelineMaker, "draft", cornered)
    job = job_of(Build.PLAIN, count=40, moulds=4)
    assert job.plan.moulds == 2
    assert job.fewer == "2 of 4 moulds are used: with more no order of the work was found that keeps every limit."


def test_only_what_comes_near_the_shortest_is_searched_for_and_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """One to four moulds, each a good deal faster than one fewer: no search for the first three."""
    bettered, looks = TimelineMaker.bettered, []
    searched = []

    def counted(maker: TimelineMaker, found: Draft) -> Timeline:
        searched.append(len(found.beats))
        return bettered(maker, found)

    def looked(plan: Plan, **about: Any) -> tuple[str, ...]:
        looks.append(plan.moulds)
        return ("glints",)

    monkeypatch.setattr(TimelineMaker, "bettered", counted)
    monkeypatch.setattr(jobs, "look_warnings_of", looked)
    job = job_of(Build.PLAIN, count=40, moulds=4)
    assert (searched, looks) == ([4], [4])
    assert "glints" in job.plan.warnings


@pytest.mark.parametrize("build", list(Build))
@pytest.mark.parametrize("count", [8, 20, 40])
def test_what_another_mould_gains_is_what_a_job_with_it_is_shorter_by(build: Build, count: int) -> None:
    tail = Tail.CUT if build.has_core else Tail.KEPT
    found = [job_of(build, count=count, tail=tail, moulds=moulds) for moulds in (1, 2, 3, 4)]
    for fewer, more in pairwise(found):
        assert fewer.gain_s == max(0.0, fewer.timeline.makespan_s - more.timeline.makespan_s)


def test_what_another_mould_gains_does_not_depend_on_what_was_bettered_before(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A search that betters two moulds by far more than the third could gain must not keep the third from being
    bettered too, as it is where three are asked for."""
    bettered = TimelineMaker.bettered

    def by_far(maker: TimelineMaker, found: Draft) -> Timeline:
        made = bettered(maker, found)
        return replace(made, makespan_s=0.7 * made.makespan_s)

    monkeypatch.setattr(TimelineMaker, "bettered", by_far)
    two, three = (job_of(Build.LAMINATE, count=40, moulds=moulds) for moulds in (2, 3))
    assert (two.plan.moulds, three.plan.moulds) == (2, 3)
    assert two.gain_s == two.timeline.makespan_s - three.timeline.makespan_s > 0


def test_moulds_whose_warm_up_shots_no_cup_holds_are_left_out() -> None:
    many = replace(STATION, warm_up_shots=3)
    with pytest.raises(BenchError, match="warm-up shots"):
        plan_of(Build.PLAIN, count=40, station=many, moulds=4)
    job = job_of(Build.PLAIN, count=40, station=many, moulds=4)
    assert 1 <= job.plan.moulds < 4
    assert "the warm-up shots and one round" in job.fewer


def test_what_is_not_kept_is_among_the_warnings() -> None:
    slow = replace(STATION, pace=replace(STATION.pace, shot_s=60.0))
    job = job_of(Build.PLAIN, count=12, station=slow)
    assert job.timeline.broken in job.plan.warnings
    assert job_of(Build.PLAIN, count=12).timeline.broken == ""


@pytest.mark.parametrize("moulds", [0, 5])
def test_a_number_of_moulds_that_no_bench_has_is_refused(moulds: int) -> None:
    with pytest.raises(BenchError, match="1 to 4"):
        job_of(Build.PLAIN, count=4, moulds=moulds)
