"""Which shots share a heating."""

from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Build, Part
from bench.plan.cups import working_cups
from bench.plan.pours import groups, mould_of, round_run, warm_up_runs
from bench.plan.records import Shot
from bench.plan.rhythm import planned
from tests.plan.bench_records import PLASTIC, STATION, plan_of

WIDE = replace(PLASTIC, band_c=(150.0, 190.0), scorch_c=200.0)


def test_rounds_are_dealt_in_turn() -> None:
    assert [mould_of(number, 3) for number in range(1, 8)] == [1, 2, 3, 1, 2, 3, 1]


def test_shots_share_a_heating_only_while_their_pushes_fit_the_band() -> None:
    """Pushes of 12 and holds of about 18: with 46 s in band two shots fit, with over 150 four do."""
    for plastic, most in ((PLASTIC, 2), (WIDE, 4)):
        plan = plan_of(Build.CORE, count=40, plastic=plastic)
        cups = working_cups(plan, plastic=plastic, station=STATION)
        run = round_run(plan, Shot.CORE, moulds=4, push_s=12.0, rhythm=planned(plan))
        made = groups(run, cups, together=4)
        assert [pour for group in made for pour in group] == run
        assert max(len(group) for group in made) == most
        for group in made:
            assert len({pour.mould for pour in group}) == len(group)
            assert len({pour.melts for pour in group}) == 1
            lasts_s = cups[Part.CORE, group[0].melts[0].number].in_band_s
            pushes_s = sum(pour.length_s for pour in group) - group[-1].hold_s
            assert len(group) == 1 or pushes_s <= lasts_s


def test_no_more_share_than_are_asked_for_and_two_sides_share_with_nobody() -> None:
    plan = plan_of(Build.CORE, count=40, plastic=WIDE)
    cups = working_cups(plan, plastic=WIDE, station=STATION)
    run = round_run(plan, Shot.SHELL, moulds=4, push_s=12.0, rhythm=planned(plan))
    assert max(len(group) for group in groups(run, cups, together=2)) == 2
    sides = plan_of(Build.LAMINATE, count=40, plastic=WIDE)
    cups = working_cups(sides, plastic=WIDE, station=STATION)
    run = round_run(sides, Shot.WHOLE, moulds=4, push_s=12.0, rhythm=planned(sides))
    assert all(len(group) == 1 for group in groups(run, cups, together=4))


def test_every_mould_has_its_warm_up_shots() -> None:
    runs = warm_up_runs(plan_of(Build.CORE, warm_up_shots=2), moulds=3, push_s=12.0)
    assert [[(pour.number, pour.mould) for pour in run] for run in runs] == [
        [(1, 1), (1, 2), (1, 3)],
        [(2, 1), (2, 2), (2, 3)],
    ]
