"""``pourbench log``: past sessions, and what happened in one."""

from __future__ import annotations

import argparse
import math
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING

from bench.cli.output import duration, emit_json, emit_lines, temperature, wrapped
from bench.errors import printable

if TYPE_CHECKING:
    from datetime import datetime

    from bench.model.settings import UnitSystem
    from bench.session.session import Session
    from bench.session.story import Told
    from bench.store.paths import Home
    from bench.store.sessions import Listed, Stored


def add_log_parser(
    verbs: argparse._SubParsersAction[argparse.ArgumentParser], *, home: Callable[[], Home]
) -> None:
    """The verb ``log`` and, under it, ``show``."""
    parser = verbs.add_parser(
        "log",
        help="past sessions, and what happened in one",
        description="Lists past sessions, the newest first. With show, everything that happened in one of them.",
        allow_abbrev=False,
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object, for programs")
    parser.add_argument("--rehearsals", action="store_true", help="rehearsals instead of real sessions")
    parser.set_defaults(run=lambda arguments: _list(home(), arguments))
    show = parser.add_subparsers(metavar="show ID").add_parser(
        "show",
        help="one session: its steps, readings, verdicts and notes",
        description="One session: its steps with planned and taken times, its readings, verdicts and notes.",
        allow_abbrev=False,
    )
    show.add_argument("id", metavar="ID", help="the session as the list names it, its beginning, or a file")
    show.add_argument("--json", action="store_true", help="print one JSON object, for programs")
    show.set_defaults(run=lambda arguments: _show(home(), arguments))


def _list(home: Home, arguments: argparse.Namespace) -> int:
    from bench.store.sessions import list_sessions

    folder = home.rehearsals if arguments.rehearsals else home.sessions
    listed = list_sessions(folder)
    if arguments.json:
        emit_json({"sessions": [_listed_json(line) for line in listed]})
    else:
        emit_lines(map(printable, table(listed) if listed else [_none(home, rehearsals=arguments.rehearsals)]))
    return 0


def _none(home: Home, *, rehearsals: bool) -> str:
    """That there is nothing to list, and how many there are of the other kind."""
    from bench.store.sessions import list_sessions

    others = len(list_sessions(home.sessions if rehearsals else home.rehearsals))
    kind, other = ("rehearsals", "session") if rehearsals else ("sessions", "rehearsal")
    none = f"No {kind} yet."
    if not others:
        return none
    those = f"1 {other}" if others == 1 else f"{others} {other}s"
    verb = "pourbench log" if rehearsals else "pourbench log --rehearsals"
    return f"{none} There {'is' if others == 1 else 'are'} {those}: {verb}"


def _show(home: Home, arguments: argparse.Namespace) -> int:
    from bench.cli.shelf import units_in
    from bench.store.sessions import find, read

    stored = read(find(home, arguments.id))
    if arguments.json:
        emit_json(as_json(stored))
    else:
        emit_lines(map(printable, as_lines(stored, units_in(home))))
    return 0


def table(listed: Iterable[Listed]) -> Iterator[str]:
    """The sessions, one or more, a line each."""
    lines = list(listed)
    width = max(len("session"), *(len(line.id) for line in lines))
    yield f"{'session':<{width}}  {'state':<10}  {'made':>9}  {'took':>12}  recipe in mould"
    for line in lines:
        yield f"{line.id:<{width}}  {_row(line)}"


def _row(line: Listed) -> str:
    summary = line.summary
    if summary is None:
        return f"cannot be read: {line.problem}"
    made, took = f"{summary.made} of {summary.wanted}", duration(summary.taken_s)
    return f"{line.state:<10}  {made:>9}  {took:>12}  {summary.recipe} in {summary.mould}"


def _listed_json(line: Listed) -> dict[str, object]:
    summary = line.summary
    if summary is None:
        return {"id": line.id, "file": str(line.path), "problem": line.problem}
    return {
        "id": line.id,
        "file": str(line.path),
        "created": _iso(line.created),
        "last": _iso(line.last),
        "rehearsal": line.rehearsal,
        "over": line.over,
        "state": summary.state.value,
        "recipe": summary.recipe,
        "mould": summary.mould,
        "wanted": summary.wanted,
        "made": summary.made,
        "taken_s": summary.taken_s,
        "ready_at": _iso(summary.ready_at),
    }


def as_lines(stored: Stored, units: UnitSystem) -> Iterator[str]:
    """A session for people: its summary, its steps, its readings, its verdicts and its notes."""
    from bench.cli.log_made import made_lines, verdict_lines
    from bench.session.aired import aired_short
    from bench.session.left_words import left_words
    from bench.session.next_words import next_lines
    from bench.session.shots_made import shots_made
    from bench.session.summary import summarise

    session, summary = stored.session, summarise(stored.session)
    shots, degrees = shots_made(session.job, stored.events), partial(temperature, units=units)
    rehearsal = f", a rehearsal at {stored.rehearsal:g} times the speed" if stored.rehearsal else ""
    yield f"{summary.recipe} in {summary.mould}"
    yield f"{stored.id}: {stored.state}{rehearsal}"
    if session.started:
        took, planned = duration(summary.taken_s), duration(summary.planned_s)
        yield f"started {_moment(session.started.wall)}, took {took}, planned {planned}"
    yield f"{summary.made} of {summary.wanted} baits made in {summary.rounds_done} of {summary.rounds} rounds"
    if summary.hottest_c is not None:
        yield f"hottest reading {degrees(summary.hottest_c)}"
    if summary.ready_at:
        yield f"the last tray may be packed from {_moment(summary.ready_at)}"
    if aired := aired_short(session):
        yield f"the air was cleared for {duration(aired.cleared_s)} of the planned {duration(aired.planned_s)}"
    yield from left_words(session, degrees, _about)
    yield from stored.sentences()
    yield from _listed("What it was made with", made_lines(stored, shots, units), bullet="- ")
    yield from _steps(session)
    yield from _listed("What happened", _story(stored, units))
    yield from _listed("Verdicts", verdict_lines(summary.verdicts, shots, units))
    yield from _listed("Notes", (" ".join(note.split()) for note in summary.notes))
    yield from _listed("For the next round", next_lines(session), bullet="- ")


def _steps(session: Session) -> Iterator[str]:
    from bench.session.taken import ALREADY_OVER, steps_taken

    rows = [("began", "step", "planned", "taken", "ended")]
    for step in steps_taken(session):
        no_time = step.taken_s is None or step.ended == ALREADY_OVER
        taken = "" if no_time else duration(step.taken_s or 0.0)
        words = " ".join(step.label.split())
        rows.append((f"{step.began.wall:%H:%M:%S}", words, duration(step.planned_s), taken, step.ended))
    _, label, planned, taken_column, _ = (max(len(row[column]) for row in rows) for column in range(5))
    yield ""
    for row in rows:
        yield f"{row[0]:<8}  {row[1]:<{label}}  {row[2]:>{planned}}  {row[3]:>{taken_column}}  {row[4]}"


def _story(stored: Stored, units: UnitSystem) -> Iterator[str]:
    for told in _told(stored):
        figure = "" if told.temp_c is None else f", {temperature(told.temp_c, units)}"
        yield f"{told.at.wall:%H:%M:%S}  {' '.join(told.words.split())}{figure}"


def _told(stored: Stored) -> Iterator[Told]:
    """What happened, with when the session was resumed."""
    from bench.session.resumed import resumptions
    from bench.session.story import story

    job = stored.session.job
    told = [*resumptions(job, stored.events, pace=stored.rehearsal or 1.0), *story(job, stored.events)]
    place = {event.at: number for number, event in reversed(list(enumerate(stored.events)))}
    # By their events and not by the wall clock, which may have been set back meanwhile.
    yield from sorted(told, key=lambda each: place[each.at])


def _listed(title: str, lines: Iterable[str], *, bullet: str = "") -> Iterator[str]:
    """The lines under their title; with a ``bullet`` long ones are broken, which is for what no program reads."""
    for place, line in enumerate(lines):
        if place == 0:
            yield from ("", title)
        yield from wrapped(line, bullet=f"  {bullet}") if bullet else (f"  {line}",)


def _about(seconds: float) -> str:
    """A time that is only an estimate, in whole minutes and never less than it is."""
    return f"{math.ceil(seconds / 60)} min"


def _moment(wall: datetime) -> str:
    """Local time as it was on the bench."""
    return f"{wall:%Y-%m-%d %H:%M:%S}"


def _iso(wall: datetime | None) -> str | None:
    return wall.isoformat() if wall else None


def as_json(stored: Stored) -> dict[str, object]:
    """A session for programs: plain numbers with their unit in the key, moments as ISO 8601 with offset."""
    from bench.cli.log_made import made_json, verdicts_json
    from bench.session.shots_made import shots_made
    from bench.session.summary import summarise
    from bench.session.taken import steps_taken

    session, summary = stored.session, summarise(stored.session)
    shots = shots_made(session.job, stored.events)
    return {
        "id": stored.id,
        "created": _iso(stored.created),
        "rehearsal": stored.rehearsal,
        **_file_json(stored),
        "over": stored.over,
        "state": summary.state.value,
        "recipe": session.job.plan.recipe,
        "mould": session.job.plan.mould,
        "started": _iso(session.started.wall if session.started else None),
        "wanted": summary.wanted,
        "made": summary.made,
        "rounds_done": summary.rounds_done,
        "rounds": summary.rounds,
        "planned_s": summary.planned_s,
        "taken_s": summary.taken_s,
        "hottest_c": summary.hottest_c,
        "ready_at": _iso(summary.ready_at),
        "steps": [
            {
                "id": step.id,
                "title": step.title,
                "began": _iso(step.began.wall),
                "planned_s": step.planned_s,
                "taken_s": step.taken_s,
                "ended": step.ended,
            }
            for step in steps_taken(session)
        ],
        "cup_readings": [
            {"at": _iso(reading.at.wall), "part": reading.part.value, "temp_c": reading.temp_c}
            for reading in session.cup_readings
        ],
        "mould_readings": [
            {"at": _iso(reading.at.wall), "temp_c": reading.temp_c} for reading in session.mould_readings
        ],
        "verdicts": verdicts_json(summary.verdicts, shots),
        **made_json(stored, shots),
        "story": [{"at": _iso(told.at.wall), "what": told.words, "temp_c": told.temp_c} for told in _told(stored)],
        "notes": list(summary.notes),
    }


def _file_json(stored: Stored) -> dict[str, object]:
    """What has become of the session's file."""
    return {
        "torn": stored.torn.sentence() if stored.torn else None,
        "aside": stored.aside or None,
        "edited": [fault.sentence() for fault in stored.edited],
    }
