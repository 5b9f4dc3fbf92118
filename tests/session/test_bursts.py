"""Bursts: how a schedule runs, what is left of it, and how a heating step of a session follows it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.model.recipe import Build, Part
from bench.physics.cup import Cup, temperature_after
from bench.session import bursts, drive
from bench.session.bursts import BurstView, Leg, burst_view, left, run, schedule
from bench.session.heater import Power, heated_c
from bench.session.view import view
from bench.session.warmth import cup_now
from tests.session.bench_sessions import Maker, maker

CUP = Cup(mass_g=200, c_j_kgk=1800, diameter_mm=80, height_mm=40, vessel_mass_g=180, vessel_c_j_kgk=830)
STIR_S = 12.0
LEGS = (Leg(heating=True, seconds=60, number=1), Leg(heating=False, seconds=12, number=1))


def planned(
    start_c: float, *, target_c: float = 170.0, fed_w: float = 420.0, loss_factor: float = 1.0
) -> tuple[Leg, ...]:
    power = Power(fed_w=fed_w, room_c=20.0, loss_factor=loss_factor)
    return schedule(CUP, power, start_c=start_c, target_c=target_c, top_c=175.0, stir_s=STIR_S)


class TestSchedule:
    def test_a_stir_follows_every_burst(self) -> None:
        legs = planned(20.0)
        assert [leg.heating for leg in legs] == [True, False] * (len(legs) // 2)
        assert {leg.seconds for leg in legs if not leg.heating} == {STIR_S}
        assert [leg.number for leg in legs[::2]] == list(range(1, len(legs) // 2 + 1))

    @pytest.mark.parametrize("start_c", [20.0, 120.0, 150.0, 164.0])
    @pytest.mark.parametrize("loss_factor", [0.7, 1.0, 1.5])
    def test_it_ends_at_its_aim_with_what_the_stirs_cost_put_on(self, start_c: float, loss_factor: float) -> None:
        power = Power(fed_w=420.0, room_c=20.0, loss_factor=loss_factor)
        temp_c = start_c
        for leg in planned(start_c, loss_factor=loss_factor):
            if leg.heating:
                temp_c = heated_c(CUP, power, start_c=temp_c, seconds=leg.seconds)
                assert temp_c <= 175.0
            else:
                temp_c = temperature_after(
                    CUP, start_c=temp_c, seconds=leg.seconds, room_c=20.0, loss_factor=loss_factor
                )
        assert temp_c == pytest.approx(170.0, abs=1.0)

    def test_never_one_long_burst(self) -> None:
        seconds = [leg.seconds for leg in planned(20.0) if leg.heating]
        assert seconds[0] < 0.65 * sum(seconds)
        assert max(seconds[1:]) <= 30.0
        assert seconds[-1] <= 10.0

    @given(start_c=st.floats(0, 169), fed_w=st.floats(100, 1500), loss_factor=st.floats(0.4, 2.0))
    def test_a_hotter_start_and_a_stronger_heater_take_less(
        self, start_c: float, fed_w: float, loss_factor: float
    ) -> None:
        def on_s(start_c: float, fed_w: float) -> float:
            return sum(
                leg.seconds for leg in planned(start_c, fed_w=fed_w, loss_factor=loss_factor) if leg.heating
            )

        slack_s = 12.0 if start_c > 150 else 0.15 * on_s(start_c, fed_w)  # one stir more or less
        assert on_s(start_c + 1, fed_w) <= on_s(start_c, fed_w) + slack_s
        assert on_s(start_c, 1.2 * fed_w) <= on_s(start_c, fed_w) + slack_s

    def test_nothing_is_planned_for_a_cup_that_is_there(self) -> None:
        assert planned(170.0) == ()
        assert planned(180.0) == ()

    def test_a_heater_that_hardly_keeps_up_is_no_error(self) -> None:
        legs = planned(20.0, fed_w=5.0, loss_factor=2.0)
        assert 0 < sum(leg.seconds for leg in legs) < 1e6


class TestRunning:
    @given(seconds=st.floats(0, 200))
    def test_what_ran_and_what_is_left_are_the_whole(self, seconds: float) -> None:
        legs = planned(100.0)
        whole_s = sum(leg.seconds for leg in legs)
        ran_s = sum(leg.seconds for leg in run(legs, seconds))
        left_s = sum(leg.seconds for leg in left(legs, seconds))
        assert ran_s == pytest.approx(seconds)
        assert left_s == pytest.approx(max(0.0, whole_s - seconds))

    def test_time_past_the_end_is_off_the_heat(self) -> None:
        assert list(run(LEGS, 100))[-1] == Leg(heating=False, seconds=28, number=1)

    def test_how_far_it_came_is_known_to_the_end(self) -> None:
        assert bursts.done(()) == 0
        assert bursts.done(left(LEGS, 30)) == 0
        assert bursts.done(left(LEGS, 65)) == 1
        assert bursts.done(left(LEGS, 500)) == 1

    def test_the_screen_is_told_what_runs_and_what_comes(self) -> None:
        legs = (*LEGS, Leg(heating=True, seconds=8, number=2), Leg(heating=False, seconds=12, number=2))
        assert burst_view(left(legs, 20)) == BurstView(number=1, of=2, heating=True, left_s=40, next_burst_s=8)
        assert burst_view(left(legs, 62)) == BurstView(number=1, of=2, heating=False, left_s=10, next_burst_s=8)
        assert burst_view(left(legs, 99)) == BurstView(number=2, of=2, heating=False, left_s=0, next_burst_s=None)


def heating() -> Maker:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    return hands


def burst_of(hands: Maker) -> BurstView:
    burst = view(hands.session, hands.now()).burst
    assert burst is not None
    return burst


def temp_c(hands: Maker) -> float:
    estimate = cup_now(hands.session, Part.BODY, hands.now())
    assert estimate is not None
    return estimate.temp_c


class TestInASession:
    def test_it_begins_with_the_first_burst(self) -> None:
        burst = burst_of(heating())
        assert (burst.number, burst.heating) == (1, True)
        assert burst.of > 3
        assert burst.next_burst_s is not None

    def test_there_is_none_at_any_other_step(self) -> None:
        hands = heating()
        hands.finish_step()
        assert view(hands.session, hands.now()).burst is None

    def test_the_cup_warms_only_while_the_heater_is_on(self) -> None:
        hands = heating()
        hands.clock.advance(burst_of(hands).left_s)
        hot_c = temp_c(hands)
        assert hot_c > 90
        hands.clock.advance(6.0)
        assert not burst_of(hands).heating
        assert temp_c(hands) < hot_c
        hands.clock.advance(6.5)
        hands.put_on()
        assert burst_of(hands).number == 2
        hands.clock.advance(5.0)
        assert temp_c(hands) > hot_c

    def test_the_cup_says_whether_its_heater_is_on_as_the_burst_does(self) -> None:
        hands = heating()
        states = set()
        while (seen := view(hands.session, hands.now()).burst) is None or seen.left_s:
            hands.put_on()
            cup, is_on = view(hands.session, hands.now()).cups[0], burst_of(hands).heating
            assert cup.heating, "it is on its way all the while"
            assert cup.heater_on is is_on
            states.add(is_on)
            hands.clock.advance(2.0)
        assert states == {True, False}
        assert not view(hands.session, hands.now()).cups[0].heater_on, "its last burst is over"

    def test_a_reading_plans_the_rest_from_itself(self) -> None:
        cooler, hotter = heating(), heating()
        for hands, read_c in ((cooler, 95.0), (hotter, 140.0)):
            hands.clock.advance(burst_of(hands).left_s + 5)
            hands.read(read_c)
            set_s = view(hands.session, hands.now()).set_burst_s
            hands.clock.advance(60)
            assert view(hands.session, hands.now()).burst is None, "the cup is put back first"
            hands.press()
            assert (burst_of(hands).number, burst_of(hands).heating) == (2, True)
            assert set_s is not None
            assert burst_of(hands).left_s > set_s, "it has cooled meanwhile"
        assert burst_of(cooler).left_s > burst_of(hotter).left_s

    def test_a_reading_in_the_middle_of_a_burst_repeats_it(self) -> None:
        hands = heating()
        hands.clock.advance(10)
        hands.read(40)
        hands.put_on()
        assert burst_of(hands).number == 1

    def test_over_the_band_there_is_none(self) -> None:
        hands = heating()
        hands.clock.advance(burst_of(hands).left_s + 5)
        hands.read(180)
        assert burst_of(hands).left_s == 0
        assert burst_of(hands).next_burst_s is None
        assert not burst_of(hands).heating

    def test_when_the_last_stir_is_over_only_a_reading_is_wanted(self) -> None:
        hands = heating()
        hands.burst_through()
        hands.clock.advance(1000)
        burst = burst_of(hands)
        assert (burst.left_s, burst.heating, burst.next_burst_s) == (0, False, None)
        assert burst.number == burst.of
        assert temp_c(hands) < 165, "and the cup cools"

    def test_the_schedule_takes_about_as_long_as_the_plan_says(self) -> None:
        hands = heating()
        hands.burst_through()
        assert temp_c(hands) == pytest.approx(170, abs=6)

    def test_a_hold_stops_no_burst(self) -> None:
        hands = heating()
        hands.happen(drive.hold_or_resume(hands.session, hands.now()))
        before = burst_of(hands).left_s
        hands.clock.advance(10)
        assert burst_of(hands).left_s == pytest.approx(before - 10)

    def test_another_reading_does_not_disturb_the_burst_that_runs(self) -> None:
        hands = heating()
        hands.clock.advance(10)
        before, warm_c = burst_of(hands), temp_c(hands)
        hands.happen(drive.mould_reading(hands.session, 44.0, hands.now()))
        assert burst_of(hands) == before
        assert temp_c(hands) == pytest.approx(warm_c)
