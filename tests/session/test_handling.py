"""When what was just opened may be touched."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build
from bench.physics.substance import Substance
from bench.physics.touch import left_hottest_c, time_to_touch
from bench.session.events import MouldRead, SkipReason, StepSkipped
from bench.session.handling import TouchView
from bench.session.session import Session
from bench.session.stamp import span
from bench.session.view import view
from bench.session.warmth import mould_now
from tests.session.bench_sessions import Maker, job, maker

SOFT = Substance(k_w_mk=0.16, rho_kg_m3=1030.0, c_j_kgk=1800.0)


def touch(hands: Maker) -> TouchView:
    seen = view(hands.session, hands.now()).touch
    assert seen is not None
    return seen


def opening() -> Maker:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.open")
    return hands


def test_it_is_the_physics_from_the_temperature_of_opening() -> None:
    expected = time_to_touch(SOFT, body_mm=10.0, start_c=60.0, around_c=20.0, film_w_m2k=10.0)
    seen = touch(opening())
    assert seen.brief_s == pytest.approx(expected.brief_s, rel=0.01)
    assert seen.bare_s == pytest.approx(expected.bare_s, rel=0.01)


def test_it_counts_from_the_opening_through_the_look() -> None:
    hands = opening()
    before = touch(hands)
    opened = hands.now()
    hands.walk_to("r1.look")
    gone_s = span(opened, hands.now()).seconds
    assert touch(hands).brief_s == pytest.approx(max(0.0, before.brief_s - gone_s))
    assert touch(hands).bare_s == pytest.approx(max(0.0, before.bare_s - gone_s))
    hands.clock.advance(5000)
    assert (touch(hands).brief_s, touch(hands).bare_s) == (0, 0)


def test_bare_hands_wait_longer() -> None:
    seen = touch(opening())
    assert 0 < seen.brief_s < seen.bare_s


def test_a_mould_opened_early_holds_hotter_baits() -> None:
    early = maker(Build.PLAIN, warm_up_shots=0)
    early.walk_to("r1.shot.set")
    early.happen(StepSkipped(at=early.now(), step="r1.shot.set", reason=SkipReason.NO_TIME))
    assert touch(early).brief_s > touch(opening()).brief_s


def test_what_lay_in_its_mould_for_long_comes_out_as_cool_as_the_mould() -> None:
    """The hottest point of a bait nears its mould: at the room's 20 degC it may be touched at once."""
    late = maker(Build.PLAIN, warm_up_shots=0)
    late.walk_to("r1.shot.set")
    late.clock.advance(6 * 3600)
    late.press()
    assert late.session.step.id == "r1.shot.open"
    assert (touch(late).brief_s, touch(late).bare_s) == (0.0, 0.0)


def test_a_few_minutes_more_in_the_mould_shorten_the_wait_and_never_below_physics() -> None:
    waits = []
    for more_s in (0.0, 60.0, 180.0, 600.0, 1800.0):
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.shot.set")
        step = hands.session.step
        shot = hands.session.ended(step.since)
        assert shot is not None
        hands.clock.advance(step.length_s - span(shot, hands.now()).seconds + more_s)
        while hands.session.step.id != "r1.shot.open":
            hands.press()
        estimate = mould_now(hands.session, hands.now())
        assert estimate is not None
        # Cooled for all that time against the mould as cool as it is at the end.
        coolest = left_hottest_c(
            SOFT, body_mm=10.0, start_c=60.0, mould_c=estimate.temp_c, seconds=more_s, film_w_m2k=1000.0
        )
        least = time_to_touch(SOFT, body_mm=10.0, start_c=coolest, around_c=20.0, film_w_m2k=10.0)
        seen = touch(hands)
        assert seen.bare_s >= least.bare_s - 1
        waits.append(seen.bare_s)
    assert waits == sorted(waits, reverse=True)
    assert waits[-1] < waits[0]


def test_a_hot_mould_is_told_of_too() -> None:
    hands = opening()
    for _ in range(2):
        hands.happen(MouldRead(at=hands.now(), temp_c=55.0))
    seen = touch(hands)
    assert seen.mould_brief_s is not None
    assert seen.mould_bare_s is not None
    assert 0 < seen.mould_brief_s < seen.mould_bare_s


def test_a_room_too_hot_says_nothing() -> None:
    made = job(Build.PLAIN, count=8, warm_up_shots=0)
    hot = replace(made.station, room=replace(made.station.room, temperature_c=44.0))
    hands = opening()
    moved = replace(hands.session, job=replace(made, station=hot))
    assert view(moved, hands.now()).touch is None
    assert isinstance(moved, Session)


def test_it_is_shown_where_something_just_opened_is_touched() -> None:
    hands = maker(Build.CORE)
    hands.press()
    shown = set()
    while hands.session.next_step is not None:
        if view(hands.session, hands.now()).touch is not None:
            shown.add(hands.session.step.kind)
        hands.finish_step()
    assert {str(kind) for kind in shown} == {"open", "look at shells", "look at baits", "lay out"}
