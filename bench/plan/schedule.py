"""Schedules: when each task starts, so that all is done soon and every limit is kept.

A task needs one or more things of which there is one each (a pair of hands, a heater, a mould), waits for the end
of others, and may have to start within some time of the end of another. Nothing here knows of moulds or plastic.

The best schedule of such tasks is hard to find (resource-constrained project scheduling is NP-hard): what is given
is a good one, found with work in proportion to the number of tasks. Up to ten tasks or so it is the best one, but
for the rare case that runs out of tries.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NewType

from bench.errors import BenchError
from bench.plan.network import Net
from bench.plan.search import Found, follow, search
from bench.units import Seconds

_BEFORE = 0.001


class NoOrder(BenchError):
    """No order of the tasks was found that keeps every limit."""


class TooLong(NoOrder):
    """Those that were found are not as short as was wanted."""


Resource = NewType("Resource", str)
"""The name of something that one task at a time can use."""


@dataclass(frozen=True, kw_only=True, slots=True)
class After:
    """Not before ``lag_s`` after the end of that task."""

    task: str
    lag_s: Seconds = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Within:
    """To start at most ``limit_s`` after the end of that task."""

    task: str
    limit_s: Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class Task:
    """Something to do, without a pause. ``words`` name it inside a sentence. The makespan does not wait for a
    task that does not count."""

    id: str
    words: str
    length_s: Seconds
    needs: frozenset[Resource] = frozenset()
    after: tuple[After, ...] = ()
    within: tuple[Within, ...] = ()
    counts: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class Scheduled:
    """A task with its start; the schedule begins at 0."""

    task: Task
    start_s: Seconds

    @property
    def end_s(self) -> float:
        """When it is done."""
        return self.start_s + self.task.length_s


@dataclass(frozen=True, kw_only=True, slots=True)
class Schedule:
    """Every task once, by its start. ``makespan_s`` is the end of the last one that counts, ``steps`` a measure of
    the work that finding it took, ``order`` the ids as their resources were given to them."""

    tasks: tuple[Scheduled, ...]
    makespan_s: Seconds
    steps: int
    order: tuple[str, ...] = ()


def schedule(
    tasks: Sequence[Task],
    *,
    quick: bool = False,
    order: Sequence[str] = (),
    shorter_than_s: Seconds = math.inf,
) -> Schedule:
    """A good schedule, the same for the same tasks; give them about in the order in which they will be done. A
    ``quick`` one takes a fraction of the work and is a little longer. With an ``order``, that of a schedule of
    about the same tasks, theirs is followed, which takes least work; where it breaks a limit, with as little
    changed as is found.

    Raises NoOrder, naming the tasks, when no order was found that keeps every limit, and TooLong as soon as it is
    plain that none ``shorter_than_s`` will be.
    """
    net = _net(tasks)
    if order:
        followed = _followed(tasks, order)
        found = follow(net, followed)
        if found.starts_s is None:
            found = search(net, quick=True, order=followed, shorter_than_s=shorter_than_s)
    else:
        found = search(net, quick=quick, shorter_than_s=shorter_than_s)
    if found.starts_s is None and not found.is_cut:
        raise NoOrder(_why(tasks, found))
    if found.starts_s is None or found.length_s >= shorter_than_s:
        raise TooLong("no order of the tasks was found that is short enough")
    placed = [Scheduled(task=task, start_s=start) for task, start in zip(tasks, found.starts_s, strict=True)]
    return Schedule(
        tasks=tuple(sorted(placed, key=lambda each: each.start_s)),
        makespan_s=found.length_s,
        steps=found.steps,
        order=tuple(tasks[place].id for place in found.order),
    )


def _followed(tasks: Sequence[Task], order: Sequence[str]) -> list[int]:
    """The tasks in that order; one that is not in it comes right before the first that waits for it."""
    rank = {name: float(place) for place, name in enumerate(order)}
    followers: dict[str, list[str]] = {}
    for task in tasks:
        for after in task.after:
            followers.setdefault(after.task, []).append(task.id)
    for task in reversed(tasks):
        if task.id not in rank:
            ranks = (rank[each] for each in followers.get(task.id, ()) if each in rank)
            rank[task.id] = min(ranks, default=float(len(order))) - _BEFORE
    return sorted(range(len(tasks)), key=lambda place: rank[tasks[place].id])


def _net(tasks: Sequence[Task]) -> Net:
    number = {task.id: place for place, task in enumerate(tasks)}
    resources = {name: place for place, name in enumerate(sorted({name for task in tasks for name in task.needs}))}
    needs = {names: sorted(resources[name] for name in names) for names in {task.needs for task in tasks}}
    arcs: list[list[tuple[int, float]]] = [[] for _ in tasks]
    for place, task in enumerate(tasks):
        for after in task.after:
            before = number[after.task]
            arcs[before].append((place, tasks[before].length_s + after.lag_s))
        for within in task.within:
            before = number[within.task]
            arcs[place].append((before, -tasks[before].length_s - within.limit_s))
    return Net(
        lengths_s=[task.length_s for task in tasks],
        needs=[needs[task.needs] for task in tasks],
        resources=len(resources),
        arcs=arcs,
        before=[tuple(number[after.task] for after in task.after) for task in tasks],
        counts=[task.counts for task in tasks],
    )


def _why(tasks: Sequence[Task], found: Found) -> str:
    if found.broken is None:
        return "no order of the tasks was found that keeps every limit"
    earlier, later = (tasks[place] for place in found.broken)
    limit_s = next((within.limit_s for within in later.within if within.task == earlier.id), 0.0)
    return (
        f"no order was found in which {later.words} begins within {limit_s:.0f} s of the end of {earlier.words}, "
        "as it must"
    )
