"""Whole sessions at a bench whose true figures are known, and what single readings and verdicts change.

The true cup loses 1.3 times what is reckoned, and the true heater feeds 350 W, of which such a cup keeps 320 W on
the way to its band, where the profile says 400 W. The thermometer is off by 1.5 K (one sigma, normal). Shares
are of forty sessions with fixed seeds; the share found stands beside the one asked for.
"""

from __future__ import annotations

from functools import cache

import pytest
from scipy.integrate import solve_ivp

from bench.model.recipe import Build, Part
from bench.model.step_kind import StepKind
from bench.physics.cup import loss_w_m2k
from bench.session import drive
from bench.session.bodies import first_cup
from bench.session.corrections import Corrected, Correction
from bench.session.events import CorrectionRefused, CorrectionRestored, CupRead, MouldRead, VerdictGiven
from bench.session.verdicts import Subject, Verdict, options
from bench.session.view import view
from bench.session.warmth import cup_now
from tests.plan.bench_records import ROOM_C
from tests.session.bench_sessions import Maker, job, maker
from tests.session.true_bench import TrueBench

SEEDS = range(40)


@cache
def after_five_readings(seed: int) -> tuple[Correction, Correction]:
    """Five readings of a cup that stands, and those of the heats in between."""
    bench = TrueBench(seed=seed)
    bench.work_until_read(5)
    found = bench.hands.session.corrections
    assert found.cup_loss is not None
    assert found.heater is not None
    return found.cup_loss, found.heater


def share(happens: list[bool]) -> float:
    return sum(happens) / len(happens)


@cache
def kept_w() -> float:
    """What the true cup keeps on average from the room to 170 degC: scipy's integration up to that event."""
    bench = TrueBench(seed=0)
    cup = first_cup(job(Build.PLAIN, count=40, warm_up_shots=0))

    def rate(_: float, state: list[float]) -> list[float]:
        lost_w = loss_w_m2k(cup, at_c=state[0], room_c=ROOM_C) * (cup.side_m2 + cup.top_m2) * (state[0] - ROOM_C)
        return [(bench.fed_w - bench.loss_factor * lost_w) / cup.capacity_j_k]

    def there(_: float, state: list[float]) -> float:
        return state[0] - 170.0

    solved = solve_ivp(rate, (0.0, 2000.0), [ROOM_C], events=there, rtol=1e-8, atol=1e-8)
    return float(cup.capacity_j_k * (170.0 - ROOM_C) / solved.t_events[0][0])


@cache
def read_and_at_the_shot(seed: int) -> TrueBench:
    """A bench at a shot after five readings, only to be looked at."""
    bench = TrueBench(seed=seed)
    bench.work_until_read(5)
    bench.work_to(StepKind.SHOT)
    return bench


class TestReplay:
    def test_after_five_readings_the_loss_is_known_to_ten_percent(self) -> None:
        # Readings between two heats are two and a half minutes apart: test_replay of the physics has four in five.
        # Found: 0.75.
        found = [abs(after_five_readings(seed)[0].value / 1.3 - 1) < 0.1 for seed in SEEDS]
        assert share(found) >= 0.7

    def test_and_what_the_heater_gives_too(self) -> None:
        assert kept_w() == pytest.approx(320.0, rel=0.01)
        found = [abs(after_five_readings(seed)[1].value / kept_w() - 1) < 0.1 for seed in SEEDS]
        assert share(found) == 1.0

    def test_the_claimed_spread_is_honest(self) -> None:
        # One sigma holds 68 % of normal errors.
        found = [
            abs(loss.value / 1.3 - 1) < loss.spread for loss, _ in (after_five_readings(seed) for seed in SEEDS)
        ]
        assert 0.5 <= share(found) <= 0.85

    def test_then_the_time_to_leave_the_band_is_known_to_15_seconds(self) -> None:
        known, reckoned = [], []
        for bench in map(read_and_at_the_shot, SEEDS):
            cup = view(bench.hands.session, bench.hands.now()).cups[0]
            truth_s = bench.falls_to_s(165.0)
            known.append(abs(cup.in_band_s - truth_s) < 15.0)
            factor = bench.hands.session.corrections.cup_loss_factor
            reckoned.append(abs(cup.in_band_s * factor - truth_s) < 15.0)
        # Found: 0.93, and 0.78 with the loss as the profile's figures reckon it.
        assert share(known) >= 0.9
        assert share(known) > share(reckoned)

    def test_estimates_are_within_their_own_spread(self) -> None:
        # One sigma holds 68 % of normal errors; the estimate claims a little more than it knows (55 % of 300).
        found = []
        for bench in map(read_and_at_the_shot, SEEDS):
            cup = view(bench.hands.session, bench.hands.now()).cups[0]
            assert cup.temp_c is not None
            found.append(abs(cup.temp_c - bench.temp_c) < cup.spread_k)
        assert 0.5 <= share(found) <= 0.9

    def test_a_reading_after_each_burst_gets_the_cup_into_its_band(self) -> None:
        for seed in range(10):
            bench = TrueBench(seed=seed)
            bench.work_to_step("r2.shot.shot")
            assert bench.heat_readings <= 16
            assert 160.0 < bench.temp_c < 177.0


