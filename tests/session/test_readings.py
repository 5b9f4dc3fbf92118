"""Readings: what is believed, what is asked again, what raises the alarm, and what they do to the estimates."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.errors import IllegalMove
from bench.model.recipe import Build, Part
from bench.physics.cup import Cup, temperature_after
from bench.session import drive
from bench.session.asking import asks_first
from bench.session.events import CautionsAcknowledged, CupRead, MouldRead
from bench.session.readings import USEFUL_K, expected, likely_c
from bench.session.thermometer import cannot_be
from bench.session.view import view
from bench.session.warmth import cup_now, mould_now, with_cup
from tests.session.bench_sessions import Maker, maker, placed


def at_the_shot() -> Maker:
    """A plain session whose cup was read at 170 °C a moment ago."""
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    return hands


class TestDoubt:
    def test_a_reading_far_from_the_estimate_is_asked_again(self) -> None:
        hands = at_the_shot()
        hands.read(120)
        assert hands.session.doubted is not None
        assert hands.session.cup_readings[-1].temp_c == 170, "and not believed yet"

    def test_a_second_one_that_agrees_is_believed(self) -> None:
        hands = at_the_shot()
        hands.read(120)
        hands.read(122)
        assert hands.session.doubted is None
        assert hands.session.cup_readings[-1].temp_c == 122

    def test_a_likely_one_after_it_takes_its_place(self) -> None:
        hands = at_the_shot()
        hands.read(70)
        hands.read(169)
        assert hands.session.doubted is None
        assert [reading.temp_c for reading in hands.session.cup_readings] == [170, 169]

    def test_fahrenheit_in_a_celsius_field_is_doubted_not_used(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.read(340)
        assert hands.session.doubted is not None
        assert hands.session.alarm is None
        assert not hands.session.cup_readings

    def test_a_cup_hotter_than_its_heater_could_make_it_is_asked_about_once(self) -> None:
        """Twice the profile's power is the most that is believed of a heater, a starting value, no source."""
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.clock.advance(30)
        known = cup_now(hands.session, Part.BODY, hands.now())
        assert known is not None
        assert known.temp_c < 75
        hands.read(170)
        assert hands.session.doubted is not None
        assert not hands.tick(), "and the step waits"
        hands.read(171)
        assert hands.session.doubted is None
        assert hands.tick()

    def test_a_cup_that_had_the_time_is_not_asked_about(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.clock.advance(600)
        hands.read(170)
        assert hands.session.doubted is None

    def test_one_over_the_scorch_limit_takes_the_cup_off_the_heat_while_it_is_asked_about(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.clock.advance(40)
        hands.read(400)
        seen = view(hands.session, hands.now())
        assert seen.doubt is not None
        assert seen.doubt.heat_off
        assert not seen.cups[0].heating
        before_c = seen.cups[0].temp_c
        hands.clock.advance(20)
        after_c = view(hands.session, hands.now()).cups[0].temp_c
        assert before_c is not None
        assert after_c is not None
        assert after_c < before_c
        hands.read(after_c)
        again = view(hands.session, hands.now())
        assert again.cups[0].heating, "the right figure puts it back on"
        assert again.corrections.heater is None, "and nothing is learnt from a burst of unknown length"

    @pytest.mark.parametrize("estimate_c", [20.0, 170.0, 255.0, 307.0, 400.0])
    @pytest.mark.parametrize("read_c", [130.0, 300.0])
    def test_what_is_expected_has_its_lower_bound_first(self, estimate_c: float, read_c: float) -> None:
        for step in ("r1.heat.body", "r1.shot.shot"):
            hands = maker(Build.PLAIN, warm_up_shots=0)
            hands.walk_to(step)
            session = placed(hands.session, hands.now(), cup_c=estimate_c)
            low_c, high_c = likely_c(session, CupRead(at=hands.now(), part=Part.BODY, temp_c=read_c))
            assert low_c < high_c
            assert low_c <= estimate_c <= high_c

    @pytest.mark.parametrize("estimate_c", [20.0, 60.0, 120.0, 170.0, 307.0])
    @pytest.mark.parametrize("read_c", [-40.0, 340.0])
    def test_what_was_expected_is_told_as_an_estimate_and_never_wider_than_helps(
        self, estimate_c: float, read_c: float
    ) -> None:
        for step in ("r1.heat.body", "r1.shot.shot"):
            hands = maker(Build.PLAIN, warm_up_shots=0)
            hands.walk_to(step)
            session = placed(hands.session, hands.now(), cup_c=estimate_c)
            told = expected(session, CupRead(at=hands.now(), part=Part.BODY, temp_c=read_c))
            assert told is not None
            assert told.temp_c == pytest.approx(estimate_c)
            if told.range_c is not None:
                low_c, high_c = told.range_c
                assert low_c <= estimate_c <= high_c
                assert high_c - low_c <= USEFUL_K
                assert not low_c <= read_c <= high_c, "what is doubted is not what was expected"

    def test_an_estimate_that_may_be_anything_is_told_without_a_range(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        known = hands.session.cups[Part.BODY]
        for spread_k, is_told in ((2.0, True), (40.0, False)):
            session = with_cup(hands.session, Part.BODY, replace(known, temp_c=100.0, spread_k=spread_k))
            told = expected(session, CupRead(at=hands.now(), part=Part.BODY, temp_c=340.0))
            assert told is not None
            assert (told.range_c is not None) is is_told

    def test_nothing_is_expected_of_a_cup_that_nobody_weighed(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("ready")
        assert expected(hands.session, CupRead(at=hands.now(), part=Part.BODY, temp_c=340.0)) is None

    def test_what_was_expected_of_a_mould_is_its_estimate(self) -> None:
        hands = at_the_shot()
        hands.session = placed(hands.session, hands.now(), mould_c=45.0)
        told = expected(hands.session, MouldRead(at=hands.now(), temp_c=340.0))
        assert told is not None
        assert told.temp_c == pytest.approx(45.0)

    def test_nothing_ends_by_itself_while_one_is_doubted(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.shot.set")
        hands.read(60)
        assert hands.session.doubted is not None
        hands.clock.advance(1000)
        assert not hands.tick()

    def test_going_on_lets_it_go(self) -> None:
        hands = at_the_shot()
        hands.read(60)
        hands.press()
        assert hands.session.doubted is None

    def test_a_cup_on_the_heat_does_not_get_colder(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.clock.advance(60)
        hands.read(110)
        hands.clock.advance(20)
        hands.read(100)
        assert hands.session.doubted is not None
        hands.read(121)
        assert hands.session.doubted is None

    def test_a_cup_forgotten_beside_the_heater_does(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.clock.advance(60)
        hands.read(160)
        hands.clock.advance(1200)
        hands.read(118)
        assert hands.session.doubted is None

    def test_a_fahrenheit_figure_for_a_mould_is_doubted(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("warm-mould")
        hands.clock.advance(100)
        hands.read(115)
        assert hands.session.doubted is not None

    def test_a_mould_is_not_read_at_170(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("warm-mould")
        hands.read(170)
        assert hands.session.doubted is not None
        assert not hands.session.mould_readings


class TestWhatNothingCanBe:
    """However often a thermometer says so; aluminium 6061 begins to melt at 582 °C (handbook, from memory)."""

    @pytest.mark.parametrize("step", ["warm-mould", "r1.heat.body", "r1.shot.shot"])
    def test_the_frost_stays_doubted_and_changes_nothing(self, step: str) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to(step)
        before = hands.session
        for _ in range(4):
            hands.read(-10)
            assert replace(hands.session, doubted=None, last=before.last) == before
            seen = view(hands.session, hands.now())
            assert seen.doubt is not None
            assert seen.doubt.cannot_be
            assert not seen.doubt.did_not_rise
        hands.read({"warm-mould": 20, "r1.heat.body": 22, "r1.shot.shot": 169}[step])
        assert hands.session.doubted is None

    def test_what_a_cold_room_could_be_is_believed_the_second_time(self) -> None:
        """The room is off its profile by the season."""
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("warm-mould")
        hands.read(3)
        assert hands.session.doubted is not None
        hands.read(3)
        assert hands.session.doubted is None
        assert hands.session.mould_readings[-1].temp_c == 3

    @pytest.mark.parametrize("room_c", [-4.0, -30.0])
    def test_a_bench_that_is_said_to_stand_in_the_frost_is_read_there(self, room_c: float) -> None:
        hands = at_the_shot()
        job = hands.session.job
        room = replace(job.station.room, temperature_c=room_c)
        frosty = replace(hands.session, job=replace(job, station=replace(job.station, room=room)))
        for off_k, cannot in ((1.0, False), (11.0, True)):
            assert cannot_be(frosty, MouldRead(at=hands.now(), temp_c=room_c - off_k)) is cannot

    @pytest.mark.parametrize(
        ("read_c", "is_taken"), [(300.0, True), (570.0, True), (590.0, False), (1700.0, False)]
    )
    def test_a_mould_as_hot_as_a_forgotten_plate_is_believed_and_one_that_would_have_melted_is_not(
        self, read_c: float, is_taken: bool
    ) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("warm-mould")
        for _ in range(2):
            hands.read(read_c)
        assert (hands.session.doubted is None) is is_taken
        assert [each.temp_c for each in hands.session.mould_readings] == ([read_c] if is_taken else [])

    @pytest.mark.parametrize("read_c", [300.0, 400.0, 1700.0, 9999.0])
    def test_a_cup_said_twice_to_be_over_its_scorch_limit_alarms_whatever_the_figure(self, read_c: float) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        for _ in range(2):
            hands.read(read_c)
        assert hands.session.alarm is not None
        hands.clock.advance(30)
        assert view(hands.session, hands.now()).strikable is not None, "and it may be called wrong"

    @pytest.mark.parametrize("step", ["warm-mould", "r1.heat.body", "r1.shot.set"])
    def test_a_maker_without_a_thermometer_goes_on(self, step: str) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to(step)
        for _ in range(2):
            hands.read(-10)
        assert asks_first(hands.session, hands.now()) is not None, "it is asked once"
        hands.happen(drive.insist(hands.session, hands.now()))
        assert hands.session.doubted is None
        assert hands.session.step.id != step

    def test_no_yes_makes_it_true(self) -> None:
        """A cup that is no hotter for its burst is asked about with a yes for a heater that was off."""
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.clock.advance(200)
        for _ in range(2):
            hands.read(-10)
        assert drive.accept_suggestion(hands.session, hands.now()) is None


class TestAlarm:
    def test_a_reading_over_the_scorch_limit_interrupts_at_once(self) -> None:
        hands = at_the_shot()
        hands.read(201)
        assert hands.session.alarm is not None
        seen = view(hands.session, hands.now())
        assert [caution.name for caution in seen.alarm_cautions] == ["scorched"]

    def test_the_step_does_not_go_on_until_it_is_acknowledged(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.heat.body")
        hands.read(191)
        with pytest.raises(IllegalMove, match="scorch"):
            hands.press()
        event = drive.acknowledge(hands.session, hands.now())
        assert event == CautionsAcknowledged(at=hands.now(), cautions=("scorched",))
        hands.happen(event)
        assert hands.session.alarm is None
        hands.press()

    def test_at_the_limit_itself_there_is_none(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.heat.body")
        hands.read(190)
        assert hands.session.alarm is None


class TestEstimates:
    def test_a_cup_off_the_heat_cools_as_the_physics_says(self) -> None:
        hands = at_the_shot()
        hands.clock.advance(90)
        estimate = cup_now(hands.session, Part.BODY, hands.now())
        assert estimate is not None
        station, plastic, plan = hands.session.job.station, hands.session.job.plastic, hands.session.job.plan
        melt = plan.melt(Part.BODY, 1)
        held = melt.volume_ml - station.vessel.residue_ml - station.injector.residue_ml
        cup = Cup(
            mass_g=held * melt.mass_g / melt.volume_ml,
            c_j_kgk=plastic.heat_capacity_j_kgk,
            diameter_mm=station.vessel.diameter_mm,
            height_mm=held / (3.14159265 / 4 * (station.vessel.diameter_mm / 10) ** 2) * 10,
            vessel_mass_g=station.vessel.mass_g,
            vessel_c_j_kgk=station.vessel.heat_capacity_j_kgk,
        )
        expected = temperature_after(cup, start_c=170, seconds=90, room_c=station.room.temperature_c)
        assert estimate.temp_c == pytest.approx(expected, abs=0.1)
        assert estimate.age_s == pytest.approx(90, abs=0.1)

    def test_holding_does_not_keep_it_warm(self) -> None:
        hands = at_the_shot()
        hands.happen(drive.hold_or_resume(hands.session, hands.now()))
        hands.clock.advance(300)
        estimate = cup_now(hands.session, Part.BODY, hands.now())
        assert estimate is not None
        assert estimate.temp_c < 160

    def test_a_reading_and_a_good_estimate_are_put_together(self) -> None:
        hands = at_the_shot()
        hands.clock.advance(60)
        before = cup_now(hands.session, Part.BODY, hands.now())
        assert before is not None
        hands.read(before.temp_c + 3)
        after = cup_now(hands.session, Part.BODY, hands.now())
        assert after is not None
        assert before.temp_c + 0.3 < after.temp_c < before.temp_c + 2.7
        assert after.spread_k < before.spread_k

    def test_an_estimate_that_was_carried_for_long_gives_way_to_a_reading(self) -> None:
        hands = at_the_shot()
        hands.clock.advance(900)
        before = cup_now(hands.session, Part.BODY, hands.now())
        assert before is not None
        hands.read(before.temp_c + 10)
        after = cup_now(hands.session, Part.BODY, hands.now())
        assert after is not None
        assert after.temp_c == pytest.approx(before.temp_c + 10, abs=0.5)

    def test_what_was_read_twice_far_from_the_estimate_is_believed_outright(self) -> None:
        hands = at_the_shot()
        hands.read(130)
        hands.read(131)
        after = cup_now(hands.session, Part.BODY, hands.now())
        assert after is not None
        assert after.temp_c == pytest.approx(131)

    def test_time_left_in_band_runs_down_and_ends_at_nothing(self) -> None:
        hands = at_the_shot()
        left = view(hands.session, hands.now()).cups[0].in_band_s
        assert left > 20
        hands.clock.advance(left / 2)
        half = view(hands.session, hands.now()).cups[0].in_band_s
        assert half == pytest.approx(left / 2, abs=1.0)
        hands.clock.advance(left)
        assert view(hands.session, hands.now()).cups[0].in_band_s == 0

    def test_heating_ended_by_hand_says_that_the_cup_is_ready(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.clock.advance(10)
        hands.press()
        estimate = cup_now(hands.session, Part.BODY, hands.now())
        assert estimate is not None
        assert estimate.temp_c == pytest.approx(165)
        assert estimate.age_s is None, "nobody measured it"

    def test_a_shot_warms_the_mould(self) -> None:
        hands = at_the_shot()
        (before,) = view(hands.session, hands.now()).moulds
        hands.press()
        (after,) = view(hands.session, hands.now()).moulds
        assert after.temp_c > before.temp_c + 1

    def test_another_part_than_the_baits_own_is_refused(self) -> None:
        hands = at_the_shot()
        with pytest.raises(IllegalMove, match="no core"):
            hands.happen(CupRead(at=hands.now(), part=Part.CORE, temp_c=170))


class TestAFigureJustTyped:
    """What the screen shows is what was typed, while the estimate counts it by its noise."""

    def test_a_mould_is_shown_as_it_was_read_and_then_as_it_is_reckoned(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("warm-mould")
        hands.clock.advance(hands.session.step.length_s)
        hands.read(41.0)
        hands.clock.advance(20)
        hands.happen(drive.mould_reading(hands.session, 46.0, hands.now()))
        estimate = mould_now(hands.session, hands.now())
        assert estimate is not None
        assert estimate.temp_c < 45.5, "the reading before it counts too"
        assert view(hands.session, hands.now()).moulds[0].temp_c == pytest.approx(46.0)
        hands.tick()
        assert view(hands.session, hands.now()).moulds[0].temp_c == pytest.approx(46.0), "at the next step as well"
        hands.clock.advance(29)
        assert view(hands.session, hands.now()).moulds[0].temp_c > estimate.temp_c
        hands.clock.advance(1)
        later = mould_now(hands.session, hands.now())
        assert later is not None
        assert view(hands.session, hands.now()).moulds[0].temp_c == later.temp_c

    def test_a_cup_is_shown_as_it_was_read(self) -> None:
        hands = at_the_shot()
        hands.read(166)
        assert view(hands.session, hands.now()).cups[0].temp_c == pytest.approx(166.0)
        estimate = cup_now(hands.session, Part.BODY, hands.now())
        assert estimate is not None
        assert estimate.temp_c > 166.5
