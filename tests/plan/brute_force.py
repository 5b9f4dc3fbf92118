"""The shortest schedule by enumeration: every way to order the tasks that share something, each timed on its own.

All schedules that could be shortest are among them: once it is settled which of two tasks that share a resource
goes first, the earliest starts are a longest path. Shares no code with the solver.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, permutations

from bench.plan.schedule import Task

Arc = tuple[int, int, float]


def shortest_s(tasks: Sequence[Task]) -> float | None:
    """The least makespan of all schedules, None where there is none."""
    number = {task.id: place for place, task in enumerate(tasks)}
    fixed = list(_lags(tasks, number))
    rivals = [(a, b) for a, b in combinations(range(len(tasks)), 2) if tasks[a].needs & tasks[b].needs]
    seen: set[tuple[bool, ...]] = set()
    best: float | None = None
    for order in permutations(range(len(tasks))):
        rank = {task: place for place, task in enumerate(order)}
        ways = tuple(rank[a] < rank[b] for a, b in rivals)
        if ways in seen:
            continue
        seen.add(ways)
        chosen = [
            (a, b, tasks[a].length_s) if way else (b, a, tasks[b].length_s)
            for (a, b), way in zip(rivals, ways, strict=True)
        ]
        starts = _earliest(len(tasks), fixed + chosen)
        if starts is not None:
            makespan = max(start + task.length_s for start, task in zip(starts, tasks, strict=True) if task.counts)
            best = makespan if best is None else min(best, makespan)
    return best


def _lags(tasks: Sequence[Task], number: dict[str, int]) -> Iterator[Arc]:
    for place, task in enumerate(tasks):
        for after in task.after:
            before = number[after.task]
            yield before, place, tasks[before].length_s + after.lag_s
        for within in task.within:
            before = number[within.task]
            yield place, before, -tasks[before].length_s - within.limit_s


def _earliest(count: int, arcs: Sequence[Arc]) -> list[float] | None:
    """Bellman and Ford: None where the arcs chase one another for ever."""
    starts = [0.0] * count
    for _ in range(count + 1):
        quiet = True
        for a, b, weight in arcs:
            if starts[a] + weight > starts[b] + 1e-9:
                starts[b], quiet = starts[a] + weight, False
        if quiet:
            return starts
    return None
