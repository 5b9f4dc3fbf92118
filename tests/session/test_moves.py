"""Which events are possible when, and what the impossible ones say."""

from __future__ import annotations

import inspect
from dataclasses import replace

import pytest

from bench.errors import IllegalMove
from bench.model.recipe import Build, Part
from bench.model.step_kind import StepKind
from bench.session import drive, events
from bench.session.corrections import Corrected
from bench.session.events import (
    Aborted,
    CautionsAcknowledged,
    Completed,
    CoreChosen,
    CorrectionRefused,
    CorrectionRestored,
    CupRead,
    CupThrown,
    Event,
    FileHealed,
    HeatBegun,
    Held,
    Left,
    MouldRead,
    Noted,
    ReadingWithdrawn,
    ReheatWanted,
    Resumed,
    SkipReason,
    Started,
    StepDone,
    StepSkipped,
    StopReason,
    StopRequested,
    TailsChosen,
    VerdictGiven,
    WentBack,
)
from bench.session.moves import LEGAL
from bench.session.session import Session, State
from bench.session.step import Ending
from bench.session.verdicts import Subject, Verdict
from tests.session.bench_sessions import FakeClock, job, maker

NOW = FakeClock().now()
EVENTS: tuple[Event, ...] = (
    Started(at=NOW),
    StepDone(at=NOW, step="ready", by=Ending.HAND),
    StepSkipped(at=NOW, step="ready", reason=SkipReason.NOT_NEEDED),
    WentBack(at=NOW),
    ReheatWanted(at=NOW, part=Part.SHELL),
    CupRead(at=NOW, part=Part.SHELL, temp_c=20),
    MouldRead(at=NOW, temp_c=20),
    ReadingWithdrawn(at=NOW, part=Part.SHELL, temp_c=400),
    CupThrown(at=NOW, part=Part.SHELL),
    HeatBegun(at=NOW, step="r1.heat.body"),
    CautionsAcknowledged(at=NOW, cautions=("fan",)),
    Held(at=NOW),
    Resumed(at=NOW),
    VerdictGiven(at=NOW, round=1, subject=Subject.BAITS, verdict=Verdict.RIGHT),
    TailsChosen(at=NOW, round=1, cut=1),
    CoreChosen(at=NOW, recipe="other"),
    CorrectionRefused(at=NOW, of=Corrected.HEATER),
    CorrectionRestored(at=NOW, of=Corrected.HEATER),
    Noted(at=NOW, text="new jug"),
    FileHealed(at=NOW),
    Left(at=NOW),
    StopRequested(at=NOW, reason=StopReason.OUT_OF_TIME),
    Aborted(at=NOW, reason=StopReason.DANGER),
    Completed(at=NOW),
)


def test_the_table_knows_every_event() -> None:
    written = {kind for _, kind in inspect.getmembers(events, inspect.isclass) if issubclass(kind, Event)}
    assert set(LEGAL) == written - {Event}
    assert {type(event) for event in EVENTS} == set(LEGAL)


ILLEGAL = [(state, event) for event in EVENTS for state in State if state not in LEGAL[type(event)]]


@pytest.mark.parametrize(
    ("state", "event"), ILLEGAL, ids=[f"{type(event).__name__}-{state}" for state, event in ILLEGAL]
)
def test_an_event_in_a_state_outside_the_table_raises_and_names_both(state: State, event: Event) -> None:
    hands = maker()
    hands.walk_to("ready")
    session = replace(hands.session, state=state) if state is not State.IDLE else Session(job=job())
    with pytest.raises(IllegalMove) as caught:
        session.after(event)
    assert type(event).__name__ in str(caught.value)
    assert state in str(caught.value)


@pytest.mark.parametrize("state", [State.STOPPED, State.ABORTED, State.COMPLETE])
def test_a_session_that_is_over_takes_verdicts_and_notes_only(state: State) -> None:
    possible = {event for event, states in LEGAL.items() if state in states}
    assert possible == {VerdictGiven, Noted}


class TestCautions:
    def test_no_heat_before_every_opening_caution(self) -> None:
        hands = maker()
        hands.press()
        with pytest.raises(IllegalMove, match="cautions come first"):
            hands.press()
        hands.happen(CautionsAcknowledged(at=hands.now(), cautions=("fan",)))
        with pytest.raises(IllegalMove, match="cautions come first"):
            hands.press()
        hands.happen(CautionsAcknowledged(at=hands.now(), cautions=("gloves",)))
        hands.press()
        assert hands.session.step.kind is StepKind.READY

    def test_the_cautions_are_never_skipped(self) -> None:
        hands = maker()
        hands.press()
        with pytest.raises(IllegalMove, match="never left out"):
            hands.happen(StepSkipped(at=hands.now(), step="cautions", reason=SkipReason.NO_TIME))

    def test_one_press_acknowledges_one_card(self) -> None:
        hands = maker()
        hands.press()
        first = drive.acknowledge(hands.session, hands.now())
        assert isinstance(first, CautionsAcknowledged)
        assert first.cautions == ("fan",)

    def test_the_advancing_key_never_acknowledges(self) -> None:
        hands = maker()
        hands.press()
        assert isinstance(drive.forward(hands.session, hands.now()), StepDone)
        assert hands.session.unacknowledged == {"fan", "gloves"}

    def test_an_unknown_caution_is_refused(self) -> None:
        hands = maker()
        hands.press()
        with pytest.raises(IllegalMove, match="no caution"):
            hands.happen(CautionsAcknowledged(at=hands.now(), cautions=("ghost",)))


