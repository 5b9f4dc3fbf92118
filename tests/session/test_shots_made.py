"""Every shot that went into a bait."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Part
from bench.session.events import WentBack
from bench.session.made_again import outside_words, shot_words, tails_words
from bench.session.shots_made import ShotMade, shot_made, shots_made
from bench.session.story import story
from tests.session.bench_sessions import Maker, maker, placed


def made(hands: Maker) -> tuple[ShotMade, ...]:
    return shots_made(hands.session.job, hands.events)


def test_each_shot_is_told_with_cup_mould_and_set() -> None:
    hands = maker(count=8)
    hands.walk_to_the_end()
    plan = hands.session.job.plan
    shots = made(hands)
    assert [(each.step.round, each.shot) for each in shots] == [
        (each.round, shot.shot) for each in plan.rounds_table for shot in each.shots
    ]
    low_c, high_c = hands.session.job.plastic.band_c
    for each in shots:
        assert all(low_c <= temp_c <= high_c for temp_c in each.cups_c.values())
        assert each.set_s is not None
        assert each.set_s >= each.planned_set_s - 1
        assert each.outside == ()


def test_a_mould_that_is_still_closed_has_no_set() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.shell.set")
    (only,) = made(hands)
    assert only.set_s is None
    assert shot_words(only, "{:.0f}".format, "{:.0f} s".format).endswith("not opened")


def test_a_mould_that_nobody_read_on_its_plate_is_told_as_no_colder_than_its_estimate() -> None:
    hands = maker(count=4)
    hands.walk_to("warm-mould")
    hands.clock.advance(900)
    hands.press()
    hands.walk_to("r1.shell.set")
    (only,) = made(hands)
    assert only.mould_rise_k > 20
    assert " or more, not opened" in shot_words(only, "{:.0f}".format, "{:.0f} s".format)
    read = maker(count=4)
    read.walk_to("r1.shell.set")
    (only,) = made(read)
    assert only.mould_rise_k == 0
    assert "or more" not in shot_words(only, "{:.0f}".format, "{:.0f} s".format)


def test_a_mould_opened_late_has_set_longer() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.shell.open")
    (only,) = made(hands)
    assert only.set_s == pytest.approx(only.planned_set_s, abs=1)
    late = maker(count=4)
    late.walk_to("r1.shell.set")
    late.clock.advance(900)
    late.press()
    (only,) = made(late)
    assert only.set_s is not None
    assert only.set_s > 900


def test_a_shot_that_was_taken_back_is_none() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.shell.hold")
    assert len(made(hands)) == 1
    hands.happen(WentBack(at=hands.now()))
    assert made(hands) == ()


def test_what_was_outside_its_range_is_told_with_its_estimate() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.shell.shot")
    now = hands.now()
    cold = placed(hands.session, now, cup_c=150.0, mould_c=62.0)
    shot = shot_made(cold, now)
    assert shot is not None
    assert [(each.part, each.above) for each in shot.outside] == [(Part.SHELL, False), (None, True)]
    (cup, cup_c), (mould, mould_c) = outside_words(shot)
    assert cup == "round 1, shell shot: the shell cup was under its band, by the estimate"
    assert mould == "round 1, shell shot: its mould was over its window, by the estimate"
    assert cup_c == pytest.approx(150, abs=0.5)
    assert mould_c == pytest.approx(62, abs=0.5)


def test_how_long_shells_were_out_before_their_core_is_told_with_its_limit_where_it_was_longer() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.shell.open")
    hands.finish_step()
    opened = hands.session.visits[-1].entered
    hands.walk_to("r1.core.hold")
    shell, core = made(hands)
    assert shell.shells_out_s is None
    assert core.shells_out_s == pytest.approx(core.at.elapsed_s - opened.elapsed_s)
    said = shot_words(core, "{:.0f}".format, "{:.0f} s".format)
    assert f", shells out for {core.shells_out_s:.0f} s, " in said
    assert core.shells_limit_s == hands.session.job.station.shell_out_s
    late = shot_words(replace(core, shells_limit_s=60.0), "{:.0f}".format, "{:.0f} s".format)
    assert f"shells out for {core.shells_out_s:.0f} s, over the limit of 60 s, " in late


def test_so_little_outside_is_no_fault() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.shell.shot")
    now = hands.now()
    shot = shot_made(placed(hands.session, now, cup_c=164.4, mould_c=39.4), now)
    assert shot is not None
    assert shot.outside == ()


def test_a_late_shot_is_told_in_the_story() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.shell.shot")
    hands.clock.advance(900)
    hands.press()
    cold = next(each for each in story(hands.session.job, hands.events) if "under its band" in each.words)
    assert cold.temp_c is not None
    assert cold.temp_c < 164


def test_tails_are_told_by_round_once_they_were_trimmed() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.trim")
    assert list(tails_words(hands.session)) == []
    hands.finish_step()
    assert list(tails_words(hands.session)) == ["round 1: 4 of 4 tails cut, as the recipe has it"]
    plain = maker(Build.PLAIN, count=4)
    plain.walk_to_the_end()
    assert list(tails_words(plain.session)) == []
