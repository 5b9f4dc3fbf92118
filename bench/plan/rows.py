"""The rows of a timeline: scheduled tasks as they are shown and followed.

A shot is two rows, the push and its hold; a mould that has to cool before its next shot has a row for
that, in what of the time nothing is done at it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bench.model.recipe import Part
from bench.plan.records import Shot
from bench.plan.schedule import Resource, Schedule, Scheduled
from bench.plan.shooting import SHORTEST_REST_S
from bench.plan.work import TaskKind, Work, mould_resource
from bench.units import Celsius, Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One thing that is done. ``words`` name it inside a sentence. ``round`` is 0 for warm-up shots, ``mould`` 0
    and ``part`` None for what has none. ``resources`` are what it occupies. ``mould_c`` is the mould's temperature
    as a round's shot meets it."""

    id: str
    words: str
    kind: TaskKind
    round: int
    mould: int
    part: Part | None
    shot: Shot | None
    melt: int
    start_s: Seconds
    end_s: Seconds
    resources: frozenset[Resource]
    mould_c: Celsius | None = None


def rows_of(
    works: Sequence[Work],
    made: Schedule,
    *,
    at_c: Mapping[tuple[int, Shot], Celsius],
    cooling_s: Mapping[tuple[int, Shot], Seconds],
) -> tuple[Row, ...]:
    """All rows by their start. ``at_c`` are the moulds' temperatures by round and shot, ``cooling_s`` how long a
    mould had to cool for it since the end of the shot before."""
    about = {work.task.id: work for work in works}
    rows = [row for each in made.tasks for row in _done(about[each.task.id], each, at_c)]
    moulds = sorted({row.mould for row in rows} - {0})
    rows.extend(rest for mould in moulds for rest in _rests(rows, mould, cooling_s))
    return tuple(sorted(rows, key=lambda row: (row.start_s, row.end_s)))


def _done(work: Work, placed: Scheduled, at_c: Mapping[tuple[int, Shot], Celsius]) -> Iterator[Row]:
    is_shot = work.kind is TaskKind.SHOT and work.shot is not None
    row = Row(
        id=work.task.id,
        words=work.task.words,
        kind=work.kind,
        round=work.round,
        mould=work.mould,
        part=work.part,
        shot=work.shot,
        melt=work.melt,
        start_s=placed.start_s,
        end_s=placed.end_s - work.hold_s,
        resources=work.task.needs,
        mould_c=at_c.get((work.round, work.shot)) if is_shot and work.shot is not None else None,
    )
    yield row
    if is_shot:
        yield replace(
            row,
            id=f"{row.id.removesuffix('.shot')}.hold",
            words=f"the hold of {row.words}",
            kind=TaskKind.HOLD,
            start_s=row.end_s,
            end_s=placed.end_s,
        )


def _rests(rows: Sequence[Row], mould: int, cooling_s: Mapping[tuple[int, Shot], Seconds]) -> Iterator[Row]:
    at_mould = [row for row in rows if mould_resource(mould) in row.resources]
    at_mould.sort(key=lambda row: (row.start_s, row.end_s))
    shot_s = 0.0
    for before, after in pairwise(at_mould):
        if before.kind in (TaskKind.WARM_UP_SHOT, TaskKind.SHOT, TaskKind.HOLD):
            shot_s = before.end_s
        if after.kind not in (TaskKind.RODS_IN, TaskKind.SHOT):
            continue
        shot = after.shot or Shot.SHELL
        until_s = min(after.start_s, shot_s + cooling_s.get((after.round, shot), 0.0))
        if until_s - before.end_s >= SHORTEST_REST_S:
            yield Row(
                id=f"r{after.round}.rest.{shot}{'.rods-in' if after.kind is TaskKind.RODS_IN else ''}",
                words=f"the rest of the mould before round {after.round}",
                kind=TaskKind.REST_MOULD,
                round=after.round,
                mould=mould,
                part=None,
                shot=None,
                melt=0,
                start_s=before.end_s,
                end_s=until_s,
                resources=frozenset({mould_resource(mould)}),
            )
