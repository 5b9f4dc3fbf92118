"""Volumes on paper: a body of 10 mm by 80 mm, a tail of 2 x 10 x 30 mm, a rod of 4 mm by 60 mm, four cavities."""

from __future__ import annotations

import math

import pytest

from bench.errors import BenchError
from bench.model.recipe import Build, Dose, Part, PartRecipe, Tail
from bench.physics.cooling import Section, Substance, cool_core, cool_shell, cool_solid
from bench.plan.amounts import doses, part_amounts, shot_volumes
from bench.plan.records import Ask, Shot
from bench.plan.scope import Scope, settle
from tests.plan.bench_records import COLOURANTS, MOULD, PLASTIC, STATION, plan_of, recipe

TAIL_ML = 2 * 10 * 30 / 1000
BAIT_ML = math.pi / 4 * 10**2 * 80 / 1000 + TAIL_ML
ROD_ML = math.pi / 4 * 4**2 * 60 / 1000
RUNNER_ML = 5.0
CAVITIES = 4
ROUNDS = 6

NO_TOP_OFF = dict.fromkeys(Shot, 0.0)
CASES = [
    (Build.PLAIN, Tail.KEPT, {"body": BAIT_ML}, {"body": 1.0}),
    (Build.LAMINATE, Tail.KEPT, {"side_a": BAIT_ML, "side_b": BAIT_ML}, {"side_a": 0.6, "side_b": 0.4}),
    (Build.CORE, Tail.KEPT, {"shell": BAIT_ML - ROD_ML, "core": ROD_ML}, {}),
    (Build.CORE, Tail.CUT, {"shell": BAIT_ML - ROD_ML, "core": ROD_ML + TAIL_ML}, {}),
    (
        Build.LAMINATE_CORE,
        Tail.KEPT,
        {"shell_a": BAIT_ML - ROD_ML, "shell_b": BAIT_ML - ROD_ML, "core": ROD_ML},
        {"shell_a": 0.7, "shell_b": 0.3},
    ),
    (
        Build.LAMINATE_CORE,
        Tail.CUT,
        {"shell_a": BAIT_ML - ROD_ML, "shell_b": BAIT_ML - ROD_ML, "core": ROD_ML + TAIL_ML},
        {"shell_a": 0.7, "shell_b": 0.3},
    ),
]


def scope_of(build: Build, tail: Tail, *, warm_up_shots: int = 1, margin_pct: float = 5.0) -> Scope:
    return settle(
        recipe=recipe(build, tail, margin_pct=margin_pct),
        mould=MOULD,
        plastic=PLASTIC,
        station=STATION,
        ask=Ask(count=20, warm_up_shots=warm_up_shots),
    )


@pytest.mark.parametrize(("build", "tail", "cavity_ml", "shares"), CASES)
def test_each_part_fills_its_share_of_cavities_and_runner(
    build: Build, tail: Tail, cavity_ml: dict[str, float], shares: dict[str, float]
) -> None:
    amounts = part_amounts(scope_of(build, tail), top_off_ml=NO_TOP_OFF)
    assert {amount.part.value: amount.per_round_ml for amount in amounts} == pytest.approx(
        {part: shares.get(part, 1.0) * (CAVITIES * ml + RUNNER_ML) for part, ml in cavity_ml.items()}
    )


@pytest.mark.parametrize(("build", "tail", "cavity_ml", "shares"), CASES)
def test_cavities_are_full_at_the_end_of_a_round(
    build: Build, tail: Tail, cavity_ml: dict[str, float], shares: dict[str, float]
) -> None:
    # What is shot is the bait, once more the tails that were cut off, and a runner a shot.
    shots = shot_volumes(scope_of(build, tail))
    cut_ml = CAVITIES * TAIL_ML if tail is Tail.CUT else 0.0
    assert sum(shot.cavities_ml for shot in shots) == pytest.approx(CAVITIES * BAIT_ML + cut_ml)
    assert [shot.runner_ml for shot in shots] == [RUNNER_ML] * (2 if build.has_core else 1)


@pytest.mark.parametrize(("build", "tail", "cavity_ml", "shares"), CASES)
def test_trimmings_are_the_shells_tails(
    build: Build, tail: Tail, cavity_ml: dict[str, float], shares: dict[str, float]
) -> None:
    amounts = part_amounts(scope_of(build, tail), top_off_ml=NO_TOP_OFF)
    cut_ml = ROUNDS * CAVITIES * TAIL_ML if tail is Tail.CUT else 0.0
    expected = {
        amount.part: 0.0 if amount.part is Part.CORE else shares.get(amount.part.value, 1.0) * cut_ml
        for amount in amounts
    }
    assert {amount.part: amount.trimmed_ml for amount in amounts} == pytest.approx(expected)