def at_the_shot() -> Maker:
    hands = maker(Build.PLAIN, count=40, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    return hands


def standing(*temps: float, gap_s: float = 150.0) -> Maker:
    """Read at the shot, then again and again with nothing done in between."""
    hands = at_the_shot()
    hands.happen(CupRead(at=hands.now(), part=Part.BODY, temp_c=172.0))
    for temp_c in temps:
        hands.clock.advance(gap_s)
        for _ in range(2):
            hands.happen(CupRead(at=hands.now(), part=Part.BODY, temp_c=temp_c))
            if hands.session.doubted is None:
                break
    return hands


class TestReadings:
    def test_a_cup_that_cools_faster_than_reckoned_leaves_its_band_sooner(self) -> None:
        quick, slow = standing(149.0, 130.0), standing(158.0, 146.0)
        for hands in (quick, slow):
            hands.clock.advance(1)
            hands.happen(CupRead(at=hands.now(), part=Part.BODY, temp_c=172.0))
            hands.happen(CupRead(at=hands.now(), part=Part.BODY, temp_c=172.0))
        quick_s, slow_s = (view(each.session, each.now()).cups[0].in_band_s for each in (quick, slow))
        assert quick.session.corrections.cup_loss_factor > 1.1 > slow.session.corrections.cup_loss_factor
        assert quick_s < slow_s

    def test_a_refusal_takes_it_out_of_the_reckoning_and_back(self) -> None:
        hands = standing(149.0, 130.0)
        factor = hands.session.corrections.cup_loss_factor
        refusal = drive.refuse_or_restore(hands.session, Corrected.CUP_LOSS, hands.now())
        assert isinstance(refusal, CorrectionRefused)
        hands.happen(refusal)
        assert hands.session.corrections.cup_loss_factor == 1.0
        assert view(hands.session, hands.now()).corrections.cup_loss is not None
        again = drive.refuse_or_restore(hands.session, Corrected.CUP_LOSS, hands.now())
        assert isinstance(again, CorrectionRestored)
        hands.happen(again)
        assert hands.session.corrections.cup_loss_factor == pytest.approx(factor)

    def test_what_was_reckoned_before_a_refusal_stays(self) -> None:
        hands = standing(149.0, 130.0)
        hands.clock.advance(100)
        before = cup_now(hands.session, Part.BODY, hands.now())
        hands.happen(CorrectionRefused(at=hands.now(), of=Corrected.CUP_LOSS))
        after = cup_now(hands.session, Part.BODY, hands.now())
        assert before is not None
        assert after is not None
        assert after.temp_c == pytest.approx(before.temp_c)
        assert after.spent_min == pytest.approx(before.spent_min)

    def test_a_stronger_heater_plans_shorter_bursts_for_the_next_heat(self) -> None:
        weak, strong = (maker(Build.PLAIN, count=40, warm_up_shots=0) for _ in range(2))
        for hands, first_c in ((weak, 85.0), (strong, 125.0)):
            hands.walk_to("r1.heat.body")
            burst = view(hands.session, hands.now()).burst
            assert burst is not None
            hands.clock.advance(burst.left_s + 12)
            hands.read(first_c)
            hands.finish_step()
            hands.walk_to("r2.heat.body")
        weak_view, strong_view = (view(each.session, each.now()).burst for each in (weak, strong))
        assert weak_view is not None
        assert strong_view is not None
        assert weak_view.left_s > strong_view.left_s

    def test_a_mould_left_alone_tells_of_its_loss(self) -> None:
        hands = at_the_shot()
        for temp_c in (46.0, 38.0, 32.0):
            hands.happen(MouldRead(at=hands.now(), temp_c=temp_c))
            hands.clock.advance(900)
        found = hands.session.corrections.mould_loss
        assert found is not None
        assert found.readings == 3
        assert found.value > 1.0

    def test_a_shot_between_two_readings_ends_the_story(self) -> None:
        hands = at_the_shot()
        hands.happen(MouldRead(at=hands.now(), temp_c=46.0))
        hands.press()
        hands.clock.advance(900)
        hands.happen(MouldRead(at=hands.now(), temp_c=40.0))
        assert hands.session.corrections.mould_loss is None


class TestSetTimes:
    def test_soft_baits_make_the_next_sets_longer_and_not_the_one_that_runs(self) -> None:
        hands = maker(Build.PLAIN, count=40)
        hands.walk_to("r1.look")
        hands.happen(VerdictGiven(at=hands.now(), round=1, subject=Subject.BAITS, verdict=Verdict.SOFT))
        factor = hands.session.corrections.set_factor
        assert 1.0 < factor < 1.2
        hands.walk_to("r2.shot.set")
        shot = hands.session.ended("r2.shot.shot")
        assert shot is not None
        gone_s = hands.now().elapsed_s - shot.elapsed_s
        planned_s = hands.session.step.length_s
        assert drive.remaining_s(hands.session, hands.now()) == pytest.approx(factor * planned_s - gone_s)
        running_s = drive.remaining_s(hands.session, hands.now())
        hands.happen(VerdictGiven(at=hands.now(), round=1, subject=Subject.BAITS, verdict=Verdict.RIGHT))
        hands.happen(CorrectionRefused(at=hands.now(), of=Corrected.SET_TIME))
        assert drive.remaining_s(hands.session, hands.now()) == pytest.approx(running_s)
        hands.walk_to("r3.shot.set")
        assert hands.session.visit.stretch == 1.0

    def test_a_verdict_pressed_twice_counts_once(self) -> None:
        hands = maker(Build.PLAIN, count=40)
        hands.walk_to("r1.look")
        soft = VerdictGiven(at=hands.now(), round=1, subject=Subject.BAITS, verdict=Verdict.SOFT)
        hands.happen(soft)
        once = hands.session.corrections.set_factor
        hands.happen(soft)
        assert hands.session.corrections.set_factor == once

    def test_baits_that_could_have_come_out_sooner_make_the_next_sets_shorter(self) -> None:
        hands = maker(Build.PLAIN, count=40)
        hands.walk_to("r1.look")
        hands.happen(VerdictGiven(at=hands.now(), round=1, subject=Subject.BAITS, verdict=Verdict.SOONER))
        factor = hands.session.corrections.set_factor
        assert 0.85 < factor < 1.0
        hands.walk_to("r2.shot.set")
        assert hands.session.visit.stretch == factor

    def test_the_last_word_on_a_round_counts(self) -> None:
        hands = maker(Build.PLAIN, count=40)
        hands.walk_to("r1.look")
        for verdict in (Verdict.SOONER, Verdict.SOFT):
            hands.happen(VerdictGiven(at=hands.now(), round=1, subject=Subject.BAITS, verdict=verdict))
        assert hands.session.corrections.set_factor > 1.0

    def test_soft_once_and_firm_too_early_once_come_to_nothing(self) -> None:
        hands = maker(Build.PLAIN, count=40)
        hands.walk_to("r1.look")
        hands.happen(VerdictGiven(at=hands.now(), round=1, subject=Subject.BAITS, verdict=Verdict.SOFT))
        hands.happen(CorrectionRefused(at=hands.now(), of=Corrected.SET_TIME))
        hands.walk_to("r2.look")
        hands.happen(VerdictGiven(at=hands.now(), round=2, subject=Subject.BAITS, verdict=Verdict.SOONER))
        found = hands.session.corrections.set_time
        assert found is not None
        assert found.readings == 2
        assert found.value == pytest.approx(1.0, abs=0.01)


def test_what_came_out_of_the_mould_can_be_called_soft_or_late_with_one_digit() -> None:
    for build in Build:
        subject = Subject.SHELLS if build.has_core else Subject.BAITS
        offered = options(subject, build)
        assert {Verdict.SOFT, Verdict.SOONER} <= set(offered)
        assert len(offered) == len(set(offered)) <= 9
        assert (Verdict.PEELS in options(Subject.BAITS, build)) == (build is not Build.PLAIN)
