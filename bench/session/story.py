"""What happened in a session besides its steps, in order: what a maker needs who asks why a bait went wrong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import singledispatch

from bench.model.step_kind import StepKind
from bench.session.aside import is_of_the_old
from bench.session.corrections import Corrected
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
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.verdicts import Given, replaced
from bench.session.warmth import first_burst_s


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """One thing that happened. ``temp_c`` is the reading it is about, None for what is about none."""

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
            case StepDone() if before.step.kind is StepKind.HEAT_ON:
                yield Told(at=event.at, words=_burst_words(before, event.at))
            case StepDone(as_it_is=True):
                yield Told(at=event.at, words=_taken_words(before))
            case _:
                words = _words(event, before)
                if words:
                    yield Told(at=event.at, words=words)


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
    return f"withdrawn: {event.temp_c:.0f} °C in the {event.part.words} cup was a wrong reading"


@_words.register
def _thrown(event: CupThrown, _before: Session) -> str:
    what = "set aside where it stands" if event.stays else "thrown away"
    return f"the {event.part.words} cup was {what}: it was over its scorch limit"


@_words.register
def _begun(_event: HeatBegun, before: Session) -> str:
    return f"the new {before.step.parts[0].words} cup went on the heat"


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
    return f"round {event.round}, {event.subject}: {event.verdict}{f', before: {was}' if was else ''}"


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
