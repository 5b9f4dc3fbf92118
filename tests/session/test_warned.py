"""Warnings of the moment: each by its own cause, the most pressing first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.model.step_kind import StepKind
from bench.plan.records import Shot
from bench.session.events import Held
from bench.session.fill import FillVerdict
from bench.session.view import view
from bench.session.warmth import anchored, with_mould
from bench.session.warned import HURRIED_S, BenchWarning, WarningKind
from tests.session.bench_sessions import Maker, maker, placed


def at(step_id: str, build: Build = Build.PLAIN) -> Maker:
    hands = maker(build, tail=Tail.CUT, warm_up_shots=0)
    hands.walk_to(step_id)
    return hands


def having(hands: Maker, *, cup_c: float = 170.0, mould_c: float = 45.0) -> Maker:
    hands.session = placed(hands.session, hands.now(), cup_c=cup_c, mould_c=mould_c)
    return hands


def cooled(hands: Maker, *, mould_c: float) -> Maker:
    """The same of the mould alone."""
    hands.session = placed(hands.session, hands.now(), mould_c=mould_c)
    return hands


def warned(hands: Maker) -> tuple[BenchWarning, ...]:
    return view(hands.session, hands.now()).warnings


def kinds(hands: Maker) -> list[WarningKind]:
    return [each.kind for each in warned(hands)]


def test_a_round_at_the_planned_pace_is_not_warned_of() -> None:
    hands = maker(Build.CORE, tail=Tail.CUT, count=8)
    hands.press()
    while hands.session.next_step is not None:
        assert kinds(hands) == [], hands.session.step.id
        hands.finish_step()


def test_a_cup_that_left_its_band_before_its_shot() -> None:
    (cold,) = warned(having(at("r1.shot.shot"), cup_c=160.0))
    assert (cold.kind, cold.part, cold.limit) == (WarningKind.CUP_COLD, Part.BODY, 165.0)
    assert cold.value == pytest.approx(160.0, abs=1.0)
    (hot,) = warned(having(at("r1.shot.shot"), cup_c=180.0))
    assert (hot.kind, hot.limit) == (WarningKind.CUP_HOT, 175.0)


def test_a_cup_on_the_heat_is_on_its_way() -> None:
    assert kinds(having(at("r1.heat.body"), cup_c=120.0)) == []


def test_a_mould_outside_its_window() -> None:
    seen = warned(having(at("r1.shot.shot"), mould_c=24.0))
    cold = next(each for each in seen if each.kind is WarningKind.MOULD_COLD)
    assert (cold.mould, cold.limit) == (1, 40.0)
    (hot,) = warned(having(at("r1.shot.shot"), mould_c=55.0))
    assert (hot.kind, hot.limit) == (WarningKind.MOULD_HOT, 50.0)


def test_a_mould_just_under_its_window_is_not_called_cold() -> None:
    hands = having(at("r1.heat.body"), mould_c=39.2)
    assert kinds(hands) == []
    assert view(hands.session, hands.now()).moulds[0].against_window == 0
    assert view(having(hands, mould_c=38.8).session, hands.now()).moulds[0].against_window == -1


def test_a_cold_mould_is_no_order_where_the_shot_fills() -> None:
    hands = maker(Build.CORE, tail=Tail.KEPT)
    hands.walk_to("r1.core.shot")
    having(hands, mould_c=37.0)
    fill = view(hands.session, hands.now()).fill
    assert fill is not None
    assert fill.verdict is FillVerdict.FILLS
    assert kinds(hands) == []


class TestAMouldThatCoolsWhileItsCupIsHeated:
    """There is time then to warm it, whether its shot would fill or not."""

    def test_is_told_from_the_first_burst_on_and_not_only_at_its_shot(self) -> None:
        hands = maker(Build.CORE, tail=Tail.KEPT, warm_up_shots=0)
        hands.walk_to("r1.heat.core.on")
        assert kinds(cooled(hands, mould_c=39.5)) == [], "so little is none"
        (cold,) = warned(cooled(hands, mould_c=37.0))
        assert (cold.kind, cold.shot, cold.limit) == (WarningKind.MOULD_COLD, "r1.core.shot", 40.0)
        for step_id in ("r1.shells-back", "r1.heat.core"):
            hands.walk_to(step_id)
            (cold,) = warned(cooled(hands, mould_c=37.0))
            assert (cold.kind, cold.shot) == (WarningKind.MOULD_COLD, "r1.core.shot")
        hands.walk_to("r1.core.shot")
        assert kinds(cooled(hands, mould_c=37.0)) == [], "it fills, and is not held up any more"

    def test_is_not_told_while_no_cup_is_heated_nor_while_it_holds_a_shot(self) -> None:
        hands = maker(Build.CORE, tail=Tail.KEPT, warm_up_shots=0)
        for step_id in ("r1.shell.set", "r1.shell.open", "r1.rods-out", "r1.trim"):
            hands.walk_to(step_id)
            assert kinds(cooled(hands, mould_c=37.0)) == [], step_id

    def test_is_not_told_before_it_was_warmed_for_the_first_time(self) -> None:
        hands = maker(Build.CORE, warm_up_shots=1)
        hands.press()
        while hands.session.step.kind is not StepKind.WARM_UP_SHOT:
            assert kinds(cooled(hands, mould_c=20.0)) == [], hands.session.step.id
            hands.finish_step()

    def test_is_told_of_the_one_that_is_shot_into_next(self) -> None:
        hands = maker(Build.PLAIN, moulds=2, warm_up_shots=0)
        hands.walk_to("r1.shot.shot")
        while hands.session.step.kind is not StepKind.HEAT:
            hands.finish_step()
        shot = next(step for step in hands.session.ahead if step.kind is StepKind.SHOT)
        session = anchored(hands.session, hands.now())
        for number in (1, 2):
            session = with_mould(session, number, replace(session.moulds[number], temp_c=36.0))
        (cold,) = (each for each in view(session, hands.now()).warnings if each.kind is WarningKind.MOULD_COLD)
        assert (cold.mould, cold.moulds, cold.shot) == (shot.mould, 2, shot.id)


def test_a_warm_up_shot_is_what_warms_its_mould() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("m1.warm-up1.shot")
    assert kinds(having(hands, mould_c=25.0)) == []


def test_late_shells_and_a_cold_cup_give_one_order() -> None:
    hands = maker(Build.CORE, tail=Tail.KEPT)
    hands.walk_to("r1.core.shot")
    hands.clock.advance(900)
    flowing = {each.kind: each.is_second for each in warned(having(hands, cup_c=155.0))}
    assert (flowing[WarningKind.SHELLS_OUT], flowing[WarningKind.CUP_COLD]) == (False, True), "fill them now"
    solid = {each.kind: each.is_second for each in warned(having(hands, cup_c=27.0))}
    assert (solid[WarningKind.SHELLS_OUT], solid[WarningKind.CUP_COLD]) == (True, False), "reheat it"


def test_shells_are_not_to_be_filled_from_a_cup_that_nobody_read() -> None:
    hands = maker(Build.CORE, tail=Tail.KEPT)
    hands.walk_to("r1.heat.core")
    hands.press()
    hands.clock.advance(900)
    unread = {each.kind: each.is_second for each in warned(having(hands, cup_c=155.0))}
    assert (unread[WarningKind.SHELLS_OUT], unread[WarningKind.CUP_COLD]) == (True, False)


def test_who_waits_for_a_scorched_cup_is_not_told_to_go_on() -> None:
    hands = maker(Build.CORE, tail=Tail.KEPT)
    hands.walk_to("r1.heat.core")
    hands.clock.advance(100)
    hands.read(212.0)
    if hands.session.doubted is not None:
        hands.read(212.0)
    (late,) = [each for each in warned(hands) if each.kind is WarningKind.SHELLS_LATE]
    assert late.is_second
    assert late.value > late.limit, "no haste helps"
    assert WarningKind.CUP_LATE not in kinds(hands), "it is not to be reheated"


def test_a_shot_that_will_run_short() -> None:
    seen = warned(having(at("r1.shot.shot"), mould_c=24.0))
    assert [each.kind for each in seen] == [WarningKind.FILL_SHORT, WarningKind.MOULD_COLD]
    assert seen[0].value < seen[0].limit == 0.5


def test_a_core_that_would_not_bond() -> None:
    hands = having(at("r1.core.shot", Build.CORE), cup_c=100.0)
    assert kinds(hands)[:2] == [WarningKind.CUP_COLD, WarningKind.BOND_LOW], "short for the cold alone"
    bond = next(each for each in warned(hands) if each.kind is WarningKind.BOND_LOW)
    assert (bond.round, bond.limit) == (1, 90.0)
    assert bond.value < 90.0


def test_shells_that_lie_out_too_long() -> None:
    hands = at("r1.rods-out", Build.CORE)
    assert WarningKind.SHELLS_OUT not in kinds(hands)
    hands.clock.advance(601)
    (out,) = [each for each in warned(hands) if each.kind is WarningKind.SHELLS_OUT]
    assert (out.round, out.limit) == (1, 600.0)


def test_who_is_behind_is_told_of_the_shells_while_there_is_still_time() -> None:
    hands = at("r1.rods-out", Build.CORE)
    hands.clock.advance(120)
    told_at_s = None
    for out_s in range(120, 601, 5):
        hands.clock.advance(5)
        late = [each for each in warned(hands) if each.kind is WarningKind.SHELLS_LATE]
        if late and told_at_s is None:
            told_at_s = out_s
            assert late[0].value <= late[0].limit, "a hand that goes on now is in time"
    assert told_at_s is not None


def test_the_most_pressing_comes_first() -> None:
    hands = having(at("r1.shot.shot"), cup_c=150.0, mould_c=24.0)
    assert kinds(hands) == [WarningKind.CUP_COLD, WarningKind.MOULD_COLD]


def test_while_held_no_key_is_promised_that_reheats() -> None:
    hands = maker(Build.CORE)
    hands.walk_to("r1.core.shot")
    hands.session = placed(hands.session, hands.now(), cup_c=150.0)
    running = view(hands.session, hands.now())
    held = view(hands.session.after(Held(at=hands.now())), hands.now())
    for seen, at_shot in ((running, True), (held, False)):
        cold = next(each for each in seen.warnings if each.kind is WarningKind.CUP_COLD)
        assert cold.at_shot is at_shot


def test_of_late_shells_one_thing_is_said_that_can_be_done_there() -> None:
    """With two moulds, each step as late as it may come."""
    hands = maker(Build.CORE, tail=Tail.CUT, count=16, moulds=2)
    hands.walk_to("r1.shell.open")
    seen = {}
    while hands.session.step.kind is not StepKind.HEAT_OFF:
        late = view(hands.session, replace(hands.now(), elapsed_s=hands.now().elapsed_s + 900.0)).warnings
        out = [each for each in late if each.kind is WarningKind.SHELLS_OUT]
        step = hands.session.step
        assert len(out) <= 1, step.id
        for each in out:
            is_here = step.kind is StepKind.SHOT and step.shot is Shot.CORE and step.round == each.round
            assert each.is_second or is_here, step.id
            assert each.away_s is None or (not is_here and each.away_s <= HURRIED_S), step.id
            assert not [bond for bond in late if bond.kind is WarningKind.BOND_LOW and bond.round == each.round]
            seen[step.id] = each
        hands.finish_step()
    opening = seen["r2.shell.open"]
    assert (opening.round, opening.mould) == (1, 2), "what is opened here can wait in its mould"
    hurried = {step for step, each in seen.items() if each.away_s is not None}
    assert "r1.shells-back" in hurried
    assert hurried < seen.keys(), "what is minutes away is not hurried"
