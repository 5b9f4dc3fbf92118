"""What is still done after a session was stopped early: heat off first, then what stands closed is opened."""

from __future__ import annotations

from collections.abc import Iterator

from bench.model.step_kind import StepKind
from bench.session.reheating import SHOTS
from bench.session.session import Session

_OPENED_BY = (StepKind.SET, StepKind.OPEN)


def closing_places(session: Session) -> tuple[int, ...]:
    """The places in the script of what follows a stop, in order: the heat off, every mould that stands filled
    set and opened, then the rest of the closing. What is in a mould is neither left there nor left uncounted."""
    script = session.job.script
    heat_off = next(place for place, step in enumerate(script) if step.kind is StepKind.HEAT_OFF)
    moulds = (place for shot in _filled(session) for place in _opening(session, shot))
    return (heat_off, *moulds, *range(heat_off + 1, len(script)))


def moulds_to_open(session: Session) -> tuple[int, ...]:
    """The moulds that a stopped session has still to open, in order."""
    steps = (session.job.script[place] for place in session.closing)
    return tuple(step.mould for step in steps if step.kind is StepKind.OPEN)


def filled_moulds(session: Session) -> tuple[int, ...]:
    """The moulds that nobody has opened since their shot, the one shot first before the others."""
    return tuple(session.job.script[place].mould for place in _filled(session))


def _filled(session: Session) -> tuple[int, ...]:
    """The places of the shots whose mould nobody has opened since, the earliest first."""
    filled: dict[int, int] = {}
    for visit in session.visits[:-1]:
        step = session.job.script[visit.index]
        if step.kind in SHOTS and visit.by is not None:
            filled[step.mould] = visit.index
        elif step.kind is StepKind.OPEN:
            filled.pop(step.mould, None)
    return tuple(filled.values())


def _opening(session: Session, shot: int) -> Iterator[int]:
    """The places of the set after that shot and of the opening after that."""
    script = session.job.script
    for place in range(shot + 1, len(script)):
        step = script[place]
        if step.mould == script[shot].mould and step.kind in _OPENED_BY:
            yield place
            if step.kind is StepKind.OPEN:
                return
