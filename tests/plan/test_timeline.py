"""Timelines of whole jobs: limits of physics kept, nothing booked twice, and no time lost that need not be."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.physics.cup import Cup, seconds_until
from bench.plan.cups import HeatLengths, working_cups
from bench.plan.jobs import PlannedJob
from bench.plan.records import Plan, Shot
from bench.plan.rows import Row
from bench.plan.timeline import Timeline, make_timeline
from bench.plan.work import HANDS, HEATER, TaskKind, mould_resource
from tests.plan.bench_records import MOULD, PLASTIC, STATION, job_of, plan_of

NEAR = 1e-6
HEATINGS = (TaskKind.HEAT_ON, TaskKind.HEAT, TaskKind.FINISH_HEAT)
CASES = [(build, count) for build in Build for count in (5, 13, 40)]


@cache
def job(build: Build, count: int, moulds: int) -> PlannedJob:
    return job_of(build, count=count, tail=Tail.CUT if build.has_core else Tail.KEPT, moulds=moulds)


def timeline(build: Build, count: int, moulds: int) -> Timeline:
    return job(build, count, moulds).timeline


def by_id(made: Timeline) -> Mapping[str, Row]:
    rows = {row.id: row for row in made.rows}
    assert len(rows) == len(made.rows)
    return rows


def rounds_alone_s(plan: Plan) -> float:
    """The plan's total without opening (600 and the warm plate) and closing (fan, 600, 6 for each bait)."""
    baits = plan.rounds * plan.cavities
    return plan.total_s - 600.0 - plan.warm_mould_s - plan.purge_s - 600.0 - 6.0 * baits


@pytest.mark.parametrize(("build", "count"), CASES)
@pytest.mark.parametrize("moulds", [1, 2, 4])
def test_nothing_is_booked_twice(build: Build, count: int, moulds: int) -> None:
    made = timeline(build, count, moulds)
    for resource in (HANDS, HEATER, *(mould_resource(each) for each in range(1, moulds + 1))):
        for before, after in pairwise(sorted(made.of(resource), key=lambda row: (row.start_s, row.end_s))):
            assert before.end_s <= after.start_s + NEAR, (before.id, after.id)


@pytest.mark.parametrize(("build", "count"), CASES)
@pytest.mark.parametrize("moulds", [1, 2, 4])
def test_every_round_has_its_shots_once_in_its_own_mould(build: Build, count: int, moulds: int) -> None:
    plan, made = job(build, count, moulds).plan, timeline(build, count, moulds)
    shots = [(row.round, row.shot, row.mould) for row in made.rows if row.kind is TaskKind.SHOT]
    wanted = [
        (each.round, shot.shot, (each.round - 1) % made.mould_count + 1)
        for each in plan.rounds_table
        for shot in each.shots
    ]
    assert sorted(shots, key=str) == sorted(wanted, key=str)
    warm_ups = [row.mould for row in made.rows if row.kind is TaskKind.WARM_UP_SHOT]
    assert sorted(warm_ups) == list(range(1, made.mould_count + 1))


def cup_seconds(plan: Plan, part: Part, melt_number: int) -> float:
    """From the middle to the low end of the band of a cup filled as it is on average: what has been shot by the
    middle one of its rounds is gone, and in the first melt a warm-up shot a mould, shared as the rounds share."""
    own = plan.part(part)
    melt = own.melts[melt_number - 1]
    gone_ml = own.per_round_ml * (melt.last_round - melt.first_round) / 2
    if melt_number == 1 and part is not Part.CORE:
        together = [plan.part(each) for each in plan.rounds_table[0].shots[0].parts]
        share = own.per_round_ml / sum(each.per_round_ml for each in together)
        gone_ml += plan.moulds * share * (plan.cavities * plan.volumes.bait_ml + plan.volumes.runner_ml)
    left_g = melt.mass_g * (1 - gone_ml / melt.volume_ml)
    height_mm = (melt.volume_ml - gone_ml) * 1000 / (3.14159265 / 4 * 80.0**2)
    cup = Cup(
        mass_g=left_g,
        c_j_kgk=1800.0,
        diameter_mm=80.0,
        height_mm=height_mm,
        vessel_mass_g=180.0,
        vessel_c_j_kgk=830.0,
    )
    return seconds_until(cup, start_c=170.0, until_c=165.0, room_c=20.0)


@pytest.mark.parametrize(("build", "count"), CASES)
@pytest.mark.parametrize("moulds", [1, 2, 4])
def test_every_push_ends_while_its_cups_are_in_band(build: Build, count: int, moulds: int) -> None:
    plan, made = job(build, count, moulds).plan, timeline(build, count, moulds)
    first = plan.rounds_table[0].shots[0]
    for row in made.rows:
        if row.kind not in (TaskKind.SHOT, TaskKind.WARM_UP_SHOT):
            continue
        shot = plan.rounds_table[row.round - 1].shot(row.shot) if row.round and row.shot else first
        for part in shot.parts:
            heats = [each for each in made.rows if each.kind is TaskKind.FINISH_HEAT and each.part is part]
            last = max((each for each in heats if each.end_s <= row.start_s + NEAR), key=lambda each: each.end_s)
            assert last.melt == plan.melt(part, max(row.round, 1)).number
            assert row.end_s - last.end_s <= cup_seconds(plan, part, last.melt) + 1e-3, (row.id, last.id)


