"""What each event does to a session, and what it needs beyond the right state."""

from __future__ import annotations

from dataclasses import replace
from functools import singledispatch

from bench.errors import IllegalMove
from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.session import aside, beginning, learning, spoilt, stepping, stopping, warmth
from bench.session.cautions import over_scorch
from bench.session.choices import core_is_open, round_of_trim
from bench.session.clocks import is_passed
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
    Started,
    StepDone,
    StepSkipped,
    StopRequested,
    TailsChosen,
    VerdictGiven,
    WentBack,
)
from bench.session.moves import LEGAL
from bench.session.readings import believed, corrects
from bench.session.reheating import SHOTS, heating_before, spoilt_cup
from bench.session.session import Session, State, Visit
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.verdicts import Given

NEVER_SKIPPED = frozenset({StepKind.CAUTIONS, StepKind.HEAT_OFF})
"""Steps that no reason can leave out."""


def apply(session: Session, event: Event) -> Session:
    """The session after the event. Raises IllegalMove, naming state and event."""
    if session.state not in LEGAL[type(event)]:
        raise _illegal(session, event)
    return _remembered(replace(_effect(event, session), last=event.at), session, event)


def _remembered(after: Session, before: Session, event: Event) -> Session:
    """With what happened since a reading that may still be called wrong; it stands once its cup is thrown away."""
    kept = after.strikable
    if kept is None or kept is not before.strikable:
        return after
    if after.state.over:
        return replace(after, strikable=None)
    return replace(after, strikable=replace(kept, since=(*kept.since, event)))


def _illegal(session: Session, event: Event, why: str = "") -> IllegalMove:
    return IllegalMove(state=session.state, event=type(event).__name__, why=why)


@singledispatch
def _effect(event: Event, session: Session) -> Session:
    raise _illegal(session, event, "no effect is written for it")


@_effect.register
def _started(event: Started, session: Session) -> Session:
    first = Visit(index=0, entered=event.at)
    running = replace(
        session, state=State.RUNNING, started=event.at, visits=(first,), core=session.job.recipe.name
    )
    return warmth.started(running, event.at)


@_effect.register
def _step_done(event: StepDone, session: Session) -> Session:
    _needs_present_step(event.step, session, event)
    if session.next_step is None:
        raise _illegal(session, event, "this is the last step, the session completes after it")
    if session.waits_for_aside:
        raise _illegal(session, event, "its heat has not begun: the old cup is still on the heater")
    ready = aside.out_of_the_way(session) if session.step.kind is StepKind.HEAT_ON else session
    return _move_to(_weighed(ready), event, session.next_index, by=event.by)


@_effect.register
def _heat_begun(event: HeatBegun, session: Session) -> Session:
    _needs_present_step(event.step, session, event)
    if not session.waits_to_begin and not beginning.begins(session, event.at):
        raise _illegal(session, event, "its heat has begun already")
    return beginning.begun(session, event.at)


def _weighed(session: Session) -> Session:
    """Which core was weighed: another may still be chosen while its cup is cold, and then it is weighed anew."""
    step = session.step
    if step.kind is not StepKind.WEIGH or step.parts != (Part.CORE,):
        return session
    return replace(session, core_weighed={**session.core_weighed, step.melt: session.core})


@_effect.register
def _step_skipped(event: StepSkipped, session: Session) -> Session:
    _needs_present_step(event.step, session, event)
    if session.step.kind in NEVER_SKIPPED:
        raise _illegal(session, event, f"{session.step.title} is never left out")
    if session.next_step is None:
        raise _illegal(session, event, "this is the last step, the session completes after it")
    return _move_to(session, event, session.next_index, by=None)


@_effect.register
def _went_back(event: WentBack, session: Session) -> Session:
    if beginning.is_taken_back(session):
        return beginning.taken_back(session, event.at)
    stood = [visit for visit in session.visits[:-1] if not visit.passed]
    if not stood:
        raise _illegal(session, event, "this is the first step")
    *before, earlier = session.visits[: session.visits.index(stood[-1]) + 1]
    again = replace(earlier, left=None, by=None, revisited=True, returned=event.at)
    session = spoilt.taken_back(session)
    undone = replace(session, visits=(*before, again), doubted=None)
    undone = stepping.moved(session, undone, event.at, by=None)
    if session.stopped_at is not None and len(session.visits) == session.stopped_at + 1:
        return replace(undone, state=State.RUNNING, stopped_at=None, closing=(), held_from=None)
    return undone


