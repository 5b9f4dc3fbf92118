"""When a press comes too early to mean what stands on the screen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import Asked
from bench.session.events import CupRead, Held, ReadingWithdrawn, Resumed, StepDone, WentBack
from bench.session.session import Session
from bench.session.step import Ending
from bench.tui.pour.answer import answer
from bench.tui.pour.entry import Entry, Figure, Mistyped, Nothing, Sure
from bench.tui.pour.keys import Press, Stroke
from bench.tui.pour.moment import (
    ASKED_S,
    ENDED_BY_ITSELF,
    JUST_ASKED,
    JUST_BEGUN,
    SETTLE_HOT_S,
    SETTLE_S,
    Moment,
    settle_s,
)
from bench.tui.pour.reply import Answer
from tests.tui.at_the_bench import at, at_kind, at_step


def pressed(session: Session, now: float, press: Press, *, entry: Entry = Nothing(), pace: float = 1.0) -> Answer:  # noqa: B008 - frozen
    moment = Moment(session=session, now=at(now), units=UnitSystem.METRIC, pace=pace)
    return answer(entry, Stroke(press=press), moment)


def test_space_goes_on_but_not_right_after_a_step_that_ended_by_itself() -> None:
    session, now = at_kind(StepKind.OPEN)
    assert pressed(session, now + 0.5, Press.FORWARD).event is None
    event = pressed(session, now + 2, Press.FORWARD).event
    assert event == drive.forward(session, at(now + 2))


@pytest.mark.parametrize(
    ("kind", "wanted_s"),
    [
        (StepKind.READY, SETTLE_S),
        (StepKind.RODS_IN, SETTLE_S),
        (StepKind.WARM_MOULD, SETTLE_HOT_S),
        (StepKind.HEAT_ON, SETTLE_HOT_S),
        (StepKind.WARM_UP_SHOT, SETTLE_HOT_S),
    ],
)
def test_a_step_just_entered_waits_to_be_seen(kind: StepKind, wanted_s: float) -> None:
    session, now = at_kind(kind)
    why = JUST_BEGUN if session.visits[-2].by is Ending.HAND else ENDED_BY_ITSELF
    assert settle_s(session.step) == wanted_s
    for early_s in (0.0, 0.4, wanted_s - 0.01):
        reply = pressed(session, now + early_s, Press.FORWARD)
        assert (reply.event, reply.entry, reply.line) == (None, Nothing(), why)
    assert pressed(session, now + wanted_s + 0.01, Press.FORWARD).line == ""
    assert pressed(session, now, Press.HOLD).event == Held(at=at(now)), "every other key works at once"
    assert pressed(session, now, Press.BACK).event is not None
    assert isinstance(pressed(session, now, Press.TEMPERATURE).entry, Figure)


def test_a_step_that_the_maker_came_back_to_is_known() -> None:
    session, now = at_kind(StepKind.WARM_MOULD)
    back = session.after(WentBack(at=at(now + 1)))
    assert back.step.kind is StepKind.READY
    assert isinstance(pressed(back, now + 1.1, Press.FORWARD).event, StepDone)


def test_a_held_session_goes_on_at_once_and_its_step_waits_to_be_seen() -> None:
    session, now = at_kind(StepKind.READY)
    held = session.after(Held(at=at(now + 0.1)))
    event = pressed(held, now + 0.2, Press.FORWARD).event
    assert isinstance(event, Resumed)
    for later_s, is_taken in ((30.4, False), (32.0, True)):
        moment = Moment(
            session=held.after(Resumed(at=at(now + 30))),
            now=at(now + later_s),
            units=UnitSystem.METRIC,
            resumed=at(now + 30),
        )
        assert (answer(Nothing(), Stroke(press=Press.FORWARD), moment).event is not None) is is_taken


@pytest.mark.parametrize(("speed", "wanted_s"), [(1.0, 1.5), (2.0, 0.75), (60.0, 0.3), (600.0, 0.3)])
def test_a_fast_rehearsal_waits_less_and_never_not_at_all(speed: float, wanted_s: float) -> None:
    session, now = at_kind(StepKind.READY)
    assert settle_s(session.step, speed) == wanted_s
    for stood_s in (wanted_s - 0.01, wanted_s + 0.01):
        moment = Moment(session=session, now=at(now + stood_s * speed), units=UnitSystem.METRIC, pace=speed)
        reply = answer(Nothing(), Stroke(press=Press.FORWARD), moment)
        assert (reply.event is None) is (stood_s < wanted_s)


@pytest.mark.parametrize(("speed", "wanted_s"), [(1.0, 2.0), (2.0, 1.0), (20.0, 0.5), (600.0, 0.5)])
def test_in_a_rehearsal_a_shot_waits_less_after_a_step_that_ended_by_itself(speed: float, wanted_s: float) -> None:
    session, now = at_kind(StepKind.WARM_UP_SHOT)
    assert session.visits[-2].by is not Ending.HAND
    for stood_s in (0.0, wanted_s - 0.01, wanted_s + 0.01):
        reply = pressed(session, now + stood_s * speed, Press.FORWARD, pace=speed)
        assert (reply.line == ENDED_BY_ITSELF) is (stood_s < wanted_s)


class TestAQuestion:
    """Asked and answered by one key: a double press or a bouncing pedal must not do both."""

    @pytest.mark.parametrize("pace", [1.0, 60.0])
    @pytest.mark.parametrize("after_s", [0.0, 0.4, 0.79])
    def test_is_not_answered_in_the_breath_that_asked_it(self, after_s: float, pace: float) -> None:
        session, now = at_kind(StepKind.WARM_MOULD)
        now += 10 * pace
        asked = pressed(session, now, Press.FORWARD, pace=pace)
        assert asked.entry == Sure(why=Asked.NO_READING, step=session.step.id, asked=at(now))
        soon = pressed(session, now + after_s * pace, Press.FORWARD, entry=asked.entry, pace=pace)
        assert soon == Answer(entry=asked.entry, line=JUST_ASKED)
        read = pressed(session, now + (ASKED_S + 0.01) * pace, Press.FORWARD, entry=soon.entry, pace=pace)
        assert isinstance(read.event, StepDone)

    def test_takes_every_other_key_at_once(self) -> None:
        session, now = at_kind(StepKind.WARM_MOULD)
        entry = Sure(why=Asked.NO_READING, step=session.step.id, asked=at(now))
        assert pressed(session, now, Press.BACK, entry=entry) == Answer(line="You stay at this step.")
        assert isinstance(pressed(session, now, Press.TEMPERATURE, entry=entry).entry, Figure)

    def test_counts_from_when_the_key_went_down(self) -> None:
        """A press that might be a held key's is taken later than it was made."""
        session, now = at_kind(StepKind.WARM_MOULD)
        entry = Sure(why=Asked.NO_READING, step=session.step.id, asked=at(now))
        moment = Moment(session=session, now=at(now + 0.85), units=UnitSystem.METRIC, down=at(now + 0.7))
        assert answer(entry, Stroke(press=Press.FORWARD), moment).line == JUST_ASKED
        moment = replace(moment, down=None)
        assert isinstance(answer(entry, Stroke(press=Press.FORWARD), moment).event, StepDone)

    def test_whether_a_reading_was_wrong_waits_as_well(self) -> None:
        session, now = at_step("r1.heat.shell")
        for _ in range(2):
            session = session.after(CupRead(at=at(now), part=session.step.parts[0], temp_c=400.0))
        entry = Mistyped(read=session.cup_readings[-1], asked=at(now))
        assert pressed(session, now + 0.5, Press.BACK, entry=entry) == Answer(entry=entry, line=JUST_ASKED)
        assert isinstance(pressed(session, now + ASKED_S + 0.01, Press.BACK, entry=entry).event, ReadingWithdrawn)