@pytest.mark.parametrize("moulds", [1, 2, 4])
@pytest.mark.parametrize("build", [Build.CORE, Build.LAMINATE_CORE])
def test_a_cup_is_heated_for_as_long_as_it_stood_in_that_very_timeline(build: Build, moulds: int) -> None:
    """Lengths and orders that chase one another for ever would leave heatings wrong by 20 s and more."""
    plan, rows = job(build, 40, moulds).plan, by_id(timeline(build, 40, moulds))
    cups = working_cups(plan, plastic=PLASTIC, station=STATION)
    hot_since: dict[tuple[Part, int], float] = {}
    for row in (each for each in rows.values() if each.kind is TaskKind.FINISH_HEAT):
        assert row.part is not None
        cup, stem = (row.part, row.melt), row.id.removesuffix(".finish")
        first, waits_s, alone_s = row, 0.0, 0.0
        if f"{stem}.on" in rows:
            first, burst = rows[f"{stem}.on"], rows[stem]
            waits_s, alone_s = row.start_s - burst.end_s, burst.end_s - burst.start_s
        if cup in hot_since:
            sort = HeatLengths(alone_s=alone_s, finish_s=0.0)
            lasts = cups[cup].again(first.start_s - hot_since[cup], waits_s=waits_s, before=sort)
            assert alone_s + row.end_s - row.start_s == pytest.approx(lasts.total_s, abs=5.0), row.id
        hot_since[cup] = row.end_s


@pytest.mark.parametrize("moulds", [1, 2, 4])
@pytest.mark.parametrize("build", [build for build in Build if build.has_core])
def test_cores_come_while_shells_are_warm_and_after_their_colour_is_settled(build: Build, moulds: int) -> None:
    plan, made = job(build, 40, moulds).plan, timeline(build, 40, moulds)
    rows = by_id(made)
    for number in range(1, plan.rounds + 1):
        core, opened = rows[f"r{number}.core.shot"], rows[f"r{number}.shell.open"]
        assert core.start_s >= rows[f"r{number}.shells-back"].end_s - NEAR
        assert core.start_s - opened.start_s <= STATION.shell_out_s + NEAR
    for melt in plan.part(Part.CORE).melts:
        first = min(
            row.start_s
            for row in made.rows
            if row.kind in HEATINGS and row.part is Part.CORE and row.melt == melt.number
        )
        assert first >= rows[f"r{melt.first_round}.trim"].end_s - NEAR
        assert first >= rows[f"r{melt.first_round}.look-at-shells"].end_s - NEAR


ROUNDS_ALONE = {1: 1, 2: 1, 4: 1, 5: 2, 7: 2, 8: 2, 9: 3, 12: 3, 13: 4, 15: 4, 16: 4, 17: 5, 20: 6, 29: 8, 40: 11}
"""Rounds by count: four cavities, and 5 % of spares where a round is begun for them."""


@pytest.mark.parametrize("build", list(Build))
@pytest.mark.parametrize("count", ROUNDS_ALONE)
def test_one_mould_is_no_slower_than_one_thing_after_another(build: Build, count: int) -> None:
    """A plan's own sequence neither weighs cups nor puts them on the heat. A cup that stands meanwhile loses 20 to
    30 W of the 400 W that heat it: less than a tenth of that time brings it back."""
    plan = plan_of(build, count=count, tail=Tail.CUT if build.has_core else Tail.KEPT)
    assert plan.rounds == ROUNDS_ALONE[count]
    made = timeline(build, count, 1)
    beyond = (TaskKind.WEIGH, TaskKind.HEAT_ON)
    beyond_s = sum(row.end_s - row.start_s for row in made.rows if row.kind in beyond)
    most_s = rounds_alone_s(plan) + 1.1 * beyond_s
    assert made.makespan_s <= most_s
    assert max(row.end_s for row in made.rows) <= most_s


@pytest.mark.parametrize(("build", "count"), CASES)
def test_another_mould_never_costs_time(build: Build, count: int) -> None:
    spans = [timeline(build, count, moulds).makespan_s for moulds in (1, 2, 3, 4)]
    assert spans == sorted(spans, reverse=True)


def test_another_mould_gains_most_where_the_mould_must_rest() -> None:
    """Plain baits leave the mould hot and the hands idle: two moulds take about half the time of one."""

    gain_s = job(Build.PLAIN, 40, 1).gain_s
    assert gain_s is not None
    one_s, two_s = (timeline(Build.PLAIN, 40, moulds).makespan_s for moulds in (1, 2))
    assert gain_s == pytest.approx(one_s - two_s)
    assert 0.4 * one_s < gain_s < 0.55 * one_s
    assert job(Build.PLAIN, 3, 1).gain_s == 0.0
    assert job(Build.PLAIN, 40, 4).gain_s is None


