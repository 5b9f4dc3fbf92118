"""A cup that had its last shot is as hot as before: it goes on being reckoned, shown and read until it is cool.

43 °C is the burn threshold of ISO 13732-1:2006 for 8 h and any material (from memory).
"""

from __future__ import annotations

import pytest

from bench.model.recipe import Build, Part
from bench.session.bodies import EMPTY_ML
from bench.session.events import CupRead
from bench.session.view import view
from bench.session.warmth import cup_now
from tests.session.bench_sessions import Maker, maker

BARE_C = 43.0


def emptied() -> Maker:
    """After the last shot, which leaves nothing in the core cup."""
    hands = maker(Build.CORE, warm_up_shots=0)
    hands.walk_to("heat-off")
    core = view(hands.session, hands.now()).cups[1]
    assert core.part is Part.CORE
    assert core.held_ml < EMPTY_ML
    return hands


def core_c(hands: Maker) -> float:
    temp_c = view(hands.session, hands.now()).cups[1].temp_c
    assert temp_c is not None
    return temp_c


def test_it_is_not_cold_because_nothing_can_be_shot_of_it() -> None:
    hands = emptied()
    assert cup_now(hands.session, Part.CORE, hands.now()) is None
    assert core_c(hands) > 100
    before_c = core_c(hands)
    while core_c(hands) > BARE_C:
        hands.clock.advance(300)
        assert core_c(hands) < before_c
        before_c = core_c(hands)
    hands.clock.advance(12 * 3600)
    assert core_c(hands) == pytest.approx(hands.session.job.station.room.temperature_c, abs=1)


def test_nothing_is_learnt_nor_warned_of_it_nor_spent() -> None:
    hands = emptied()
    spent_pct = view(hands.session, hands.now()).cups[1].spent_pct
    hands.clock.advance(600)
    seen = view(hands.session, hands.now())
    assert seen.cups[1].spent_pct == spent_pct
    assert Part.CORE not in {each.part for each in seen.warnings}
    marks = hands.session.cup_marks
    hands.happen(CupRead(at=hands.now(), part=Part.CORE, temp_c=core_c(hands) - 10))
    assert hands.session.cup_marks == marks


def test_it_can_be_read_and_its_figure_is_asked_about_as_any_other() -> None:
    hands = emptied()
    assert Part.CORE in view(hands.session, hands.now()).in_hand.cups
    hands.happen(CupRead(at=hands.now(), part=Part.CORE, temp_c=30.0))
    assert hands.session.doubted is not None
    assert core_c(hands) > 100
