"""The order in which cups are heated, and what standing costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.model.station import Station
from bench.plan.amounts import PartAmount
from bench.plan.heats import Heats
from bench.plan.melts import reheat_s
from bench.plan.records import Ask, Melt
from bench.plan.scope import settle
from tests.plan.bench_records import MOULD, PLASTIC, STATION, plan_of, recipe

SCOPE = settle(
    recipe=recipe(Build.LAMINATE), mould=MOULD, plastic=PLASTIC, station=STATION, ask=Ask(count=40, spares_pct=0)
)


def melt(part: Part, *, number: int = 1, first_round: int, last_round: int) -> Melt:
    return Melt(
        part=part,
        number=number,
        volume_ml=100.0,
        mass_g=95.0,
        base_g=95.0,
        doses=(),
        first_round=first_round,
        last_round=last_round,
        heat_s=150.0 + number,
        reheat_s=30.0 + number,
    )


def amount(part: Part) -> PartAmount:
    return PartAmount(part=part, per_round_ml=15.0, warm_up_ml=0.0, residue_ml=10.0, margin=0.05, trimmed_ml=0.0)


def heats(melts: Sequence[Melt], *, station: Station = STATION) -> Heats:
    scope = replace(SCOPE, station=station)
    return Heats(scope, [amount(part) for part in {melt.part: None for melt in melts}], melts)


def test_a_melt_is_heated_from_cold_once() -> None:
    own = heats([melt(Part.SIDE_A, number=2, first_round=4, last_round=6)])
    (cold,), (warm,) = own.of_round([Part.SIDE_A], 4), own.of_round([Part.SIDE_A], 5)
    assert (cold.part, cold.melt, cold.from_cold, cold.heat_s) == (Part.SIDE_A, 2, True, 152.0)
    assert (warm.part, warm.melt, warm.from_cold, warm.heat_s) == (Part.SIDE_A, 2, False, 32.0)


def test_side_a_is_brought_back_once_side_b_is_hot() -> None:
    """It has stood for as long as side B was heated, which is not a whole round."""
    side_a = melt(Part.SIDE_A, first_round=1, last_round=9)
    side_b = melt(Part.SIDE_B, number=2, first_round=5, last_round=9)
    first, second, again, *_ = heats([side_a, side_b]).of_round([Part.SIDE_A, Part.SIDE_B], 5)
    assert (first.part, first.from_cold, first.heat_s) == (Part.SIDE_A, False, 31.0)
    assert (second.part, second.from_cold, second.heat_s) == (Part.SIDE_B, True, 152.0)
    assert again.part is Part.SIDE_A
    assert again.heat_s == pytest.approx(reheat_s(SCOPE, amount(Part.SIDE_A), side_a, stood_s=second.total_s))


def test_side_b_is_brought_back_too_where_side_a_takes_longer_than_it_stays_in_band() -> None:
    """B stays in band for some 40 s: no longer than one stir of the slow hands after A's last burst."""
    slow = replace(STATION, pace=replace(STATION.pace, stir_s=60.0))
    side_a = melt(Part.SIDE_A, first_round=1, last_round=9)
    side_b = melt(Part.SIDE_B, first_round=1, last_round=9)
    quick, slowly = (
        heats([side_a, side_b], station=station).of_round([Part.SIDE_A, Part.SIDE_B], 2)
        for station in (STATION, slow)
    )
    assert [each.part for each in quick] == [Part.SIDE_A, Part.SIDE_B, Part.SIDE_A]
    assert [each.part for each in slowly] == [Part.SIDE_A, Part.SIDE_B, Part.SIDE_A, Part.SIDE_B]


@pytest.mark.parametrize("build", list(Build))
def test_no_heating_is_one_long_burst(build: Build) -> None:
    """First 60 % of the rise, 30 s at most in between, the last ten degrees in 10 s at most: common practice, no
    source. Every burst is followed by a stir and a reading."""
    plan = plan_of(build, count=40)
    shots = [shot for each in plan.rounds_table for shot in each.shots]
    for heating in (*plan.warm_up_heats, *(each for shot in shots for each in shot.heats)):
        assert sum(heating.bursts_s) == pytest.approx(heating.heat_s)
        assert heating.total_s == pytest.approx(heating.heat_s + 12.0 * len(heating.bursts_s))
        assert all(burst_s <= 30.0 for burst_s in heating.bursts_s[1:])
        assert heating.bursts_s[-1] <= 10.0
        if heating.from_cold:
            assert heating.bursts_s[0] == pytest.approx(0.6 * heating.heat_s)


def test_cups_that_gave_the_warm_up_shots_are_reheated_for_as_long_as_they_stood() -> None:
    side_a = melt(Part.SIDE_A, first_round=1, last_round=9)
    (own,) = heats([side_a]).after_warm_up([Part.SIDE_A], stood_s=180.0)
    assert not own.from_cold
    assert own.heat_s == pytest.approx(reheat_s(SCOPE, amount(Part.SIDE_A), side_a, stood_s=180.0))


def test_each_of_two_cups_has_also_stood_while_the_other_was_heated() -> None:
    """Side A while side B was brought back for the warm-up shots, side B while side A is heated anew."""
    side_a = melt(Part.SIDE_A, first_round=1, last_round=9)
    side_b = melt(Part.SIDE_B, first_round=1, last_round=9)
    own = heats([side_a, side_b])
    *_, again_a, again_b = own.of_round([Part.SIDE_A, Part.SIDE_B], 1)
    assert (again_a.part, again_b.part) == (Part.SIDE_A, Part.SIDE_B)
    first, second, *_ = own.after_warm_up([Part.SIDE_A, Part.SIDE_B], stood_s=180.0)
    a_stood_s, b_stood_s = again_b.total_s + 180.0, 180.0 + first.total_s
    assert first.heat_s == pytest.approx(reheat_s(SCOPE, amount(Part.SIDE_A), side_a, stood_s=a_stood_s))
    assert second.heat_s == pytest.approx(reheat_s(SCOPE, amount(Part.SIDE_B), side_b, stood_s=b_stood_s))


def test_no_heating_is_shorter_than_a_burst_worth_a_stir() -> None:
    """5 s; common practice, no source. After 30 s off the heat a cup needs about a second."""
    side_a = melt(Part.SIDE_A, first_round=1, last_round=9)
    (own,) = heats([side_a]).after_warm_up([Part.SIDE_A], stood_s=30.0)
    assert own.bursts_s == pytest.approx([5.0])
    assert own.total_s == pytest.approx(5.0 + 12.0)


@pytest.mark.parametrize("warm_up_shots", [0, 2])
def test_a_plan_heats_from_cold_before_its_first_pour_and_before_nothing_else(warm_up_shots: int) -> None:
    plan = plan_of(Build.CORE, tail=Tail.CUT, count=8, warm_up_shots=warm_up_shots)
    before_warm_up = [heating.from_cold for heating in plan.warm_up_heats]
    before_shell = [heating.from_cold for heating in plan.rounds_table[0].shots[0].heats]
    assert (before_warm_up, before_shell) == (([True], [False]) if warm_up_shots else ([], [True]))
    later = [heating.from_cold for each in plan.rounds_table[1:] for shot in each.shots for heating in shot.heats]
    assert not any(later)
