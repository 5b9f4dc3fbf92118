"""Past sessions in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from textual.content import Content

from bench.model.settings import UnitSystem
from bench.session.aired import aired_short
from bench.session.causes import verdict_words
from bench.session.made_again import shot_words, tails_words, weighing_words
from bench.session.next_words import next_lines
from bench.session.session import Session
from bench.session.shots_made import ShotMade, shots_made
from bench.session.summary import Summary, summarise
from bench.session.taken import ALREADY_OVER, steps_taken
from bench.session.weighings import weighings
from bench.store.sessions import Listed, Stored
from bench.tui.pour.left_words import left_words
from bench.tui.present import counted, day_and_time, lasted, long_time, mass, temperature, temperatures
from bench.tui.text import clean, cut


def none_yet(*, rehearsals: bool) -> str:
    """That there is nothing to list, and the key to the other list."""
    return "No rehearsals yet. R lists real sessions." if rehearsals else "No sessions yet. R lists rehearsals."


def listed_label(line: Listed) -> Content:
    """A session as a line of the list."""
    if line.summary is None or line.created is None:
        return Content.assemble(clean(line.id), ("  cannot be read", "$bench-caution"))
    made = f"{line.summary.made} of {line.summary.wanted}"
    return Content.assemble(
        (f"{line.created:%Y-%m-%d %H:%M}  ", "$bench-quiet"),
        f"{cut(clean(line.summary.recipe), 24):<24}  {made:>9}  ",
        (f"{line.state:<10}  {clean(line.summary.mould)}", "$bench-quiet"),
    )


def past_content(stored: Stored, units: UnitSystem) -> Content:
    """One session: how it went, its steps, its readings, what was said of it."""
    session, summary = stored.session, summarise(stored.session)
    shots = shots_made(session.job, stored.events)
    parts = [
        list(_head(stored, summary, units)),
        _titled("What it was made with", _made_with(stored, shots, units)),
        _titled("Steps", _steps(session)),
        _titled("Readings", _readings(session, units)),
        _titled("Verdicts", _verdicts(summary, shots, units)),
        _titled("Notes", (clean(note, limit=400) for note in summary.notes)),
        _titled("For the next round", (clean(line, limit=600) for line in next_lines(session))),
    ]
    return Content("\n\n").join(Content("\n").join(part) for part in parts if part)


def _head(stored: Stored, summary: Summary, units: UnitSystem) -> Iterator[Content]:
    yield Content.assemble((clean(summary.recipe), "bold $bench-title"), f"  {clean(summary.mould)}")
    rehearsed = f", rehearsed ×{stored.rehearsal:g}" if stored.rehearsal else ""
    yield Content(f"{stored.created:%Y-%m-%d %H:%M}, {stored.state}{rehearsed}")
    rounds = f"{summary.rounds_done} of {counted(summary.rounds, 'round')}"
    yield Content(f"{summary.made} of {counted(summary.wanted, 'bait')}, {rounds}")
    yield Content(f"took {long_time(summary.taken_s)}, planned {long_time(summary.planned_s)}")
    if summary.hottest_c is not None:
        yield Content(f"hottest reading {temperature(summary.hottest_c, units)}")
    if summary.ready_at is not None:
        yield Content(f"to be packed from {day_and_time(summary.ready_at)}")
    if aired := aired_short(stored.session):
        yield Content(f"air cleared for {long_time(aired.cleared_s)} of {long_time(aired.planned_s)}")
    yield from map(Content, left_words(stored.session, units))
    for sentence in stored.sentences():
        yield Content.assemble(("! ", "bold $bench-caution"), clean(sentence, limit=400))


def _titled(title: str, lines: Iterator[str]) -> list[Content]:
    found = [Content(line) for line in lines]
    return [Content.assemble((title, "bold $bench-title")), *found] if found else []


def _steps(session: Session) -> Iterator[str]:
    steps = list(steps_taken(session))
    columns = max((len(step.label) for step in steps), default=0)
    yield f"{'began':<10}{'':<{columns}}{'planned':>9}{'taken':>9}"
    for step in steps:
        taken = "" if step.taken_s is None or step.ended == ALREADY_OVER else lasted(step.taken_s)
        ended = "" if step.ended.startswith("by") else f"  {step.ended}"
        planned = lasted(step.planned_s)
        yield f"{step.began.wall:%H:%M:%S}  {step.label:<{columns}}{planned:>9}{taken:>9}{ended}"


def _made_with(stored: Stored, shots: Sequence[ShotMade], units: UnitSystem) -> Iterator[str]:
    """The band, each cup as it was weighed, each shot, the tails."""
    session = stored.session
    yield f"{clean(session.job.plastic.title)}, band {temperatures(*session.job.plastic.band_c, units)}"
    yield f"mould window {temperatures(*session.job.mould.warm_c, units)}"
    for weighing in weighings(session.job, stored.events):
        yield clean(weighing_words(weighing, partial(mass, units=units)), limit=400)
    for made in shots:
        yield shot_words(made, lambda temp_c: f"about {temperature(temp_c, units)}", lasted)
    yield from tails_words(session)


def _verdicts(summary: Summary, shots: Sequence[ShotMade], units: UnitSystem) -> Iterator[str]:
    for given in summary.verdicts:
        yield verdict_words(given, shots, lambda temp_c: f"about {temperature(temp_c, units)}")


def _readings(session: Session, units: UnitSystem) -> Iterator[str]:
    readings = [(reading.at.wall, f"{reading.part.words} cup", reading.temp_c) for reading in session.cup_readings]
    readings += [(reading.at.wall, "mould", reading.temp_c) for reading in session.mould_readings]
    for at, what, temp_c in sorted(readings):
        yield f"{at:%H:%M:%S}  {what:<12}{temperature(temp_c, units):>9}"