class TestGoingBack:
    def test_it_undoes_the_last_step_and_nothing_else(self) -> None:
        hands = maker()
        hands.walk_to("warm-mould")
        hands.happen(WentBack(at=hands.now()))
        assert hands.session.step.id == "ready"
        assert not hands.session.unacknowledged
        hands.press()
        assert hands.session.step.id == "warm-mould"

    def test_a_step_come_back_to_ends_by_hand_only(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.shot.open")
        hands.happen(WentBack(at=hands.now()))
        assert hands.session.step.id == "r1.shot.set"
        hands.clock.advance(1000)
        assert not hands.tick()
        hands.press()
        assert hands.session.step.id == "r1.shot.open"

    def test_there_is_nothing_before_the_first_step(self) -> None:
        hands = maker()
        hands.press()
        with pytest.raises(IllegalMove, match="first step"):
            hands.happen(WentBack(at=hands.now()))

    def test_a_shot_taken_back_is_back_in_the_cup(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.shot.shot")
        before = held(hands.session)
        hands.press()
        assert held(hands.session) < before
        hands.happen(WentBack(at=hands.now()))
        assert held(hands.session) == pytest.approx(before)

    def test_it_takes_back_an_early_stop_too(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.shot.set")
        hands.happen(StopRequested(at=hands.now(), reason=StopReason.ENOUGH_MADE))
        assert (hands.session.state, hands.session.step.kind) == (State.STOPPING, StepKind.HEAT_OFF)
        hands.happen(WentBack(at=hands.now()))
        assert (hands.session.state, hands.session.step.id) == (State.RUNNING, "r1.shot.set")


def held(session: Session) -> float:
    from bench.session.choices import held_ml

    return held_ml(session, Part.BODY, session.job.plan.melt(Part.BODY, 1))


class TestHolding:
    def test_it_stops_the_guidance_and_no_physical_clock(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.shot.set")
        left = drive.remaining_s(hands.session, hands.now())
        hands.happen(drive.hold_or_resume(hands.session, hands.now()))
        hands.clock.advance(left + 30)
        assert not hands.tick(), "nothing ends by itself while held"
        assert drive.remaining_s(hands.session, hands.now()) == pytest.approx(-30)
        with pytest.raises(IllegalMove):
            hands.happen(StepDone(at=hands.now(), step=hands.session.step.id, by=Ending.HAND))
        hands.press()
        assert hands.session.state is State.RUNNING
        assert hands.tick(), "and what was due meanwhile comes at once"

    def test_a_stopping_session_goes_on_stopping(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.heat.body")
        hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
        hands.happen(Held(at=hands.now()))
        hands.happen(Resumed(at=hands.now()))
        assert hands.session.state is State.STOPPING


class TestStopping:
    def test_the_closing_steps_follow_an_early_stop(self) -> None:
        hands = maker(Build.CORE)
        hands.walk_to("r1.rods-out")
        hands.happen(StopRequested(at=hands.now(), reason=StopReason.SOMETHING_WRONG))
        hands.walk_to_the_end()
        kinds = [hands.session.job.script[visit.index].kind for visit in hands.session.visits]
        assert kinds[-5:] == [
            StepKind.HEAT_OFF,
            StepKind.PURGE_AIR,
            StepKind.CLEAN,
            StepKind.LAY_OUT,
            StepKind.CURE,
        ]
        assert hands.session.state is State.STOPPED

    def test_before_any_heat_it_ends_at_once(self) -> None:
        hands = maker()
        hands.walk_to("ready")
        hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
        assert hands.session.state is State.STOPPED

    def test_leaving_at_once_ends_it_where_it_is(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.heat.body")
        hands.happen(Aborted(at=hands.now(), reason=StopReason.DANGER))
        assert (hands.session.state, hands.session.step.id) == (State.ABORTED, "r1.heat.body")

    def test_closing_is_not_stopped_again(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("purge-air")
        with pytest.raises(IllegalMove, match="closing steps"):
            hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))

    def test_it_completes_after_its_last_step_only(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("clean")
        with pytest.raises(IllegalMove, match="still to come"):
            hands.happen(Completed(at=hands.now()))


class TestSkipping:
    def test_a_step_is_skipped_with_its_reason(self) -> None:
        hands = maker()
        hands.walk_to("warm-mould")
        hands.happen(StepSkipped(at=hands.now(), step="warm-mould", reason=SkipReason.ALREADY_DONE))
        assert hands.session.step.kind is StepKind.WEIGH
        assert hands.session.visits[-2].by is None

    def test_a_skipped_shot_leaves_the_cup_full(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.shot.shot")
        before = held(hands.session)
        hands.happen(StepSkipped(at=hands.now(), step="r1.shot.shot", reason=SkipReason.SOMETHING_BROKE))
        assert held(hands.session) == before

    def test_turning_the_heat_off_is_never_skipped(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("heat-off")
        with pytest.raises(IllegalMove, match="never left out"):
            hands.happen(StepSkipped(at=hands.now(), step="heat-off", reason=SkipReason.NO_TIME))


def test_a_late_or_doubled_press_is_harmless() -> None:
    hands = maker()
    hands.walk_to("ready")
    press = StepDone(at=hands.now(), step="ready", by=Ending.HAND)
    hands.happen(press)
    with pytest.raises(IllegalMove, match="not ready"):
        hands.happen(press)
