"""The net of a schedule: tasks as numbers, and between their starts the least and the most that may pass.

Every limit is an arc from one start to another: "b starts at least w after a". A most is an arc backwards with a
w of 0 or less: "a starts at least -w before b".

Method: Bartusch, Möhring and Radermacher, Annals of Operations Research 16 (1988) 201, for most and least lags as
arcs of one longest-path problem (from memory).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

EPSILON_S = 1e-9


@dataclass(frozen=True, kw_only=True)
class Net:
    """Tasks 0 to n - 1, about in the order in which they will be done.

    ``needs`` are the resources of each, 0 to ``resources`` - 1, of which there is one each. ``arcs`` from a are
    (b, w): b starts at least w after a. ``before`` are those whose end a task waits for. ``counts`` says whether
    the length of the whole waits for a task. What follows from these is reckoned once: read it, change nothing.
    """

    lengths_s: Sequence[float]
    needs: Sequence[Sequence[int]]
    resources: int
    arcs: Sequence[Sequence[tuple[int, float]]]
    before: Sequence[Sequence[int]]
    counts: Sequence[bool]

    def __len__(self) -> int:
        return len(self.lengths_s)

    @cached_property
    def backwards(self) -> list[int]:
        """The tasks so that none comes before one that waits for it. Where tasks wait for one another in a ring,
        those and all that these wait for are missing."""
        left = [0] * len(self)
        for before in self.before:
            for earlier in before:
                left[earlier] += 1
        ready = [task for task, count in enumerate(left) if count == 0]
        for task in ready:
            for earlier in self.before[task]:
                left[earlier] -= 1
                if left[earlier] == 0:
                    ready.append(earlier)
        return ready

    @cached_property
    def tails_s(self) -> list[float]:
        """From each task's start, how long at least until the end of the last task that counts and waits for it;
        minus infinity where none does. The net must have no ring."""
        tails = [
            length if counts else float("-inf") for length, counts in zip(self.lengths_s, self.counts, strict=True)
        ]
        for task in self.backwards:
            for later, weight in self.arcs[task]:
                if weight >= 0:
                    tails[task] = max(tails[task], weight + tails[later])
        return tails

    @cached_property
    def work_s(self) -> list[float]:
        """What each task adds to the work that the end waits for."""
        return [length if tail > 0 else 0.0 for length, tail in zip(self.lengths_s, self.tails_s, strict=True)]

    @cached_property
    def loads_s(self) -> list[float]:
        """That work of each resource; no schedule is shorter."""
        loads = [0.0] * self.resources
        for work, needs in zip(self.work_s, self.needs, strict=True):
            for resource in needs:
                loads[resource] += work
        return loads

    @cached_property
    def followers(self) -> list[list[int]]:
        """By task, those that wait for its end."""
        followers: list[list[int]] = [[] for _ in range(len(self))]
        for task, before in enumerate(self.before):
            for each in before:
                followers[each].append(task)
        return followers

    @cached_property
    def leasts_into(self) -> list[list[tuple[int, float]]]:
        """By task, the arcs forwards that end at it."""
        into: list[list[tuple[int, float]]] = [[] for _ in range(len(self))]
        for task, arcs in enumerate(self.arcs):
            for later, weight in arcs:
                if weight >= 0:
                    into[later].append((task, weight))
        return into

    @cached_property
    def limits(self) -> set[tuple[int, int]]:
        """The pairs of which the second has to start within some time of the first."""
        return {
            (earlier, task)
            for task, arcs in enumerate(self.arcs)
            for earlier, weight in arcs
            if weight <= 0 and task not in self.before[earlier]
        }

    @cached_property
    def hurried(self) -> list[tuple[int, ...]]:
        """By task, what has to come within some time of it, and what in turn has to come between."""
        hurried: list[tuple[int, ...]] = [()] * len(self)
        for earlier, task in sorted(self.limits):
            between = [each for each in self.before[task] if earlier in self.before[each]]
            hurried[earlier] = (*hurried[earlier], *between, task)
        return hurried

    @cached_property
    def needed(self) -> list[frozenset[int]]:
        """The needs of each task as a set; tasks that need the same share it."""
        sets = {tuple(needs): frozenset(needs) for needs in self.needs}
        return [sets[tuple(needs)] for needs in self.needs]

    @cached_property
    def earliest_s(self) -> tuple[list[float], tuple[int, int] | None]:
        """The earliest starts by the arcs alone, and the limit at which they chase one another for ever, if they
        do: from the end of its first task to the start of its second."""
        starts = [0.0] * len(self)
        for task in reversed(self.backwards):
            for later, weight in self.arcs[task]:
                if weight >= 0 and starts[task] + weight > starts[later]:
                    starts[later] = starts[task] + weight
        # What is left to move are the tasks that most lags draw later, and few others with them.
        return starts, _moved(starts, self.arcs, self.before)

    def starts_in(self, order: Sequence[int]) -> tuple[list[float] | None, int]:
        """The earliest starts when every resource is given its tasks in that order, and how many arcs that takes.
        None where tasks would stand before what they wait for, or no starts keep the limits.

        An order in which all stand behind what they wait for is one of the arcs forwards too, so that one pass
        along it settles all but the limits."""
        starts, arcs = [0.0] * len(self), list(self.arcs)
        is_placed, last = [False] * len(self), [-1] * self.resources
        for task in order:
            if not all(is_placed[each] for each in self.before[task]):
                return None, 0
            is_placed[task] = True
            start = starts[task]
            for resource in self.needs[task]:
                earlier, last[resource] = last[resource], task
                if earlier >= 0:
                    arcs[earlier] = [*arcs[earlier], (task, self.lengths_s[earlier])]
                    start = max(start, starts[earlier] + self.lengths_s[earlier])
            starts[task] = start
            for later, weight in self.arcs[task]:
                if weight >= 0 and start + weight > starts[later]:
                    starts[later] = start + weight
        steps = sum(map(len, arcs)) + len(self)
        return (starts if _moved(starts, arcs, self.before) is None else None), steps


def _moved(
    starts: list[float], arcs: Sequence[Sequence[tuple[int, float]]], before: Sequence[Sequence[int]]
) -> tuple[int, int] | None:
    """Moves starts later until they keep all arcs. Where those chase one another for ever, a limit at which they
    do is given, and the starts are worth nothing."""
    moved = deque(range(len(starts)))
    waiting = [True] * len(starts)
    raised_by: dict[int, int] = {}
    while moved:
        task = moved.popleft()
        waiting[task] = False
        start = starts[task]
        for later, weight in arcs[task]:
            if start + weight <= starts[later] + EPSILON_S:
                continue
            if weight <= 0 and task not in before[later] and descends(task, later, raised_by):
                return later, task
            raised_by[later] = task
            starts[later] = start + weight
            if not waiting[later]:
                waiting[later] = True
                moved.append(later)
    return None


def descends(task: int, other: int, raised_by: Mapping[int, int]) -> bool:
    """Whether that task was moved because the other was: a ring, once the other is to be moved because of it.
    A ring always closes at an arc backwards, sooner or later, so it is enough to ask there."""
    for _ in range(len(raised_by)):
        if task == other or task not in raised_by:
            break
        task = raised_by[task]
    return task in raised_by or task == other


def ring_through(task: int, later: int, raised_by: Mapping[int, int]) -> list[tuple[int, int]]:
    """The ring that closes when ``later`` is moved because of that task: every task of it that is moved, with the
    one that moves it. Empty where there is none."""
    if not descends(task, later, raised_by):
        return []
    ring = [(later, task)]
    while task != later and task in raised_by and len(ring) <= len(raised_by):
        ring.append((task, raised_by[task]))
        task = raised_by[task]
    return ring