def test_top_off_is_shared_like_its_shot() -> None:
    fed = {Shot.WHOLE: 0.0, Shot.SHELL: 2.0, Shot.CORE: 0.5}
    scope = scope_of(Build.LAMINATE_CORE, Tail.KEPT)
    plain = part_amounts(scope, top_off_ml=NO_TOP_OFF)
    more = [
        with_feed.per_round_ml - without.per_round_ml
        for with_feed, without in zip(part_amounts(scope, top_off_ml=fed), plain, strict=True)
    ]
    assert more == pytest.approx([0.7 * 2.0, 0.3 * 2.0, 0.5])


def test_warm_up_shots_are_whole_baits_of_the_first_colours() -> None:
    scope = scope_of(Build.LAMINATE_CORE, Tail.KEPT, warm_up_shots=2)
    warm_up = [amount.warm_up_ml for amount in part_amounts(scope, top_off_ml=NO_TOP_OFF)]
    shot_ml = CAVITIES * BAIT_ML + RUNNER_ML
    assert warm_up == pytest.approx([0.7 * 2 * shot_ml, 0.3 * 2 * shot_ml, 0.0])


def test_a_melt_is_rounds_and_warm_up_with_margin_and_what_clings() -> None:
    amount = part_amounts(scope_of(Build.PLAIN, Tail.KEPT), top_off_ml=NO_TOP_OFF)[0]
    shot_ml = CAVITIES * BAIT_ML + RUNNER_ML
    assert amount.melt_ml(3, first=True) == pytest.approx(1.05 * (3 + 1) * shot_ml + 6.0 + 8.0)
    assert amount.melt_ml(3, first=False) == pytest.approx(1.05 * 3 * shot_ml + 6.0 + 8.0)


def test_doses_are_shares_of_the_whole_cup() -> None:
    part = PartRecipe(doses=(Dose(colourant="red", load_pct=1.5), Dose(colourant="pearl", load_pct=0.2)))
    red, pearl = doses(part, mass_g=200.0, colourants=COLOURANTS)
    assert red.mass_g == pytest.approx(3.0)
    assert red.drops == pytest.approx(100.0)
    assert pearl.mass_g == pytest.approx(0.4)
    assert pearl.drops is None


def test_an_unknown_colourant_is_named_with_the_nearest() -> None:
    part = PartRecipe(doses=(Dose(colourant="perl", load_pct=1.0),))
    with pytest.raises(BenchError, match='"perl"; did you mean "pearl"'):
        doses(part, mass_g=200.0, colourants=COLOURANTS)


@pytest.mark.parametrize(("build", "tail", "cavity_ml", "shares"), CASES)
def test_nothing_is_lost_between_cup_and_bait(
    build: Build, tail: Tail, cavity_ml: dict[str, float], shares: dict[str, float]
) -> None:
    """What is melted is in baits, runners, trimmings and residues; without margin, spares and warm-up shots.

    A cavity holds its volume at the mean density of the moment when its gate closes, which is worked out here
    from the cooling itself; volumes in the cup and the feed while the gate is open come to that within 0.5 %.
    """
    plan = plan_of(build, tail=tail, count=24, spares_pct=0.0, warm_up_shots=0, margin_pct=0.0)
    hot_g_per_ml = 1.030 / (1 + 6e-4 * (170 - 20))
    melted_g = sum(part.total_g for part in plan.parts)
    clinging_g = sum(len(part.melts) for part in plan.parts) * (6.0 + 8.0) * hot_g_per_ml
    runners_g = sum(len(each.shots) for each in plan.rounds_table) * RUNNER_ML * hot_g_per_ml
    in_cavities_g = sum(
        cavity_g(shot.shot, shot.mould_c, tail) for each in plan.rounds_table for shot in each.shots
    )
    assert melted_g == pytest.approx(in_cavities_g + runners_g + clinging_g, rel=0.005)


def cavity_g(shot: Shot, mould_c: float, tail: Tail) -> float:
    """All cavities of one shot; the shell of a core is taken at 48 degC."""
    section = Section(body_mm=10.0, gate_mm=4.0, rod_mm=4.0)
    soft = Substance(k_w_mk=0.16, rho_kg_m3=1030.0, c_j_kgk=1800.0)
    core_ml = ROD_ML + (TAIL_ML if tail is Tail.CUT else 0.0)
    temps = {"shot_c": 170.0, "mould_c": mould_c}
    cooling, volume_ml = {
        Shot.WHOLE: lambda: (cool_solid(section, soft, **temps), BAIT_ML),
        Shot.SHELL: lambda: (cool_shell(section, soft, **temps), BAIT_ML - ROD_ML),
        Shot.CORE: lambda: (cool_core(section, soft, shell_c=48.0, **temps), core_ml),
    }[shot]()
    return CAVITIES * volume_ml * 1.030 / (1 + 6e-4 * (cooling.hold_mean_c - 20))