@pytest.mark.parametrize("build", [build for build in Build if build.has_core])
def test_with_three_moulds_core_work_is_little_more_than_the_work_of_the_hands(build: Build) -> None:
    """No order is shorter than what the hands have to do, and before the first shot a cup must be heated."""
    made = timeline(build, 40, 3)
    heated_s = min(row.end_s for row in made.rows if row.kind is TaskKind.FINISH_HEAT)
    assert made.makespan_s <= 1.1 * (made.hands_busy_s + heated_s)


@pytest.mark.parametrize(("build", "count"), CASES)
@pytest.mark.parametrize("moulds", [1, 2, 4])
def test_no_mould_is_shot_above_its_window(build: Build, count: int, moulds: int) -> None:
    """Lengths are corrected a few times, not for ever: a degree is left."""
    shots_c = [row.mould_c for row in timeline(build, count, moulds).rows if row.kind is TaskKind.SHOT]
    assert max(each for each in shots_c if each is not None) <= 50.0 + 1.0
    assert None not in shots_c


@pytest.mark.parametrize("moulds", [1, 2, 4])
def test_what_hands_do_and_wait_makes_up_the_makespan(moulds: int) -> None:
    made = timeline(Build.CORE, 40, moulds)
    assert made.hands_busy_s + made.waiting_s == pytest.approx(made.makespan_s)
    assert made.makespan_s == max(row.end_s for row in made.rows if row.kind is TaskKind.OPEN)
    work_s = sum(row.end_s - row.start_s for row in made.by_hand if row.start_s < made.makespan_s)
    assert made.hands_busy_s == pytest.approx(work_s)
    assert [row.start_s for row in made.by_hand] == sorted(row.start_s for row in made.by_hand)


def test_the_hold_follows_its_push_and_the_set_its_hold() -> None:
    rows = by_id(timeline(Build.CORE, 40, 2))
    for shot in (Shot.SHELL, Shot.CORE):
        push, hold, setting = (rows[f"r3.{shot}.{what}"] for what in ("shot", "hold", "set"))
        assert push.end_s - push.start_s == pytest.approx(STATION.pace.shot_s)
        assert hold.start_s == push.end_s
        assert setting.start_s == pytest.approx(hold.end_s)
        assert rows[f"r3.{shot}.open"].start_s >= setting.end_s - NEAR


def test_a_wide_band_lets_several_moulds_share_a_heating() -> None:
    wide = replace(PLASTIC, band_c=(150.0, 190.0), scorch_c=200.0)
    wide_job = job_of(Build.CORE, count=40, plastic=wide, moulds=4)
    plan, shared = wide_job.plan, wide_job.timeline
    heats = [row for row in shared.rows if row.kind is TaskKind.FINISH_HEAT and row.part is Part.CORE]
    assert len(heats) <= plan.rounds
    narrow = timeline(Build.CORE, 40, 4)
    assert shared.makespan_s <= narrow.makespan_s
    assert len([row for row in shared.rows if row.kind is TaskKind.SHOT]) == 2 * plan.rounds


@pytest.mark.parametrize(("count", "moulds"), [(40, 1), (320, 1), (40, 4), (160, 4)])
def test_work_grows_no_faster_than_the_tasks(count: int, moulds: int) -> None:
    """Its square would be eight times as much for each task of the longest of these jobs as of the shortest."""
    made = timeline(Build.CORE, count, moulds)
    assert made.steps <= 250 * len(made.rows)


def test_where_no_order_keeps_a_limit_there_is_still_one_to_follow_and_it_says_so() -> None:
    """A push of 60 s and about 46 s in band: every push comes about 14 s too late, and nothing is better than
    pushing as soon as the cup is finished."""
    slow = replace(STATION, pace=replace(STATION.pace, shot_s=60.0))
    plan = plan_of(Build.PLAIN, count=12, station=slow)
    made = make_timeline(plan, mould=MOULD, plastic=PLASTIC, station=slow)
    assert re.match(r"(The shot of round \d|Warm-up shot 1 into mould 1) comes 1\d s too late after", made.broken)
    assert made.broken.endswith(".")
    assert "heating the body cup" in made.broken
    shots = [row for row in made.rows if row.kind is TaskKind.SHOT]
    assert len(shots) == plan.rounds
    for shot in shots:
        finish = max(
            (row for row in made.rows if row.kind is TaskKind.FINISH_HEAT and row.end_s <= shot.start_s + NEAR),
            key=lambda row: row.end_s,
        )
        assert shot.start_s == pytest.approx(finish.end_s)


def test_where_every_limit_is_kept_there_is_nothing_to_say() -> None:
    for build, count in CASES:
        assert timeline(build, count, 4).broken == ""


def test_shells_that_would_lie_out_too_long_at_this_pace_are_told_too() -> None:
    impatient = replace(STATION, shell_out_s=60.0)
    made = make_timeline(
        plan_of(Build.CORE, count=8, station=impatient), mould=MOULD, plastic=PLASTIC, station=impatient
    )
    assert re.match(
        r"The core shot of round \d comes \d+ s too late after opening the mould after the shell", made.broken
    )
