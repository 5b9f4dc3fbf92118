"""The shells that are out of their moulds: since when, and whether they lie in a mould again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.plan.records import Shot
from bench.session.reheating import can_be_shot
from bench.session.session import Session
from bench.session.stamp import Stamp, span


@dataclass(frozen=True, kw_only=True, slots=True)
class Shells:
    """The shells of a round between their opening and their core. ``back`` is when they were laid back into mould
    ``mould``, None while they lie out."""

    round: int
    mould: int
    opened: Stamp
    back: Stamp | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class ShellsOut:
    """How long it is since a round's shells came out of the mould, until their core is in, and how long that may
    be. ``core_ready`` says that they can be filled at once: their core's cup is fit to be shot."""

    round: int
    out_s: float
    limit_s: float
    core_ready: bool


def shells(session: Session) -> tuple[Shells, ...]:
    """The shells that wait for their core, in the order in which they came out."""
    waiting: dict[int, Shells] = {}
    for visit in session.visits:
        step = session.job.script[visit.index]
        if visit.left is None:
            continue
        if step.kind is StepKind.OPEN and step.shot is Shot.SHELL:
            waiting[step.round] = Shells(round=step.round, mould=step.mould, opened=visit.left)
        elif step.kind is StepKind.SHELLS_BACK and step.round in waiting:
            waiting[step.round] = replace(waiting[step.round], back=visit.left)
        elif step.kind is StepKind.SHOT and step.shot is Shot.CORE:
            waiting.pop(step.round, None)
    return tuple(waiting.values())


def shells_out(session: Session, now: Stamp) -> Iterator[ShellsOut]:
    """How long the shells of each round are out whose core is still to come."""
    cores = {step.round for step in session.ahead if step.kind is StepKind.SHOT and step.shot is Shot.CORE}
    for waiting in shells(session):
        if waiting.round not in cores:
            continue
        melt = session.job.plan.melt(Part.CORE, waiting.round)
        yield ShellsOut(
            round=waiting.round,
            out_s=span(waiting.opened, now).seconds,
            limit_s=session.job.station.shell_out_s,
            core_ready=can_be_shot(session, Part.CORE, melt.number, now),
        )