@_effect.register
def _reheat_wanted(event: ReheatWanted, session: Session) -> Session:
    _needs_no_alarm(session, event)
    if session.step.kind not in SHOTS or event.part not in session.step.parts:
        raise _illegal(session, event, f"no shot of the {event.part.words} cup is at hand")
    heating = heating_before(session, event.part)
    if heating is None:
        raise _illegal(session, event, f"the {event.part.words} cup was not heated before")
    left = _left(session, event.at, by=None)
    visit = Visit(index=heating, entered=event.at, then=session.visit.index)
    reheating = replace(left, visits=(*left.visits, visit), doubted=None)
    return stepping.moved(session, reheating, event.at, by=None)


@_effect.register
def _cup_read(event: CupRead, session: Session) -> Session:
    if event.part not in session.job.recipe.parts:
        raise _illegal(session, event, f"this bait has no {event.part.words}")
    if aside.is_of_the_old(session, event.part):
        is_likely = believed(aside.with_the_old(session, event.at), event)
        return aside.read(session, event) if is_likely else replace(session, doubted=event)
    too_hot = event.temp_c > session.job.plastic.scorch_c
    if not believed(session, event):
        # The screen says to take it off the heat beside its question: nobody knows what was done, so what follows
        # tells nothing of the heater.
        asked = warmth.taken_off(session, event.part, event.at) if too_hot else session
        return replace(asked, doubted=event)
    read = replace(
        learning.cup_read(session, event, alone=corrects(session, event)),
        cup_readings=(*session.cup_readings, event),
        doubted=None,
    )
    return spoilt.scorched(session, read, event) if too_hot else read


@_effect.register
def _reading_withdrawn(event: ReadingWithdrawn, session: Session) -> Session:
    struck = session.strikable
    if struck is None or (struck.read.part, struck.read.temp_c) != (event.part, event.temp_c):
        raise _illegal(session, event, "that reading can no longer be called wrong")
    return spoilt.struck(session, struck, event.at)


@_effect.register
def _cup_thrown(event: CupThrown, session: Session) -> Session:
    _needs_no_alarm(session, event)
    if spoilt_cup(session) is not event.part:
        raise _illegal(session, event, f"the {event.part.words} cup was not read over its scorch limit")
    return spoilt.thrown(session, event)


@_effect.register
def _mould_read(event: MouldRead, session: Session) -> Session:
    if event.mould not in session.moulds:
        raise _illegal(session, event, f"there is no mould {event.mould}")
    if not believed(session, event):
        return replace(session, doubted=event)
    measured = learning.mould_read(session, event, alone=corrects(session, event))
    return replace(measured, mould_readings=(*session.mould_readings, event), doubted=None)


@_effect.register
def _acknowledged(event: CautionsAcknowledged, session: Session) -> Session:
    known = {caution.name: caution for caution in session.job.cautions}
    strangers = [name for name in event.cautions if name not in known]
    if strangers:
        raise _illegal(session, event, f"there is no caution {strangers[0]}")
    # A file without words for it must not leave an alarm that nobody can end.
    over_heat = any(known[name].above_scorch for name in event.cautions) or not over_scorch(session)
    return replace(
        session,
        acknowledged={**session.acknowledged, **dict.fromkeys(event.cautions, event.at)},
        alarm=None if over_heat else session.alarm,
    )


@_effect.register
def _held(_event: Held, session: Session) -> Session:
    return replace(session, state=State.HELD, held_from=session.state)


@_effect.register
def _resumed(_event: Resumed, session: Session) -> Session:
    return replace(session, state=session.held_from or State.RUNNING, held_from=None)


@_effect.register
def _verdict_given(event: VerdictGiven, session: Session) -> Session:
    if not 1 <= event.round <= session.job.plan.rounds:
        raise _illegal(session, event, f"there is no round {event.round}")
    given = Given(round=event.round, subject=event.subject, verdict=event.verdict)
    return learning.relearnt(replace(session, verdicts=(*session.verdicts, given)), event.at)


@_effect.register
def _tails_chosen(event: TailsChosen, session: Session) -> Session:
    if session.job.plan.volumes.tail_ml <= 0:
        raise _illegal(session, event, "this mould has no tails")
    if event.round != round_of_trim(session):
        raise _illegal(session, event, f"the shells of round {event.round} are not open to it now")
    if not 0 <= event.cut <= session.job.plan.cavities:
        raise _illegal(session, event, f"a round has {session.job.plan.cavities} tails")
    return replace(session, tails={**session.tails, event.round: event.cut})


