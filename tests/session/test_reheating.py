"""A cup that went cold before its shot: one key puts it back on the heat, and the shot follows."""

from __future__ import annotations

import pytest

from bench.errors import IllegalMove
from bench.model.recipe import Build, Part
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import Asked, asks_first
from bench.session.choices import held_ml
from bench.session.events import ReheatWanted, WentBack
from bench.session.session import Session
from bench.session.taken import PUT_OFF, steps_taken
from bench.session.view import view
from bench.session.warned import WarningKind
from tests.session.bench_sessions import Maker, maker, placed


def at_a_cold_shot(step_id: str, build: Build, *, moulds: int = 1, cup_c: float | None = None) -> Maker:
    """At that shot, a quarter of an hour too late, or with its cup at that temperature now."""
    hands = maker(build, moulds=moulds)
    hands.walk_to(step_id)
    if cup_c is None:
        hands.clock.advance(900.0)
        return hands
    hands.session = placed(hands.session, hands.now(), cup_c=cup_c)
    return hands


def back(hands: Maker) -> None:
    hands.happen(drive.back(hands.session, hands.now()))


def reheated(hands: Maker) -> None:
    """Until the burst is over and the cup reads in its band."""
    hands.put_on()
    hands.clock.advance(60.0)
    hands.read(170.0)
    assert hands.session.doubted is None
    assert hands.tick()


CASES = [
    (Build.PLAIN, 1, "r1.shot.shot", "r1.heat.body"),
    (Build.CORE, 1, "r1.core.shot", "r1.heat.core"),
    (Build.CORE, 2, "r1.core.shot", "r1.heat.core"),
    (Build.CORE, 2, "m2.warm-up1.shot", "m1.warm-up1.heat.shell"),
    (Build.LAMINATE, 1, "r1.shot.shot", "r1.heat.side_b"),
]


@pytest.mark.parametrize(("build", "moulds", "shot", "heating"), CASES)
def test_back_at_a_cold_shot_heats_its_cup_and_the_shot_follows(
    build: Build, moulds: int, shot: str, heating: str
) -> None:
    hands = at_a_cold_shot(shot, build, moulds=moulds)
    back(hands)
    assert hands.session.step.id == heating
    assert hands.session.waits_to_begin
    hands.press()
    seen = view(hands.session, hands.now())
    assert seen.next_step is not None
    assert seen.next_step.id == shot
    assert seen.coming[0].step.id == shot
    burst = seen.burst
    assert burst is not None
    assert burst.heating
    reheated(hands)
    assert hands.session.step.id == shot


def test_a_shot_that_was_put_off_for_its_heat_was_not_left_out() -> None:
    hands = at_a_cold_shot("r1.core.shot", Build.CORE, moulds=1)
    back(hands)
    reheated(hands)
    hands.press()
    ended = [step.ended for step in steps_taken(hands.session) if step.id == "r1.core.shot"]
    assert ended == [PUT_OFF, "by hand"]


def test_no_shot_is_counted_for_having_gone_to_the_heat() -> None:
    hands = at_a_cold_shot("m2.warm-up1.shot", Build.CORE, moulds=2)
    before = held(hands.session)
    back(hands)
    reheated(hands)
    assert held(hands.session) == before, "nor is the one before it taken back"
    hands.press()
    assert held(hands.session) < before


def held(session: Session) -> float:
    return held_ml(session, Part.SHELL, session.job.plan.melt(Part.SHELL, 1))


def test_from_there_back_returns_to_the_shot_and_then_further_back() -> None:
    hands = at_a_cold_shot("r1.core.shot", Build.CORE)
    back(hands)
    back(hands)
    assert hands.session.step.id == "r1.core.shot"
    assert isinstance(drive.back(hands.session, hands.now()), WentBack)


def test_a_second_cup_can_go_after_the_first() -> None:
    hands = at_a_cold_shot("r1.shot.shot", Build.LAMINATE)
    back(hands)
    first = hands.session.step.parts
    reheated(hands)
    back(hands)
    assert hands.session.step.kind is StepKind.HEAT
    assert hands.session.step.parts != first
    reheated(hands)
    assert hands.session.step.id == "r1.shot.shot"


def test_the_whole_session_goes_on_to_its_end_after_it() -> None:
    hands = at_a_cold_shot("r1.core.shot", Build.CORE, moulds=2)
    back(hands)
    hands.walk_to_the_end()
    assert hands.session.state.over


def test_in_its_band_back_is_one_step_back() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("r1.shot.shot")
    assert isinstance(drive.back(hands.session, hands.now()), WentBack)


def test_only_a_cup_of_the_shot_at_hand_goes_back_on_the_heat() -> None:
    hands = maker(Build.CORE)
    hands.walk_to("r1.shell.shot")
    with pytest.raises(IllegalMove, match="no shot of the core cup"):
        hands.happen(ReheatWanted(at=hands.now(), part=Part.CORE))
    hands.walk_to("r1.shell.hold")
    with pytest.raises(IllegalMove, match="no shot of the shell cup"):
        hands.happen(ReheatWanted(at=hands.now(), part=Part.SHELL))


def test_the_one_key_asks_before_it_shoots_from_a_cup_outside_its_band() -> None:
    assert asked(at_a_cold_shot("r1.shot.shot", Build.PLAIN)) is Asked.COLD
    assert asked(at_a_cold_shot("r1.shot.shot", Build.PLAIN, cup_c=188.0)) is Asked.HOT
    assert asked(at_a_cold_shot("r1.shot.shot", Build.PLAIN, cup_c=164.8)) is None, "within what is known of it"


def asked(hands: Maker) -> Asked | None:
    return asks_first(hands.session, hands.now())


def test_the_warning_knows_whether_the_shot_is_at_hand() -> None:
    seen = view((hands := at_a_cold_shot("r1.shot.shot", Build.PLAIN)).session, hands.now())
    assert [each.at_shot for each in seen.warnings if each.kind is WarningKind.CUP_COLD] == [True]
