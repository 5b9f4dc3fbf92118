"""What was weighed into which cup."""

from __future__ import annotations

import pytest

from bench.model.recipe import Build, Part
from bench.session.events import CoreChosen, WentBack
from bench.session.made_again import weighing_words
from bench.session.weighings import Anew, Weighing, weighings
from tests.session.bench_sessions import Maker, maker
from tests.session.test_overheated import acknowledged, scorched, thrown_away


def told(hands: Maker) -> list[Weighing]:
    return list(weighings(hands.session.job, hands.events))


def test_every_cup_is_told_once_as_its_plan_weighs_it() -> None:
    hands = maker(count=8)
    hands.walk_to_the_end()
    melts = [melt for part in hands.session.job.plan.parts for melt in part.melts]
    assert sorted((each.melt.part, each.melt.number) for each in told(hands)) == sorted(
        (melt.part, melt.number) for melt in melts
    )
    for each in told(hands):
        assert each.doses == each.melt.doses
        assert each.base_g == pytest.approx(each.melt.base_g)
        assert (each.core, each.anew) == ("", None)


def test_nothing_is_told_as_weighed_before_its_step_is_over() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("ready")
    assert told(hands) == []


def test_gone_back_to_it_is_still_one_cup() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.shell.hold")
    before = told(hands)
    while len(told(hands)) == len(before) and len(hands.session.visits) > 3:
        hands.happen(WentBack(at=hands.now()))
    hands.walk_to("r1.shell.hold")
    assert [each.melt for each in told(hands)] == [each.melt for each in before]


def test_another_core_colour_is_weighed_anew_and_told_with_its_own_doses() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.trim")
    hands.happen(CoreChosen(at=hands.now(), recipe="other", weigh_anew=True))
    hands.walk_to("r1.core.shot")
    core = [each for each in told(hands) if each.melt.part is Part.CORE]
    assert [each.anew for each in core] == [None, Anew.OTHER_CORE]
    last = core[-1]
    assert last.core == hands.session.job.core_title("other")
    (dose,) = last.doses
    assert (dose.colourant, dose.load_pct) == ("pearl", 3.0)
    assert dose.mass_g == pytest.approx(0.03 * last.melt.mass_g)
    assert last.base_g == pytest.approx(0.97 * last.melt.mass_g)


def test_a_cup_that_was_thrown_away_is_told_as_weighed_anew() -> None:
    hands = thrown_away(acknowledged(scorched()))
    hands.walk_to_the_end()
    whose = [each for each in told(hands) if each.anew is not None]
    assert [each.anew for each in whose] == [Anew.SCORCHED]


def test_the_words_give_each_colour_in_percent_and_grams() -> None:
    hands = maker(Build.PLAIN, count=4, warm_up_shots=0)
    hands.walk_to("r1.shot.hold")
    (only,) = told(hands)
    words = weighing_words(only, lambda mass_g: f"{mass_g:.1f} g")
    red, pearl = only.melt.mass_g * 0.01, only.melt.mass_g * 0.002
    assert words.startswith("body cup, for round")
    assert words.endswith(f"plastic {only.base_g:.1f} g, Red 1 % {red:.2f} g, Pearl 0.2 % {pearl:.2f} g")
