"""What was said of a recipe in a mould the last time that it was poured, read from the session's own file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from bench.errors import BenchError
from bench.model.recipe import Recipe
from bench.session.next_words import HOW_TO_TAKE, has_loads, last_time_words
from bench.session.session import Session
from bench.store.paths import Home
from bench.store.sessions import list_sessions, read

NEWEST = 50
"""Sessions looked through."""

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day(moment: datetime) -> str:
    """ "24 Nov", the same in every locale."""
    return f"{moment.day} {_MONTHS[moment.month - 1]}"


def lines_of(before: Session, created: datetime) -> Iterator[str]:
    """How that session was judged and what to try, and how to take it; nothing where nobody judged it."""
    words = last_time_words(before)
    if words:
        yield f"last time, {day(created)}: {words}"
        if has_loads(before):
            yield HOW_TO_TAKE


def last_time_lines(home: Home, recipe: Recipe, mould_title: str) -> tuple[str, ...]:
    """The same of the latest real session of that recipe in that mould. Nothing where loads were changed since, or
    where its file cannot be read: the list of sessions says that."""
    for line in list_sessions(home.sessions, most=NEWEST, figures=False):
        summary = line.summary
        if summary is None or not line.over or not summary.verdicts or line.created is None:
            continue
        if (summary.recipe, summary.mould) != (recipe.title, mould_title):
            continue
        try:
            before = read(line.path).session
        except BenchError:
            return ()
        return tuple(lines_of(before, line.created)) if before.job.recipe.parts == recipe.parts else ()
    return ()


def with_last_time(home: Home, planned: Session) -> Session:
    """An idle session that begins with what was said the last time."""
    job = planned.job
    lines = last_time_lines(home, job.recipe, job.plan.mould_title)
    return replace(planned, job=replace(job, last_time=lines))
