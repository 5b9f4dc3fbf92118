"""The closing summary in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from bench.model.settings import UnitSystem
from bench.session import drive
from bench.session.aired import aired_short
from bench.session.next_words import next_lines
from bench.session.session import Session, State
from bench.session.summary import Summary, summarise
from bench.session.verdicts import Subject, options, standing
from bench.tui import present
from bench.tui.pour.left_words import left_words
from bench.tui.text import clean
from bench.tui.widgets.lines import MARK

_ENDED: Mapping[State, str] = {
    State.COMPLETE: "Complete.",
    State.STOPPED: "Stopped early; the bench was closed in order.",
    State.ABORTED: "Left at once. Heat may still be on: switch it off as soon as that is safe.",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Closing:
    """The summary: what stands large, the lines below it, and what the digits still say of the last round."""

    large: str
    heading: str
    lines: tuple[str, ...]
    asks: str = ""
    choices: tuple[str, ...] = ()


OF_A_REHEARSAL = "rehearsed: what was said of it stays with it, the bench and its plans go by real pours alone"


def closing(session: Session, units: UnitSystem, *, rehearsed: bool = False) -> Closing:
    """How the session went."""
    summary = summarise(session)
    judged = drive.last_round(session)
    return Closing(
        large=present.counted(summary.made, "bait").upper() if summary.made else "STOPPED",
        heading=f"{clean(summary.recipe)} · {clean(summary.mould)}",
        lines=(
            *_lines(session, summary, units),
            *((OF_A_REHEARSAL,) if rehearsed and summary.verdicts else ()),
        ),
        asks="" if judged is None else _asks(session, judged),
        choices=() if judged is None else _choices(session, judged),
    )


def _asks(session: Session, judged: int) -> str:
    """What is asked of the baits of that round, which have one verdict together."""
    cavities = session.job.plan.cavities
    if cavities == 1:
        return f"Round {judged}: what do you see now? A digit says it."
    return f"Round {judged} now: a digit for all {cavities}, the look of most or the worst fault."


def _lines(session: Session, summary: Summary, units: UnitSystem) -> Iterator[str]:
    yield _ENDED.get(summary.state, "Not finished yet.")
    yield from left_words(session, units)
    yield f"made {summary.made} of {summary.wanted} wanted, in {summary.rounds_done} of {summary.rounds} rounds"
    if aired := aired_short(session):
        cleared, wanted = present.long_time(aired.cleared_s), present.long_time(aired.planned_s)
        yield f"air cleared for {cleared} of {wanted}: leave the fan on, and stay out while you can"
    taken, planned = present.long_time(summary.taken_s), present.long_time(summary.planned_s)
    yield f"took {taken}, planned {planned}"
    if summary.hottest_c is not None:
        yield f"hottest cup reading {present.temperature(summary.hottest_c, units)}"
    if summary.ready_at is not None:
        yield "trays flat, baits straight and not touching, out of the sun"
        yield f"do not pack before {present.day_and_time(summary.ready_at)}"
    for number in range(1, summary.rounds + 1):
        yield from _round(session, number)
    yield from (clean(line, limit=600) for line in next_lines(session))
    for note in summary.notes:
        yield f"note: {clean(note, limit=400)}"


def _round(session: Session, number: int) -> Iterator[str]:
    said = [
        f"{subject}: {', '.join(each.words for each in verdicts)}"
        for subject in Subject
        if (verdicts := standing(session.verdicts, number, subject))
    ]
    if said:
        yield f"round {number}, {'; '.join(said)}"


def _choices(session: Session, number: int) -> tuple[str, ...]:
    given = standing(session.verdicts, number, Subject.BAITS)
    offered = options(Subject.BAITS, session.job.plan.build)
    return tuple(
        f"{digit} {MARK if verdict in given else ' '} {verdict.words}"
        for digit, verdict in enumerate(offered, start=1)
    )
