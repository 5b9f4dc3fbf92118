"""Weigh, heat, read: what a heater feeds comes back from what its cup reads."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bench.errors import BenchError, IllegalMove
from bench.model.caution import Caution
from bench.model.settings import UnitSystem
from bench.model.station import POWER_KEY
from bench.physics.misreading import Slip
from bench.plan.vessel import vessel_room_g
from bench.session.calibration import (
    At,
    Calibration,
    Rig,
    Scorched,
    begin,
    heating_cautions,
    meant_end,
    meant_start,
    rig_for,
    scorch_cautions,
)
from bench.session.heater import Power, fed_w, heated_c
from bench.session.measured import measured, source_words
from tests.tui.at_the_bench import at, shelf

RIG = rig_for(shelf(), plastic="quillmere-soft")


def read_cards(rig: Rig = RIG) -> Calibration:
    """A calibration with every card acknowledged."""
    state = begin(rig, shelf().cautions)
    while state.at is At.CAUTIONS:
        state = state.acknowledged()
    return state


def heating(start_c: float = 22.0) -> Calibration:
    return read_cards().weighed(230.0).start_read(start_c).heated(at(0))


@settings(max_examples=60)
@given(
    mass_g=st.floats(80, 236),
    start_c=st.floats(10, 30),
    seconds=st.integers(60, 240),
    heater_w=st.floats(250, 600),
)
def test_a_simulated_heater_is_found_within_two_percent(
    mass_g: float, start_c: float, seconds: int, heater_w: float
) -> None:
    cup, room_c = RIG.cup(mass_g), RIG.station.room.temperature_c
    power = Power(fed_w=heater_w, room_c=room_c)
    end_c = start_c
    for _ in range(seconds):
        end_c = heated_c(cup, power, start_c=end_c, seconds=1.0)
    assume(start_c + 20 < end_c < RIG.plastic.scorch_c)
    found = RIG.power(RIG.run(mass_g=mass_g, start_c=start_c, end_c=end_c, seconds=seconds))
    kept_w = power.kept_w(cup, start_c=room_c, to_c=RIG.plastic.shot_c)
    assert found.power_w == pytest.approx(kept_w, rel=0.02)
    back_w = fed_w(cup, kept_w=found.power_w, start_c=room_c, to_c=RIG.plastic.shot_c, room_c=room_c)
    assert back_w == pytest.approx(heater_w, rel=0.02)


def test_no_weighing_before_every_opening_card_is_read() -> None:
    state = begin(RIG, shelf().cautions)
    shown: list[Caution] = []
    while state.at is At.CAUTIONS:
        with pytest.raises(IllegalMove, match="reading cautions"):
            state.weighed(200.0)
        shown += state.card
        state = state.acknowledged()
    assert [each.name for each in shown] == [each.name for each in shelf().cautions if each.at_start]
    assert state.at is At.WEIGH


def test_a_run_from_the_scale_to_the_power() -> None:
    state = heating().stopped(at(120)).end_read(118.0)
    assert state.at is At.DONE
    # By hand: (230 g x 1800 + 180 g x 830 J/kg/K) x 96 K / 120 s.
    assert state.runs[0].kept_w == pytest.approx((0.230 * 1800 + 0.180 * 830) * 96 / 120)
    found = measured(RIG, state.runs)
    assert 440 < found.power.power_w < state.runs[0].kept_w
    assert 5 < found.power.spread_w < 12
    assert found.profile_w == 400.0
    # By hand: the cup from 18 to 170 degC at 400 W, and the same heat at what was measured.
    assert found.before_s == pytest.approx(152 * (0.230 * 1800 + 0.180 * 830) / 400)
    assert found.after_s == pytest.approx(found.before_s * 400 / found.power.power_w)
    assert found.notes[0].startswith("Loads smaller than 230 g absorb less")
    words = source_words(found, "2026-11-25")
    assert words.startswith("measured at this bench: 2026-11-25, 1 run: 230 g from 22 to 118 degC in 120 s; +-")


def test_runs_come_together_and_notes_say_what_is_amiss() -> None:
    state = heating().stopped(at(120)).end_read(118.0).again().weighed(100.0).start_read(20.0).heated(at(900))
    found = measured(RIG, state.stopped(at(960)).end_read(140.0).runs)
    assert len(found.runs) == 2
    assert any("unlike" in note for note in found.notes)
    assert any("further apart" in note for note in found.notes)
    alone = measured(RIG, [RIG.run(mass_g=230.0, start_c=22.0, end_c=60.0, seconds=150.0)])
    assert alone.doubt in alone.notes
    assert any("far from the 400 W" in note for note in alone.notes)


def test_more_than_half_the_vessel_is_refused_with_what_it_takes() -> None:
    # 50 % of 500 ml at 1.03 g/ml cold, which is 1.03 / (1 + 6e-4 x 150) in the band at 170 degC, by hand.
    with pytest.raises(BenchError, match="237 g is more than this vessel may hold: 50 % of 500 ml, 236 g"):
        read_cards().weighed(237.0)
    assert read_cards().weighed(236.0).at is At.START


def test_a_calibration_and_a_plan_fill_the_vessel_alike() -> None:
    assert math.floor(vessel_room_g(RIG.station.vessel, RIG.plastic)) == RIG.most_g


@pytest.mark.parametrize("start_c", [-5.0, 72.0])
def test_a_start_that_is_not_the_rooms_is_refused(start_c: float) -> None:
    with pytest.raises(BenchError, match="as cold as the room"):
        read_cards().weighed(230.0).start_read(start_c)


def test_a_figure_of_the_other_scale_is_told() -> None:
    start = meant_start(72.0, UnitSystem.METRIC)
    assert start is not None
    assert start.value_c == pytest.approx(22.2, abs=0.1)
    end = meant_end(RIG, 22.0, 244.0, UnitSystem.METRIC)
    assert end is not None
    assert (end.why, round(end.value_c)) == (Slip.FAHRENHEIT, 118)
    typed_in_f = meant_start((22.0 - 32) / 1.8, UnitSystem.US)
    assert typed_in_f is not None
    assert typed_in_f.why is Slip.CELSIUS
    assert typed_in_f.value_c == pytest.approx(22.0)
    assert meant_end(RIG, 22.0, 118.0, UnitSystem.METRIC) is None


def test_a_time_too_short_leaves_the_clock_running() -> None:
    state = heating()
    with pytest.raises(BenchError, match="4 s is too short"):
        state.stopped(at(4))
    assert state.at is At.HEATING
    assert state.stopped(at(60)).seconds == pytest.approx(60.0)


def test_an_end_that_does_not_rise_leaves_the_run_open() -> None:
    state = heating().stopped(at(60))
    with pytest.raises(BenchError, match="did not get warmer"):
        state.end_read(22.0)
    assert state.end_read(80.0).at is At.DONE


def test_a_reading_over_the_scorch_limit_stands_until_it_is_acknowledged() -> None:
    state = heating().stopped(at(60)).end_read(200.0)
    assert (state.at, state.over_c, state.runs) == (At.ALARM, 200.0, ())
    with pytest.raises(IllegalMove):
        state.end_read(170.0)
    with pytest.raises(IllegalMove):
        state.again()
    with pytest.raises(IllegalMove):
        state.back()
    assert state.acknowledged().at is At.END
    at_start = read_cards().weighed(230.0).start_read(220.0)
    assert at_start.at is At.ALARM
    assert at_start.acknowledged().at is At.START
    with pytest.raises(Scorched, match="scorches above 190 °C"):
        RIG.run(mass_g=230.0, start_c=22.0, end_c=200.0, seconds=60.0)


def test_back_reads_the_start_of_a_heated_cup_anew() -> None:
    assert heating().back().at is At.START
    assert heating().stopped(at(60)).back().at is At.START
    done = heating().stopped(at(60)).end_read(80.0)
    assert (done.back().at, done.back().runs) == (At.END, ())
    with pytest.raises(IllegalMove):
        read_cards().back()


def test_the_clock_is_asked_for_one_first_burst() -> None:
    state = heating(18.0)
    # 60 % of the rise from 18 to 170 degC at the profile's 400 W, by hand.
    assert state.first_burst_s() == pytest.approx(0.6 * 152 * (0.230 * 1800 + 0.180 * 830) / 400)
    assert state.band_s() == pytest.approx(state.first_burst_s() / 0.6)
    assert read_cards().first_burst_s() == 0.0


def test_the_words_of_heating_and_of_scorching_are_the_shelfs() -> None:
    in_sight = [each.name for each in heating_cautions(shelf())]
    assert in_sight[:2] == ["fan-on", "sticks-to-skin"]
    assert {"respirator", "never-leave", "overheating", "no-metal-in-microwave"} <= set(in_sight)
    assert len(set(in_sight)) == len(in_sight)
    assert {"scorched", "do-not-carry"} == {each.name for each in scorch_cautions(shelf())}


@pytest.mark.parametrize(("seconds", "end_c"), [(11, 185.0), (20, 185.0)])
def test_more_than_a_kitchen_heater_gives_is_refused(seconds: int, end_c: float) -> None:
    # By hand: (230 g x 1800 + 180 g x 830 J/kg/K) x 163 K is 94.8 kJ, 4738 W in 20 s.
    state = heating().stopped(at(seconds))
    with pytest.raises(BenchError, match="more than 2000 W, which no kitchen heater does"):
        state.end_read(end_c)
    assert state.runs == ()


def test_figures_that_no_cup_reads_are_refused_without_an_alarm() -> None:
    for figure in (20340.0, 401.0):
        with pytest.raises(BenchError, match="no cup of plastic reads"):
            heating().stopped(at(120)).end_read(figure)
        with pytest.raises(BenchError, match="no cup of plastic reads"):
            read_cards().weighed(230.0).start_read(figure)
    assert heating().stopped(at(120)).end_read(400.0).at is At.ALARM


def test_a_reading_over_the_scorch_limit_is_believed_where_nothing_is_likelier() -> None:
    ended = heating().stopped(at(120))
    meant = ended.likelier(340.0, UnitSystem.METRIC)
    assert meant is not None
    # By definition: (340 - 32) / 1.8.
    assert (round(meant.value_c), meant.why) == (171, Slip.FAHRENHEIT)
    # After so long a heating the cup is over its limit by the profile's own power, and 91 degC is too cold for it.
    assert heating().stopped(at(300)).likelier(195.0, UnitSystem.METRIC) is None
    assert ended.likelier(399.0, UnitSystem.METRIC) is None
    assert ended.likelier(118.0, UnitSystem.METRIC) is None
    cold = read_cards().weighed(230.0)
    slip = cold.likelier(220.0, UnitSystem.METRIC)
    assert slip is not None
    assert (slip.value_c, slip.why) == (20.0, Slip.DIGIT_TOO_MANY)


def test_a_surer_power_is_not_replaced_by_a_rougher_one_without_a_word() -> None:
    done = heating().stopped(at(120)).end_read(118.0)
    found = measured(done.rig, done.runs)
    assert not found.doubt
    saved = done.saved(found.power.power_w, source_words(found, "2026-11-25"))
    assert not measured(saved.rig, saved.runs).doubt, "as sure as what stands there"
    short = saved.rig.run(mass_g=230.0, start_c=22.0, end_c=50.0, seconds=35.6)
    rough = measured(saved.rig, [short])
    assert rough.power.spread_w > found.power.spread_w
    assert f"were measured, give or take {found.power.spread_w:.0f} W, which is surer" in rough.doubt
    assert f"{round(found.power.power_w)} W of the profile" in rough.doubt
    by_plate = saved.by_profile(saved.rig.station.heater, {POWER_KEY: "its plate; +-1 W"})
    assert "surer" not in measured(by_plate.rig, [short]).doubt


def test_what_is_saved_is_the_profiles_power_from_then_on() -> None:
    done = heating().stopped(at(120)).end_read(50.0)
    assert measured(done.rig, done.runs).doubt
    saved = done.saved(109.4, "measured by hand")
    again = measured(saved.rig, saved.runs)
    assert (again.profile_w, again.doubt) == (109.0, "")
