"""What the events of a file make of the session in its head, in sentences where they make nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from bench.errors import BenchError, Fault, FaultyFiles, IllegalMove, printable
from bench.session.events import Event
from bench.session.job import Job
from bench.session.next_loads import next_times
from bench.session.session import Session
from bench.session.shots_made import shots_made
from bench.session.story import story
from bench.session.summary import summarise
from bench.session.taken import steps_taken
from bench.session.to_weigh import WEIGHED_AT
from bench.session.view import view
from bench.session.weighings import weighings
from bench.store.decode import bounded_faults
from bench.store.event_tables import event_from, is_note
from bench.store.impossible import impossible_figures
from bench.store.journal import Content
from bench.store.keys import MOST_FAULTS
from bench.store.torn import changed_event

_LONGEST_REASON = 300

_AS_THE_FILE_SAYS = "the one that was written (what is shown follows from the changed one)"

_MISFITS = (
    ArithmeticError, AssertionError, AttributeError, LookupError, StopIteration, TypeError, ValueError,
)  # fmt: skip
"""How reckoning ends with a plan whose parts do not fit. Under a whole seal it is a defect of ours and goes up."""


def replayed(idle: Session, content: Content, *, file: str, is_sealed: bool) -> tuple[Session, tuple[Event, ...]]:
    """The session once all of the file has happened, and what did. Raises FaultyFiles.

    Where the plan is not known to be the one that the session began with, what is shown of any session is reckoned
    as well: a plan that cannot be shown is refused here.
    """
    if not is_sealed:
        _refuse_impossible_figures(idle.job, file)
    try:
        if not is_sealed:
            _look_up(idle.job)
        session, events = _after_all(idle, content, file)
        if not is_sealed:
            _show(session, events, file)
    except _MISFITS as error:
        if is_sealed:
            raise
        raise FaultyFiles([_misfit(file)]) from error
    return session, events


def _refuse_impossible_figures(job: Job, file: str) -> None:
    faults = [replace(fault, file=file) for fault in impossible_figures(job)]
    if faults:
        raise FaultyFiles(bounded_faults(faults))


def _look_up(job: Job) -> None:
    """Find all of the plan that its script will ask for, however far the session is. Raises _MISFITS."""
    for step in job.script:
        for part in step.parts:
            if step.kind in WEIGHED_AT:
                job.plan.melt_numbered(part, step.melt)
            else:
                job.plan.part(part)
        if step.shot is not None:
            job.plan.rounds_table[step.round - 1].shot(step.shot)


def _show(session: Session, events: tuple[Event, ...], file: str) -> None:
    """Reckon what is shown of it. Raises FaultyFiles where physics refuses, _MISFITS where parts do not fit."""
    try:
        summarise(session)
        list(steps_taken(session))
        list(story(session.job, events))
        list(weighings(session.job, events))
        shots_made(session.job, events)
        list(next_times(session))
        if session.visits:
            view(session, session.last or events[-1].at)
    except BenchError as error:
        raise FaultyFiles([_unreckonable(error, "job", file)]) from error


def changed_events(content: Content, *, file: str) -> tuple[Fault, ...]:
    """What is said of events that somebody has changed and that count as the file says them."""
    return tuple(
        Fault(
            key=f"event[{place}]",
            found=changed_event(content.events[place]),
            wanted="its first words, or these" if is_note(content.events[place]) else _AS_THE_FILE_SAYS,
            file=file,
        )
        for place in content.changed[:MOST_FAULTS]
    )


def _after_all(session: Session, content: Content, file: str) -> tuple[Session, tuple[Event, ...]]:
    events: list[Event] = []
    for place, table in enumerate(content.events):
        event = _event(table, place, content, file)
        if event is None:
            continue
        try:
            session = session.after(event)
        except IllegalMove as error:
            raise FaultyFiles([_unfit(error, place, file)]) from error
        except BenchError as error:
            raise FaultyFiles([_unreckonable(error, f"event[{place}]", file)]) from error
        events.append(event)
    return session, tuple(events)


def _event(table: Mapping[str, Any], place: int, content: Content, file: str) -> Event | None:
    """The event of that place; None for a note that an edit has made unreadable: it stays in the file."""
    try:
        return event_from(table, place=place, file=file)
    except FaultyFiles:
        if place in content.changed and is_note(table):
            return None
        raise


def _unfit(error: IllegalMove, place: int, file: str) -> Fault:
    # The names of steps in it are what the file says, whoever wrote them.
    said = printable(str(error)[:_LONGEST_REASON])
    return Fault(key=f"event[{place}]", found=said, wanted="an event that fits", file=file)


def _unreckonable(error: BenchError, key: str, file: str) -> Fault:
    """What physics says of figures that it cannot go on with."""
    said = printable(str(error)[:_LONGEST_REASON])
    return Fault(
        key=key, found=f"figures that cannot be reckoned with ({said})", wanted="their units checked", file=file
    )


def _misfit(file: str) -> Fault:
    return Fault(
        key="job",
        found="a plan whose parts do not fit each other",
        wanted="the one that the session began with",
        file=file,
    )
