"""Every shot that went into a bait: from what cup, into what mould, and how long it set."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.plan.records import Shot
from bench.session.events import Event, StepDone
from bench.session.job import Job
from bench.session.session import Session
from bench.session.shells import shells_out
from bench.session.stamp import Stamp, span
from bench.session.step import Step
from bench.session.warmth import cup_now, mould_now
from bench.units import Celsius, Seconds

SLACK_K = 1.0
"""Starting value: an estimate so little outside its range reads like one inside."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Outside:
    """Something that was not in its range at a shot: the ``part``'s cup or, where that is None, the mould.
    ``temp_c`` is the estimate, ``above`` says on which side."""

    part: Part | None
    temp_c: Celsius
    range_c: tuple[Celsius, Celsius]
    above: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class ShotMade:
    """One shot at the end of its push. Temperatures are estimates of that moment, readings counted in: ``cups_c``
    of every cup that is known, ``mould_c`` of its mould and ``mould_rise_k`` how much hotter that may have been.
    ``set_s`` is from then until its mould was opened, None while it is closed; ``planned_set_s`` what the plan
    had. ``shells_out_s`` is how long a core's shells had been out of their mould, of ``shells_limit_s`` at most;
    None where there were none."""

    at: Stamp
    step: Step
    shot: Shot
    cups_c: Mapping[Part, Celsius]
    mould_c: Celsius
    outside: tuple[Outside, ...]
    planned_set_s: Seconds
    set_s: float | None = None
    shells_out_s: float | None = None
    shells_limit_s: float | None = None
    mould_rise_k: float = 0.0


def shot_made(session: Session, at: Stamp) -> ShotMade | None:
    """What is shot where the present step ends at that moment; None where that is no shot into a bait. Scrap warms
    its mould, whatever it is."""
    step = session.step
    mould = mould_now(session, at, step.mould)
    if step.kind is not StepKind.SHOT or step.shot is None or mould is None:
        return None
    known = {part: cup_now(session, part, at) for part in step.parts}
    cups_c = {part: estimate.temp_c for part, estimate in known.items() if estimate is not None}
    plan = session.job.plan.rounds_table[step.round - 1].shot(step.shot)
    is_core = step.shot is Shot.CORE
    lay = next((each for each in shells_out(session, at) if is_core and each.round == step.round), None)
    return ShotMade(
        at=at,
        step=step,
        shot=step.shot,
        cups_c=cups_c,
        mould_c=mould.temp_c,
        outside=tuple(_outside(session.job, cups_c, mould.temp_c)),
        planned_set_s=plan.set_s,
        shells_out_s=lay.out_s if lay else None,
        shells_limit_s=lay.limit_s if lay else None,
        mould_rise_k=mould.rise_k,
    )


def _outside(job: Job, cups_c: Mapping[Part, Celsius], mould_c: Celsius) -> Iterator[Outside]:
    found = [(part, temp_c, job.plastic.band_c) for part, temp_c in cups_c.items()]
    for part, temp_c, (low_c, high_c) in (*found, (None, mould_c, job.mould.warm_c)):
        if not low_c - SLACK_K <= temp_c <= high_c + SLACK_K:
            yield Outside(part=part, temp_c=temp_c, range_c=(low_c, high_c), above=temp_c > high_c)


def shots_made(job: Job, events: Iterable[Event]) -> tuple[ShotMade, ...]:
    """The shots that stand, in order: one that was taken back is told as it was made at last."""
    session = Session(job=job)
    made: dict[str, ShotMade] = {}
    for event in events:
        if isinstance(event, StepDone) and session.visits:
            shot = shot_made(session, event.at)
            if shot is not None:
                made[shot.step.id] = shot
        session = session.after(event)
    standing = {session.job.script[visit.index].id for visit in session.visits if visit.by is not None}
    found = (replace(each, set_s=_set_s(session, each)) for each in made.values() if each.step.id in standing)
    return tuple(sorted(found, key=lambda each: session.job.script.index(each.step)))


def _set_s(session: Session, made: ShotMade) -> float | None:
    """Until the mould is opened: until the step of its opening began."""
    for visit in session.visits:
        step = session.job.script[visit.index]
        is_same = (step.mould, step.round, step.shot) == (made.step.mould, made.step.round, made.step.shot)
        if step.kind is StepKind.OPEN and is_same:
            return span(made.at, visit.entered).seconds
    return None
