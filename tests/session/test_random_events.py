"""Random legal and illegal events, thrown at sessions of every build."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import given, settings
from hypothesis import strategies as st

from bench.errors import IllegalMove
from bench.model.recipe import Build, Part, Tail
from bench.model.settings import UnitSystem
from bench.session import drive
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
from bench.session.session import Session, State
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.summary import summarise
from bench.session.thermometer import COLDEST_C, MELTING_C
from bench.session.verdicts import Subject, Verdict
from bench.session.view import view
from tests.session.bench_sessions import CAUTIONS, FakeClock, job
from tests.session.test_script import ALL_BUILDS

ROUNDED_K = 1e-6

Throw = Callable[[Session, Stamp], Event | None]

_names = st.sampled_from([caution.name for caution in CAUTIONS] + ["ghost"])

THROWS: st.SearchStrategy[Throw] = st.one_of(
    st.just(drive.forward),
    st.just(drive.forward),
    st.just(drive.forward),
    st.just(drive.acknowledge),
    st.just(drive.acknowledge),
    st.just(drive.hold_or_resume),
    st.just(drive.due),
    st.just(drive.next_core),
    st.just(lambda session, at: Started(at=at)),
    st.just(lambda session, at: Held(at=at)),
    st.just(lambda session, at: Resumed(at=at)),
    st.just(lambda session, at: WentBack(at=at)),
    st.just(drive.back),
    st.sampled_from(Part).map(lambda part: lambda session, at: ReheatWanted(at=at, part=part)),
    st.just(lambda session, at: Completed(at=at)),
    st.just(lambda session, at: Noted(at=at, text="[b]\x1b[2J")),
    st.just(lambda session, at: Left(at=at)),
    st.just(lambda session, at: FileHealed(at=at, kept_in="a.torn")),
    st.sampled_from(StopReason).map(lambda reason: lambda session, at: StopRequested(at=at, reason=reason)),
    st.just(lambda session, at: Aborted(at=at, reason=StopReason.DANGER)),
    st.builds(
        lambda step, by: lambda session, at: StepDone(at=at, step=step or session.step.id, by=by),
        st.sampled_from(["", "ready", "nowhere"]),
        st.sampled_from(Ending),
    ),
    st.sampled_from(SkipReason).map(
        lambda reason: lambda session, at: StepSkipped(at=at, step=session.step.id, reason=reason)
    ),
    st.builds(
        lambda part, temp_c: lambda session, at: CupRead(at=at, part=part, temp_c=temp_c),
        st.sampled_from(Part),
        st.floats(-20, 420),
    ),
    st.sampled_from([170.0, 212.0]).map(
        lambda temp_c: lambda session, at: drive.reading(session, temp_c, at) if session.visits else None
    ),
    st.sampled_from(Part).map(lambda part: lambda session, at: CupThrown(at=at, part=part, stays=True)),
    st.just(lambda session, at: HeatBegun(at=at, step=session.step.id)),
    st.floats(-20, 620).map(lambda temp_c: lambda session, at: MouldRead(at=at, temp_c=temp_c)),
    st.sampled_from([-10.0, 300.0, 600.0, 1700.0]).map(
        lambda temp_c: lambda session, at: drive.mould_reading(session, temp_c, at) if session.visits else None
    ),
    st.tuples(st.sampled_from(Part), st.sampled_from([-10.0, 1.0, 400.0, 1700.0])).map(
        lambda read: lambda session, at: CupRead(at=at, part=read[0], temp_c=read[1])
    ),
    st.lists(_names, max_size=3).map(
        lambda names: lambda session, at: CautionsAcknowledged(at=at, cautions=tuple(names))
    ),
    st.builds(
        lambda number, cut: lambda session, at: TailsChosen(at=at, round=number, cut=cut),
        st.integers(0, 4),
        st.integers(-1, 6),
    ),
    st.sampled_from(["ember", "other", "ghost"]).map(
        lambda name: lambda session, at: CoreChosen(at=at, recipe=name)
    ),
    st.sampled_from(Corrected).map(lambda of: lambda session, at: CorrectionRefused(at=at, of=of)),
    st.sampled_from(Corrected).map(lambda of: lambda session, at: CorrectionRestored(at=at, of=of)),
    st.sampled_from(UnitSystem).map(lambda units: lambda session, at: drive.accept_suggestion(session, at, units)),
    st.builds(
        lambda number, subject, verdict: (
            lambda session, at: VerdictGiven(at=at, round=number, subject=subject, verdict=verdict)
        ),
        st.integers(0, 4),
        st.sampled_from(Subject),
        st.sampled_from(Verdict),
    ),
)


@settings(max_examples=200, deadline=None)
@given(
    build=st.sampled_from(ALL_BUILDS),
    moulds=st.sampled_from([1, 2]),
    throws=st.lists(st.tuples(THROWS, st.floats(0, 400)), max_size=60),
)
def test_whatever_is_thrown_the_session_stays_whole(
    build: tuple[Build, Tail], moulds: int, throws: list[tuple[Throw, float]]
) -> None:
    session = Session(job=job(build[0], tail=build[1], moulds=moulds))
    clock = FakeClock()
    taken: list[Event] = []
    for throw, seconds in throws:
        clock.advance(seconds)
        if session.state is State.IDLE and throw in (drive.due, drive.next_core):
            continue
        event = throw(session, clock.now())
        if event is None:
            continue
        before = session
        try:
            session = session.after(event)
        except IllegalMove:
            continue
        taken.append(event)
        _is_whole(before, event, session, clock.now())
    assert Session(job=session.job).after_all(taken) == session


def _is_whole(before: Session, event: Event, session: Session, now: Stamp) -> None:
    assert not before.state.over or isinstance(event, VerdictGiven | Noted)
    assert [visit.left is None for visit in session.visits[:-1]] == [False] * (len(session.visits) - 1)
    assert (session.visits[-1].left is None) == (not session.state.over)
    if any(session.job.script[visit.index].heats for visit in session.visits):
        assert not session.unacknowledged, "something was heated past an unread caution"
    if before.alarm is not None:
        assert not isinstance(event, StepDone | StepSkipped | Completed), "an alarm was walked past"
    if not session.state.over:
        seen = view(session, now)
        for cup in seen.cups:
            assert cup.held_ml >= 0
            assert cup.temp_c is None or cup.temp_c >= _coldest_c(session, cup.part)
            assert cup.spent_pct >= 0
        assert all(mould.temp_c >= COLDEST_C for mould in seen.moulds)
        assert sum(cup.burst is not None and cup.burst.heating for cup in seen.cups) <= 1, "there is one heater"
        assert all(each.in_s >= 0 for each in seen.coming)
        assert [each.in_s for each in seen.coming] == sorted(each.in_s for each in seen.coming)
        assert seen.rest_s >= 0
        if before.cups.keys() == session.cups.keys() and not isinstance(event, ReadingWithdrawn):
            assert all(session.spent_min[part] >= spent for part, spent in before.spent_min.items())
    assert all(COLDEST_C <= read.temp_c <= MELTING_C for read in session.mould_readings)
    assert summarise(session).made <= session.job.plan.rounds * session.job.plan.cavities


def _coldest_c(session: Session, part: Part) -> float:
    """No cup is reckoned colder than the room, or than it was read; and no figure below the frost is believed."""
    read_c = [read.temp_c for read in session.cup_readings if read.part is part]
    return max(COLDEST_C, min([session.job.station.room.temperature_c, *read_c])) - ROUNDED_K
