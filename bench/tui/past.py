"""What waits, from the list of past sessions."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from bench.session.next_words import last_time_words, next_lines
from bench.session.session import Session
from bench.store.last_time import lines_of
from bench.store.lock import holder_of
from bench.store.paths import Home
from bench.store.sessions import Listed, list_sessions, read
from bench.tui.present import sentence
from bench.tui.waiting import Curing, Judged, Unfinished, Waiting

NEWEST = 50
"""Sessions looked through for what waits."""

SHOWN_AFTER_READY = timedelta(days=2)
"""How long trays are spoken of once they may be packed: nobody tells the program that they were."""


def what_waits(home: Home, now: datetime) -> Waiting:
    """Sessions to go on with, real ones first, and trays that cure or were ready lately."""
    real = list_sessions(home.sessions, most=NEWEST, figures=False)
    rehearsed = list_sessions(home.rehearsals, most=NEWEST, figures=False)
    return Waiting(
        unfinished=(*_unfinished(real, rehearsal=False), *_unfinished(rehearsed, rehearsal=True)),
        curing=tuple(_curing(real, now)),
        unread=tuple(line.fault for line in (*real, *rehearsed) if line.fault),
        judged=tuple(_judged(real)),
    )


def first_unfinished(home: Home) -> Unfinished | None:
    """The latest real session to go on with; None without one."""
    real = list_sessions(home.sessions, most=NEWEST, figures=False)
    return next(_unfinished(real, rehearsal=False), None)


def unfinished_again(before: Iterable[Unfinished]) -> tuple[Unfinished, ...]:
    """What is unfinished by now in the folders of those that were, in the same order."""
    folders = dict.fromkeys((each.path.parent, each.rehearsal) for each in before)
    return tuple(
        each
        for folder, rehearsal in folders
        for each in _unfinished(list_sessions(folder, most=NEWEST, figures=False), rehearsal=rehearsal)
    )


def _unfinished(listed: Iterable[Listed], *, rehearsal: bool) -> Iterator[Unfinished]:
    for line in listed:
        if line.summary is not None and not line.over and line.last is not None:
            yield Unfinished(
                path=line.path,
                recipe=line.summary.recipe,
                mould=line.summary.mould,
                last=_last_of(line.path, line.last) if rehearsal else line.last,
                rehearsal=rehearsal,
                elsewhere=_is_elsewhere(line.path),
            )


def _last_of(path: Path, last: datetime) -> datetime:
    """When a rehearsal was last written to: its own clock runs faster than the maker's."""
    try:
        return datetime.fromtimestamp(path.stat().st_mtime, tz=last.tzinfo)
    except OSError:
        return last


def _is_elsewhere(path: Path) -> bool:
    """Whether another process writes it. This one still may for a moment after a session was left."""
    return holder_of(path) not in ("", f"process {os.getpid()}")


def _judged(listed: Iterable[Listed]) -> Iterator[Judged]:
    for line in listed:
        summary = line.summary
        if summary is not None and line.over and summary.verdicts and line.created is not None:
            yield Judged(path=line.path, recipe=summary.recipe, mould=summary.mould, created=line.created)


@dataclass(frozen=True, kw_only=True, slots=True)
class LastTime:
    """What was said of a choice the last time: ``words`` are a line for its plan, ``whole`` a sentence for each
    verdict, with the loads to try and their windows, ``lines`` the line and how to take a load. Empty where nobody
    said anything."""

    words: str = ""
    whole: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()


def last_time(judged: Iterable[Judged], planned: Session) -> LastTime:
    """What was said of the same recipe in the same mould the last time, and what to try; nothing where its loads
    were changed since. Raises BenchError where that session cannot be read."""
    plan = planned.job.plan
    same = (each for each in judged if (each.recipe, each.mould) == (plan.recipe_title, plan.mould_title))
    before = next(same, None)
    if before is None:
        return LastTime()
    session = read(before.path).session
    same_loads = session.job.recipe.parts == planned.job.recipe.parts
    lines = tuple(lines_of(session, before.created)) if same_loads else ()
    if not lines:
        return LastTime()
    words, *how = lines
    whole = tuple(map(sentence, next_lines(session))) or (f"{sentence(last_time_words(session))}.",)
    return LastTime(words=words, whole=(*whole, *how), lines=lines)


def _curing(listed: Iterable[Listed], now: datetime) -> Iterator[Curing]:
    for line in listed:
        summary = line.summary
        if summary is None or summary.ready_at is None or summary.ready_at + SHOWN_AFTER_READY < now:
            continue
        yield Curing(recipe=summary.recipe, baits=summary.made, ready=summary.ready_at)
