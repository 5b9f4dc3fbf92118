"""When the steps to come will begin, given what has really happened."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.events import StopReason, StopRequested
from bench.session.retime import NEXT_STEPS, Coming, retime
from bench.session.stamp import Stamp, span
from bench.session.view import View, view
from bench.session.warmth import with_cup
from bench.session.warned import WarningKind
from tests.session.bench_sessions import Maker, maker, placed
from tests.session.test_script import ALL_BUILDS

SEEN_COMING = (WarningKind.CUP_LATE, WarningKind.SHELLS_LATE)


def seen(hands: Maker) -> View:
    return view(hands.session, hands.now())


def begins_s(hands: Maker, step_id: str) -> float:
    rest = retime(hands.session, hands.now())
    return next(in_s for step, in_s in zip(rest.steps, rest.begin_s, strict=True) if step.id == step_id)


def behind_s(hands: Maker) -> float:
    behind = seen(hands).behind_s
    assert behind is not None
    return behind


def test_reading_the_cards_puts_nobody_behind() -> None:
    hands = maker(Build.PLAIN)
    hands.press()
    hands.clock.advance(1800)
    assert behind_s(hands) == pytest.approx(0.0, abs=1.0)
    hands.walk_to("ready")
    assert behind_s(hands) == pytest.approx(0.0, abs=1.0)
    length_s = hands.session.step.length_s
    hands.clock.advance(length_s + 300)
    assert behind_s(hands) == pytest.approx(300.0, abs=1.0)


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("moulds", [1, 2])
def test_at_the_planned_pace_every_step_begins_when_it_was_said_to(build: Build, tail: Tail, moulds: int) -> None:
    hands = maker(build, tail=tail, moulds=moulds)
    hands.press()
    said: dict[str, list[tuple[Stamp, float]]] = {}
    while not hands.session.state.over:
        now = hands.now()
        rest = retime(hands.session, now)
        for step, in_s in zip(rest.steps, rest.begin_s, strict=True):
            said.setdefault(step.id, []).append((now, in_s))
        hands.finish_step()
    entered = {hands.session.job.script[visit.index].id: visit.entered for visit in hands.session.visits}
    for step_id, times in said.items():
        for now, in_s in times:
            # A heating takes what its bursts take, which is not quite what the plan put down for it.
            assert span(now, entered[step_id]).seconds == pytest.approx(in_s, abs=30.0), step_id


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("moulds", [1, 2])
def test_at_the_planned_pace_nobody_falls_behind_and_nothing_is_seen_coming(
    build: Build, tail: Tail, moulds: int
) -> None:
    hands = maker(build, tail=tail, moulds=moulds)
    hands.press()
    while not hands.session.state.over:
        moment = seen(hands)
        # Of a heating's bursts, which are reckoned anew, and of what the plan put down for them.
        assert moment.behind_s == pytest.approx(0.0, abs=45.0)
        assert not [each for each in moment.warnings if each.kind in SEEN_COMING], hands.session.step.id
        hands.finish_step()


def test_what_comes_next_is_told_in_order() -> None:
    hands = maker(Build.CORE)
    hands.walk_to("r1.shell.shot")
    coming = seen(hands).coming
    assert len(coming) == NEXT_STEPS
    assert coming[0].step == hands.session.next_step
    assert coming[0].title == "Hold the plunger"
    assert [each.in_s for each in coming] == sorted(each.in_s for each in coming)


def test_a_maker_who_is_late_is_behind_by_as_much() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.open")
    before_s = behind_s(hands)
    hands.clock.advance(hands.session.step.length_s + 100)
    assert behind_s(hands) == pytest.approx(before_s + 100)
    assert seen(hands).coming[0].in_s == 0


def test_time_lost_inside_a_set_is_no_time_lost() -> None:
    """What is done while the mould sets may take as long as the set: the opening comes when it would have come."""
    hands = maker(Build.CORE)
    hands.walk_to("r1.shell.hold")
    opening = next(each for each in seen(hands).coming if each.step.kind is StepKind.OPEN)
    hands.clock.advance(10)
    hands.happen(drive.hold_or_resume(hands.session, hands.now()))
    hands.clock.advance(20)
    hands.happen(drive.hold_or_resume(hands.session, hands.now()))
    again = next(each for each in seen(hands).coming if each.step.kind is StepKind.OPEN)
    assert again.in_s == pytest.approx(opening.in_s - 30)


def test_a_mould_hotter_than_planned_puts_everything_off() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.hold")
    before = seen(hands)
    hands.session = placed(hands.session, hands.now(), mould_c=hands.session.job.mould.warm_c[1] + 12)
    after = seen(hands)
    assert after.rest_s > before.rest_s + 5
    assert after.last_bait_s is not None
    assert before.last_bait_s is not None
    assert after.last_bait_s - before.last_bait_s == pytest.approx(after.rest_s - before.rest_s)


def test_a_cup_that_is_cold_takes_longer_to_heat() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(60)
    before_s = seen(hands).coming[0].in_s
    hands.read(70)
    assert seen(hands).coming[0].in_s > before_s + 5


def test_a_cup_that_will_have_left_its_band_is_told_while_it_still_is_in_it() -> None:
    hands = maker(Build.LAMINATE, warm_up_shots=0)
    hands.walk_to("r1.heat.side_a.again")
    low_c = hands.session.job.plastic.band_c[0]
    side_a, side_b = (hands.session.cups[part] for part in (Part.SIDE_A, Part.SIDE_B))
    hands.session = with_cup(hands.session, Part.SIDE_A, replace(side_a, temp_c=150.0))
    hands.session = with_cup(hands.session, Part.SIDE_B, replace(side_b, temp_c=low_c + 0.3))
    told = [each for each in seen(hands).warnings if each.kind is WarningKind.CUP_LATE]
    assert [each.part for each in told] == [Part.SIDE_B]
    assert 0 < told[0].limit < told[0].value


def test_shells_that_will_lie_out_too_long_are_told_before_they_do() -> None:
    hands = maker(Build.CORE, warm_up_shots=0)
    hands.walk_to("r1.rods-out")
    limit_s = hands.session.job.station.shell_out_s
    assert not [each for each in seen(hands).warnings if each.kind is WarningKind.SHELLS_LATE]
    core_s = retime(hands.session, hands.now()).core_in_s(1)
    assert core_s is not None
    hands.clock.advance(limit_s - 30)
    told = [each for each in seen(hands).warnings if each.kind is WarningKind.SHELLS_LATE]
    assert [each.round for each in told] == [1]
    assert told[0].value > told[0].limit == limit_s
    hands.clock.advance(60)
    kinds = [each.kind for each in seen(hands).warnings]
    assert WarningKind.SHELLS_OUT in kinds
    assert WarningKind.SHELLS_LATE not in kinds, "told once it is so, not as something to come"


def test_nobody_is_behind_who_leaves_early() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    assert seen(hands).behind_s is None
    assert seen(hands).rest_s > 0
    assert seen(hands).last_bait_s is None


def test_nothing_is_to_come_once_it_is_over() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to_the_end()
    moment = seen(hands)
    assert moment.coming == ()
    assert moment.rest_s == 0


def test_a_mould_that_nobody_opened_is_said_to_be_late() -> None:
    hands = maker(Build.CORE, moulds=2)
    hands.press()
    while not any(
        each.step.kind is StepKind.OPEN and each.step.mould != hands.session.step.mould and in_set(hands, each)
        for each in seen(hands).coming
    ):
        hands.finish_step()
    (coming,) = [each for each in seen(hands).coming if each.step.kind is StepKind.OPEN and in_set(hands, each)][
        :1
    ]
    assert coming.late_s == 0.0
    hands.clock.advance(7200)
    late = next(each for each in seen(hands).coming if each.step.id == coming.step.id)
    assert late.late_s == pytest.approx(7200.0, abs=600.0)


def in_set(hands: Maker, coming: Coming) -> bool:
    """Whether its mould was shot and sets."""
    shot = coming.step.id.replace(".open", ".shot")
    return hands.session.ended(shot) is not None


def test_no_shot_is_expected_before_the_heat_that_its_cup_still_needs() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r2.heat.body")
    before = hands.session.visits[-2]
    assert hands.session.job.script[before.index].kind is not StepKind.HEAT
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to(hands.session.job.script[before.index].id)
    planned_s = begins_s(hands, "r2.shot.shot")
    hands.session = placed(hands.session, hands.now(), cup_c=60.0)
    expected_s = begins_s(hands, "r2.shot.shot")
    assert expected_s > planned_s
    left_s = drive.remaining_s(hands.session, hands.now())
    hands.finish_step()
    assert hands.session.step.id == "r2.heat.body"
    hands.put_on()
    heat_s = sum(leg.seconds for leg in hands.session.cups[Part.BODY].legs if leg.heating)
    assert expected_s == pytest.approx(left_s + heat_s, rel=0.05)


def test_no_shot_is_expected_before_the_burst_that_is_about_to_be_set_is_over() -> None:
    hands = maker(Build.CORE, count=20)
    hands.walk_to("r2.heat.shell.on")
    hands.session = placed(hands.session, hands.now(), cup_c=60.0)
    burst_s = seen(hands).set_burst_s
    assert burst_s is not None
    assert burst_s > (hands.session.step.burst_s or 0.0)
    heat = next(step for step in hands.session.ahead if step.id == "r2.heat.shell")
    over_s = drive.remaining_s(hands.session, hands.now()) + burst_s
    assert begins_s(hands, "r2.shell.shot") >= over_s + heat.length_s - 0.01
