"""A mould that is left on its plate or in its warm air: what is known of it, and when it is to be read.

What it really does is integrated here, apart from the session's own: C dT/dt = G (T_plate - T) - U A (T - T_room).
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache, partial

import pytest

from bench.model.recipe import Build
from bench.model.station import Station, WarmedBy, Warming
from bench.session.events import MouldRead
from bench.session.prepare import followed
from bench.session.readings import expected
from bench.session.session import Session
from bench.session.view import MouldView, view
from bench.session.warmth import Estimate, anchored, mould_now
from bench.session.warned import WarningKind
from tests.plan.bench_records import MOULD, PLASTIC, ROOM_C, STATION, job_of
from tests.session.bench_sessions import Maker, job

LOW_C, HIGH_C = MOULD.warm_c
MIDDLE_C = (LOW_C + HIGH_C) / 2
CAPACITY_J_K = 1.5 * 896.0
LOSS_W_K = 8.0 * 0.05
PLATES_C = [50.0, 60.0, 80.0, 110.0, 140.0]
MOMENTS_S = [30.0, 90.0, 150.0, 200.0, 300.0, 540.0, 1200.0, 3600.0]


def with_warming(warming: Warming, *, moulds: int = 1) -> Maker:
    """A maker before an idle plain session on a bench that warms its moulds so."""
    station: Station = replace(STATION, warming=warming)
    plan, script = followed(
        job_of(Build.PLAIN, station=station, count=8, moulds=moulds), mould=MOULD, plastic=PLASTIC, station=station
    )
    made = replace(job(Build.PLAIN, moulds=moulds), station=station, plan=plan, script=script)
    return Maker(session=Session(job=made))


def on_the_plate(plate_c: float | None = None, *, moulds: int = 1) -> Maker:
    hands = with_warming(Warming(absorbed_w=220.0, plate_c=plate_c), moulds=moulds)
    hands.walk_to("warm-mould")
    return hands


def in_warm_air() -> Maker:
    hands = with_warming(Warming(by=WarmedBy.AIR, air_c=90.0, film_w_m2k=40.0))
    hands.walk_to("warm-mould")
    return hands


def after(hands: Maker, seconds: float) -> Estimate:
    hands.clock.advance(seconds)
    known = mould_now(hands.session, hands.now())
    assert known is not None
    return known


def seen(hands: Maker, number: int = 1) -> MouldView:
    return view(hands.session, hands.now()).moulds[number - 1]


def true_c(plate_c: float, contact_w_k: float, seconds: float, *, loss_w_k: float = LOSS_W_K) -> float:
    temp_c, steps = ROOM_C, max(1, round(seconds))
    for _ in range(steps):
        fed_w, lost_w = contact_w_k * (plate_c - temp_c), loss_w_k * (temp_c - ROOM_C)
        temp_c += (fed_w - lost_w) / CAPACITY_J_K * seconds / steps
    return temp_c


@lru_cache
def contact_of(plate_c: float, way_s: float) -> float:
    """What lies between such a plate and its mould where that comes to the middle of its window in that time."""
    least, most = 0.1, 500.0
    for _ in range(60):
        tried = (least + most) / 2
        least, most = (tried, most) if true_c(plate_c, tried, way_s) < MIDDLE_C else (least, tried)
    return least


@pytest.mark.parametrize("strength", [0.7, 1.0, 1.4])
@pytest.mark.parametrize("plate_c", PLATES_C)
def test_what_nobody_knows_of_a_plate_is_left_open_and_covers_what_a_mould_does_there(
    plate_c: float, strength: float
) -> None:
    """A plate may take more or less of its time than the profile has: a starting value, no source."""
    for seconds in MOMENTS_S:
        hands = on_the_plate()
        truth_c = true_c(plate_c, strength * contact_of(plate_c, hands.session.step.length_s), seconds)
        known = after(hands, seconds)
        assert known.temp_c - 2 * known.spread_k <= truth_c <= known.temp_c + 2 * known.spread_k
        assert known.temp_c <= MIDDLE_C, "and no figure is made up"
        if truth_c > HIGH_C:
            assert known.warmed_s == pytest.approx(seconds)


@pytest.mark.parametrize("plate_c", PLATES_C[1:])
def test_on_a_plate_of_known_temperature_it_nears_that(plate_c: float) -> None:
    for seconds in MOMENTS_S:
        hands = on_the_plate(plate_c)
        truth_c = true_c(plate_c, contact_of(plate_c, hands.session.step.length_s), seconds)
        known = after(hands, seconds)
        assert known.rise_k == 0
        assert abs(known.temp_c - truth_c) <= 2 * known.spread_k
        assert known.temp_c == pytest.approx(truth_c, abs=0.2)


def test_in_a_blast_it_nears_the_air() -> None:
    """h A (T_air - T) alone, integrated: all of the mould stands in the blast."""
    for seconds in MOMENTS_S:
        truth_c = true_c(90.0, 40.0 * 0.05, seconds, loss_w_k=0.0)
        assert after(in_warm_air(), seconds).temp_c == pytest.approx(truth_c, abs=0.2)


@pytest.mark.parametrize("plate_c", [None, 44.0, 60.0])
def test_plan_and_session_have_it_ready_at_the_same_moment(plate_c: float | None) -> None:
    hands = on_the_plate(plate_c)
    length_s = hands.session.step.length_s
    assert length_s == pytest.approx(hands.session.job.plan.warm_mould_s)
    aim_c = 42.0 if plate_c == 44.0 else MIDDLE_C
    assert after(hands, length_s).temp_c == pytest.approx(aim_c, abs=0.01)


def test_one_that_stands_in_a_plate_set_to_its_window_never_asks_for_more_than_a_reading() -> None:
    hands = on_the_plate(44.0)
    known = after(hands, 3600.0)
    assert LOW_C < known.temp_c < 44.0 + 0.01
    assert known.warmed_s is None


def test_what_is_looked_at_on_the_way_is_the_same_as_what_is_looked_at_once() -> None:
    for hands_of in (on_the_plate, partial(on_the_plate, 80.0), in_warm_air):
        often, once = hands_of(), hands_of()
        for _ in range(10):
            known = after(often, 60.0)
            often.session = anchored(often.session, often.now())
        last = after(once, 600.0)
        assert known.temp_c == pytest.approx(last.temp_c)
        assert known.spread_k == pytest.approx(last.spread_k)
        assert known.rise_k == pytest.approx(last.rise_k)


class TestReading:
    def test_it_is_to_be_read_from_when_it_may_be_over_its_window(self) -> None:
        hands = on_the_plate()
        hands.clock.advance(60)
        assert seen(hands).warmed_s is None, "it had no time to become too hot"
        hands.clock.advance(480)
        mould = seen(hands)
        assert mould.warmed_s == pytest.approx(540)
        assert mould.at_least
        assert mould.is_warmed

    def test_a_reading_answers_it_and_the_time_counts_anew(self) -> None:
        hands = on_the_plate()
        hands.clock.advance(540)
        hands.read(38.0)
        assert hands.session.doubted is None
        assert seen(hands).warmed_s is None
        assert seen(hands).temp_c == pytest.approx(38.0)
        hands.clock.advance(100)
        assert seen(hands).warmed_s == pytest.approx(100)

    @pytest.mark.parametrize("read_c", [52.0, 75.0, 98.0])
    def test_a_hot_one_is_believed_at_once_where_it_had_the_time_for_it(self, read_c: float) -> None:
        hands = on_the_plate()
        hands.clock.advance(540)
        hands.read(read_c)
        assert hands.session.doubted is None
        known = mould_now(hands.session, hands.now())
        assert known is not None
        assert known.temp_c == pytest.approx(read_c, abs=0.5)
        assert seen(hands).against_window == 1

    def test_one_that_is_asked_about_was_expected_no_colder_than_the_estimate(self) -> None:
        hands = on_the_plate()
        hands.clock.advance(540)
        told = expected(hands.session, MouldRead(at=hands.now(), temp_c=300.0))
        assert told is not None
        assert (told.range_c, told.at_least) == (None, True)
        young = on_the_plate()
        told = expected(young.session, MouldRead(at=young.now(), temp_c=300.0))
        assert told is not None
        assert not told.at_least

    def test_and_not_where_it_had_not(self) -> None:
        hands = on_the_plate()
        hands.clock.advance(100)
        hands.read(98.0)
        assert hands.session.doubted is not None

    def test_a_plate_hotter_than_moulds_get_is_no_reason_to_doubt_its_mould(self) -> None:
        hands = on_the_plate(190.0)
        known = after(hands, 3600.0)
        hands.read(known.temp_c - 3.0)
        assert hands.session.doubted is None

    def test_of_several_on_one_plate_each_is_told_apart(self) -> None:
        hands = on_the_plate(moulds=2)
        hands.clock.advance(400)
        hands.read(45.0)
        assert hands.tick()
        assert seen(hands, 1).warmed_s is None
        assert seen(hands, 2).warmed_s == pytest.approx(400)


class TestTakenOff:
    def taken_off(self, plate_s: float) -> Maker:
        hands = on_the_plate()
        hands.clock.advance(plate_s)
        hands.press()
        return hands

    def test_what_was_left_open_stays_so_until_it_is_read(self) -> None:
        hands = self.taken_off(540)
        hands.walk_to("m1.warm-up1.shot")
        mould = seen(hands)
        assert mould.at_least
        assert not mould.is_warmed
        told = [
            each for each in view(hands.session, hands.now()).warnings if each.kind is WarningKind.MOULD_UNREAD
        ]
        assert [(each.mould, each.at_shot, each.by) for each in told] == [(1, True, WarmedBy.PLATE)]
        assert told[0].value == pytest.approx(540)
        hands.happen(MouldRead(at=hands.now(), mould=1, temp_c=47.0))
        assert seen(hands).warmed_s is None
        kinds = {each.kind for each in view(hands.session, hands.now()).warnings}
        assert WarningKind.MOULD_UNREAD not in kinds

    def test_one_that_was_taken_off_in_time_is_as_ready_as_the_maker_says(self) -> None:
        hands = self.taken_off(155)
        hands.walk_to("m1.warm-up1.shot")
        assert seen(hands).warmed_s is None
        assert not view(hands.session, hands.now()).warnings

    def test_it_cools_with_all_that_was_left_open(self) -> None:
        hands = self.taken_off(540)
        first, later = after(hands, 0.0), after(hands, 1800.0)
        assert 0 < later.rise_k < first.rise_k
        excess = (later.temp_c + later.rise_k - ROOM_C) / (first.temp_c + first.rise_k - ROOM_C)
        assert excess == pytest.approx((later.temp_c - ROOM_C) / (first.temp_c - ROOM_C))

    def test_scrap_shots_leave_nothing_open_but_how_much_heat_they_left(self) -> None:
        hands = with_warming(Warming(by=WarmedBy.SHOTS))
        hands.walk_to("r1.shot.shot")
        known = mould_now(hands.session, hands.now())
        assert known is not None
        assert (known.rise_k, known.warmed_s) == (0.0, None)
