"""What happened in a session besides its steps, in order: what a maker needs who asks why a bait went wrong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import singledispatch

from bench.model.step_kind import StepKind
from bench.session.aside import is_of_the_old
from bench.session.asking import Asked, asks_first
from bench.session.corrections import Corrected
from bench.session.drive import looked_at, remaining_s
from bench.session.events import (
    Aborted,
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
    StepDone,
    StepSkipped,
    StopRequested,
    TailsChosen,
    VerdictGiven,
    WentBack,
)
from bench.session.job import Job
from bench.session.made_again import outside_words
from bench.session.session import Session
from bench.session.shots_made import shot_made
from bench.session.stamp import Stamp, span
from bench.session.step import Ending, Step
from bench.session.stepping import first_burst_s
from bench.session.verdicts import Given, replaced, standing
from bench.units import Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """One thing that happened. ``temp_c`` is the reading or estimate it is about, None for what is about none."""

    at: Stamp
    words: str
    temp_c: float | None = None


def story(job: Job, events: Iterable[Event]) -> Iterator[Told]:
    """What happened, in order. Readings come with what became of them; ends of steps are told elsewhere."""
    session = Session(job=job)
    for event in events:
        before, session = session, session.after(event)
        match event:
            case CupRead():
                yield Told(at=event.at, words=_cup_words(session, event), temp_c=event.temp_c)
            case MouldRead():
                asked = ": asked again" if session.doubted is event else ""
                which = f"mould {event.mould}" if len(session.moulds) > 1 else "the mould"
                yield Told(at=event.at, words=f"{which} was read{asked}", temp_c=event.temp_c)
            case StepDone():
                yield from _ended(before, event)
            case _:
                words = _words(event, before)
                if words:
                    of = event.temp_c if isinstance(event, ReadingWithdrawn) else None
                    yield Told(at=event.at, words=words, temp_c=of)


def _ended(before: Session, event: StepDone) -> Iterator[Told]:
    """What the end of a step says beyond its time: a burst put on, a shot made outside its ranges, what was gone
    on from though the screen asked first, a look without a verdict."""
    made = shot_made(before, event.at)
    if before.step.kind is StepKind.HEAT_ON:
        yield Told(at=event.at, words=_burst_words(before, event.at))
    for words, temp_c in outside_words(made) if made is not None else ():
        yield Told(at=event.at, words=words, temp_c=temp_c)
    words = _taken_words(before) if event.as_it_is else _gone_on_words(before, event)
    if words:
        yield Told(at=event.at, words=words)


def _gone_on_words(before: Session, event: StepDone) -> str:
    step, subject = before.step, looked_at(before)
    if subject is not None:
        is_judged = standing(before.verdicts, step.round, subject)
        return "" if is_judged else f"round {step.round}, {subject}: no verdict"
    asked = asks_first(before, event.at) if event.by is Ending.HAND else None
    if asked is None or asked in _TOLD_BY_THE_SHOT:
        return ""
    if asked is Asked.EARLY:
        return early_words(step, span(before.visit.entered, event.at).seconds, remaining_s(before, event.at))
    return f"gone on from {step.title}: {asked}"


_TOLD_BY_THE_SHOT = frozenset({Asked.COLD, Asked.HOT})


def early_words(step: Step, stayed_s: Seconds, left_s: Seconds) -> str:
    """That a clock was not waited for. Shorter air clearing is told by how long it was."""
    if step.kind is StepKind.PURGE_AIR:
        return f"the air was cleared for {_time(stayed_s)} of {_time(stayed_s + left_s)}"
    return f"{step.title} was ended {_time(left_s)} early"


def _time(seconds: Seconds) -> str:
    return f"{seconds:.0f} s" if seconds < 90 else f"{seconds / 60:.0f} min"


def _cup_words(session: Session, event: CupRead) -> str:
    if is_of_the_old(session, event.part):
        return f"the old {event.part.words} cup was read"
    cup = f"the {event.part.words} cup was read"
    if session.doubted is event:
        return f"{cup}: asked again"
    return f"{cup}: over the scorch limit" if session.alarm is event else cup


def _burst_words(before: Session, at: Stamp) -> str:
    """The burst that has just begun to run by itself; that of a cup that needs none, or runs already, is not told
    as one."""
    step, known = before.step, before.cups.get(before.step.parts[0])
    cup = f"the {step.parts[0].words} cup"
    if known is not None and known.by_itself and known.melt == step.melt:
        return f"went on again from: {step.title}"
    seconds = first_burst_s(before, step, at)
    return f"{cup} went on the heat for {seconds:.0f} s" if seconds else f"{cup} was hot enough without a burst"


def _taken_words(before: Session) -> str:
    cups = " and ".join(part.words for part in before.step.parts)
    several = len(before.step.parts) > 1
    taken = "cups were taken as they are" if several else "cup was taken as it is"
    return f"the {cups} {taken} though not read"


@singledispatch
def _words(_event: Event, _before: Session) -> str:
    return ""


@_words.register
def _held(_event: Held, before: Session) -> str:
    return f"held at: {before.step.title}"


@_words.register
def _left(_event: Left, before: Session) -> str:
    return f"left at: {before.step.title}"


@_words.register
def _resumed(_event: Resumed, _before: Session) -> str:
    return "went on"


@_words.register
def _went_back(_event: WentBack, before: Session) -> str:
    return f"went back from: {before.step.title}"


@_words.register
def _reheated(event: ReheatWanted, _before: Session) -> str:
    return f"the {event.part.words} cup went back on the heat before its shot"


@_words.register
def _withdrawn(event: ReadingWithdrawn, _before: Session) -> str:
    return f"withdrawn: what was read of the {event.part.words} cup was wrong"


@_words.register
def _thrown(event: CupThrown, _before: Session) -> str:
    what = "set aside where it stands" if event.stays else "thrown away"
    return f"the {event.part.words} cup was {what}: it was over its scorch limit"


@_words.register
def _begun(event: HeatBegun, before: Session) -> str:
    cup = f"{before.step.parts[0].words} cup"
    if before.waits_for_aside:
        return f"the new {cup} went on the heat"
    on = "on" if before.waits_to_begin else "back on"
    return f"the {cup} went {on} the heat for {first_burst_s(before, before.step, event.at):.0f} s"


@_words.register
def _skipped(event: StepSkipped, before: Session) -> str:
    return f"skipped {before.step.title}: {event.reason}"


@_words.register(StopRequested)
@_words.register(Aborted)
def _stopped(event: StopRequested | Aborted, before: Session) -> str:
    return f"stopped at {before.step.title}: {event.reason}"


@_words.register
def _tails(event: TailsChosen, before: Session) -> str:
    return f"round {event.round}: {event.cut} of {before.job.plan.cavities} tails cut"


@_words.register
def _core(event: CoreChosen, before: Session) -> str:
    return f"the core became that of {before.job.core_title(event.recipe)}"


@_words.register
def _verdict(event: VerdictGiven, before: Session) -> str:
    given = Given(round=event.round, subject=event.subject, verdict=event.verdict)
    was = replaced(before.verdicts, given)
    return f"round {event.round}, {event.subject}: {event.verdict.words}{f', before: {was.words}' if was else ''}"


@_words.register
def _refused(event: CorrectionRefused, _before: Session) -> str:
    return f"not used any more: what was learnt of the {_LEARNT[event.of]}"


@_words.register
def _restored(event: CorrectionRestored, _before: Session) -> str:
    return f"used again: what was learnt of the {_LEARNT[event.of]}"


_LEARNT = {
    Corrected.CUP_LOSS: "cup's loss",
    Corrected.HEATER: "heater",
    Corrected.MOULD_LOSS: "mould's loss",
    Corrected.SET_TIME: "set time",
}


@_words.register
def _note(event: Noted, _before: Session) -> str:
    return f"note: {event.text}"


@_words.register
def _healed(event: FileHealed, _before: Session) -> str:
    kept = f"; what it wrote is kept in {event.kept_in}" if event.kept_in else ""
    return f"another program changed the session's file, which was made whole again{kept}"