@_effect.register
def _core_chosen(event: CoreChosen, session: Session) -> Session:
    if event.recipe not in session.job.cores:
        raise _illegal(session, event, f"no core is called {event.recipe}")
    if not core_is_open(session):
        raise _illegal(session, event, "the core cup is already on the heat")
    return replace(session, core=event.recipe, weighs_anew=event.weigh_anew)


@_effect.register
def _correction_refused(event: CorrectionRefused, session: Session) -> Session:
    known = warmth.anchored(session, event.at)
    return learning.learnt(replace(known, refused=session.refused | {event.of}))


@_effect.register
def _correction_restored(event: CorrectionRestored, session: Session) -> Session:
    known = warmth.anchored(session, event.at)
    return learning.learnt(replace(known, refused=session.refused - {event.of}))


@_effect.register
def _noted(event: Noted, session: Session) -> Session:
    return replace(session, notes=(*session.notes, event.text))


@_effect.register
def _gone(_event: Left, session: Session) -> Session:
    return session


@_effect.register
def _file_healed(_event: FileHealed, session: Session) -> Session:
    return session


@_effect.register
def _stop_requested(event: StopRequested, session: Session) -> Session:
    closing = stopping.closing_places(session)
    if session.closing or session.visit.index >= closing[0]:
        raise _illegal(session, event, "the closing steps are already under way")
    if not any(session.job.script[visit.index].heats for visit in session.visits):
        return replace(_left(session, event.at, by=None), state=State.STOPPED, alarm=None, doubted=None)
    left = _left(session, event.at, by=None)
    closing_visits = (*left.visits, Visit(index=closing[0], entered=event.at))
    stopped = replace(
        left, visits=closing_visits, stopped_at=len(left.visits), closing=closing, state=State.STOPPING
    )
    return stepping.moved(session, replace(stopped, held_from=None, doubted=None), event.at, by=None)


@_effect.register
def _aborted(event: Aborted, session: Session) -> Session:
    left = warmth.all_off(_left(session, event.at, by=None), event.at)
    return replace(left, state=State.ABORTED, alarm=None, doubted=None)


@_effect.register
def _completed(event: Completed, session: Session) -> Session:
    if session.next_step is not None:
        raise _illegal(session, event, f"{session.next_step.title} is still to come")
    _needs_no_alarm(session, event)
    over = State.STOPPED if session.state is State.STOPPING else State.COMPLETE
    return replace(_left(session, event.at, by=Ending.HAND), state=over)


def _needs_present_step(step_id: str, session: Session, event: Event) -> None:
    if step_id != session.step.id:
        raise _illegal(session, event, f"the step is {session.step.id}, not {step_id}")
    _needs_no_alarm(session, event)


def _needs_no_alarm(session: Session, event: Event) -> None:
    if session.alarm is not None:
        raise _illegal(session, event, "a cup is over its scorch limit and nobody has acknowledged it")


def _move_to(session: Session, event: Event, index: int, *, by: Ending | None) -> Session:
    step = session.job.script[index]
    if (step.heats or session.step.kind is StepKind.CAUTIONS) and session.unacknowledged:
        raise _illegal(session, event, "the opening cautions come first")
    left = _left(session, event.at, by=by)
    stretch = session.corrections.set_factor if step.kind is StepKind.SET else 1.0
    then = session.visit.afterwards if index == session.following else session.following
    visit = Visit(index=index, entered=event.at, stretch=stretch, then=then)
    entered = replace(left, visits=(*left.visits, visit), doubted=None)
    moved = stepping.moved(session, entered, event.at, by=by)
    return _past_what_is_over(moved, event)


def _past_what_is_over(session: Session, event: Event) -> Session:
    """A clock that was over before it was reached is passed over in the same move, with nothing said of it."""
    if not is_passed(session, event.at):
        return session
    *before, here = session.visits
    passing = replace(session, visits=(*before, replace(here, passed=True)))
    return _move_to(passing, event, session.next_index, by=Ending.CLOCK)


def _left(session: Session, at: Stamp, *, by: Ending | None) -> Session:
    *before, here = session.visits
    return replace(session, visits=(*before, replace(here, left=at, by=by)))
