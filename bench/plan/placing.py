"""Placing tasks one by one, each behind what its resources were given before.

Every start is kept at the earliest that all arcs of the net allow: placing a late shot moves its heat later
instead of breaking its limit. An order that no starts can satisfy shows itself as a task that would be moved by
itself.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from typing import NamedTuple

from bench.plan.network import EPSILON_S, Net, ring_through

LOOK_AHEAD = 4
"""How many tasks beyond the furthest one placed have their earliest starts kept up to date. Further ones are
reckoned when their turn comes, which keeps the work in proportion to the number of tasks."""


class _Mark(NamedTuple):
    """What a placing found, so that it can be undone: of the lists of changes how long they were."""

    trail: int
    behind: int
    lasts: list[int]
    least_s: float
    at: int
    opened: int
    furthest: int
    urgent: tuple[int, ...]


class Placing:
    """Tasks placed so far, with the earliest starts that this order gives. Every placing can be taken back."""

    def __init__(self, net: Net) -> None:
        self.net = net
        self.tails_s = net.tails_s
        self.placed: list[int] = []
        self.open = [task for task, before in enumerate(net.before) if not before]
        self.steps = 0
        """How much work was done: arcs looked at."""
        self.failed: Counter[tuple[int, int]] = Counter()
        """How often a most from the one task's end to the other's start could not be kept."""
        self.starts_s = list(net.earliest_s[0])
        ends = (start + tail for start, tail in zip(self.starts_s, self.tails_s, strict=True))
        self.least_s = max(ends, default=0.0)
        """No order that begins like this one is shorter."""
        self._followers, self._into, self._hurried = net.followers, net.leasts_into, net.hurried
        self.needs, self._limits = net.needed, net.limits
        self._waits, self._is_placed = [len(before) for before in net.before], [False] * len(net)
        # The net's, and after them those from each task to what stands behind it by this order.
        self._arcs = [list(each) for each in net.arcs]
        self._last = [-1] * net.resources
        self._work_s, self._loads_s = net.work_s, list(net.loads_s)
        self._urgent: tuple[int, ...] = ()
        self._marks: list[_Mark] = []
        self._trail: list[tuple[int, float]] = []
        self._behind: list[int] = []
        self.causes: tuple[int, ...] = ()
        """What made the limits run for which a task was refused last."""
        self._furthest = 0
        self._bare = list(self.starts_s), list(self._waits), list(self.open), list(self._loads_s), self.least_s

    def open_s(self) -> list[tuple[int, float]]:
        """What could be placed next, each with when it could start."""
        starts, lengths, needs = self.starts_s, self.net.lengths_s, self.net.needs
        free = [0.0 if last < 0 else starts[last] + lengths[last] for last in self._last]
        found = []
        for task in self.open:
            start = starts[task]
            for resource in needs[task]:
                if free[resource] > start:
                    start = free[resource]
            found.append((task, start))
        return found

    def awaited(self) -> set[int]:
        """What is not placed yet and must come before something that has to come soon, and that itself."""
        found = set(self._urgent)
        looking = list(self._urgent)
        while looking:
            for earlier in self.net.before[looking.pop()]:
                if not self._is_placed[earlier] and earlier not in found:
                    found.add(earlier)
                    looking.append(earlier)
        return found

    def loads_allow(self, length_s: float) -> bool:
        """Whether what is left of every resource's work that the end waits for can be done in less than that."""
        if length_s == math.inf:
            return True
        for resource, last in enumerate(self._last):
            end = self.starts_s[last] + self.net.lengths_s[last] if last >= 0 else 0.0
            load_s = self._loads_s[resource]
            if load_s > EPSILON_S and end + load_s > length_s - EPSILON_S:
                return False
        return True

    def place(self, task: int) -> bool:
        """Places it behind all that its resources were given; False, and nothing done, where limits forbid it."""
        starts, lengths, needs = self.starts_s, self.net.lengths_s, self.net.needs[task]
        start, work_s = starts[task], self._work_s[task]
        for earlier, weight in self._into[task]:
            if starts[earlier] + weight > start:
                start = starts[earlier] + weight
        trail, behind = len(self._trail), len(self._behind)
        lasts = []
        for resource in needs:
            lasts.append(last := self._last[resource])
            if last >= 0:
                if starts[last] + lengths[last] > start:
                    start = starts[last] + lengths[last]
                self._link(last, task)
            self._last[resource] = task
            self._loads_s[resource] -= work_s
        at = self.open.index(task)
        del self.open[at]
        waiting = len(self.open)
        for later in self._followers[task]:
            self._waits[later] -= 1
            if self._waits[later] == 0:
                self.open.append(later)
        opened = len(self.open) - waiting
        self._marks.append(_Mark(trail, behind, lasts, self.least_s, at, opened, self._furthest, self._urgent))
        self.placed.append(task)
        self._is_placed[task] = True
        self._furthest = max(self._furthest, task)
        pushing = self._hurried_by(task)
        if start > starts[task]:
            self._trail.append((task, starts[task]))
            starts[task] = start
            self.least_s = max(self.least_s, start + self.tails_s[task])
        if self._spread(pushing):
            return True
        self.take_back()
        return False

    def clear(self) -> None:
        """Takes everything back at once."""
        starts, waits, opened, loads, self.least_s = self._bare
        self.starts_s, self._waits, self.open, self._loads_s = starts[:], waits[:], opened[:], loads[:]
        self._furthest, self._urgent = 0, ()
        self._is_placed = [False] * len(self.net)
        self._last = [-1] * self.net.resources
        for earlier in self._behind:
            self._arcs[earlier].pop()
        for kept in (self.placed, self._marks, self._trail, self._behind):
            kept.clear()

    def take_back(self) -> int:
        """Undoes the last placing and says which task it was."""
        task = self.placed.pop()
        mark = self._marks.pop()
        self.least_s, self._urgent, self._furthest = mark.least_s, mark.urgent, mark.furthest
        while len(self._trail) > mark.trail:
            moved, start = self._trail.pop()
            self.starts_s[moved] = start
        while len(self._behind) > mark.behind:
            self._arcs[self._behind.pop()].pop()
        for resource, last in zip(self.net.needs[task], mark.lasts, strict=True):
            self._last[resource] = last
            self._loads_s[resource] += self._work_s[task]
        self._is_placed[task] = False
        for later in self._followers[task]:
            self._waits[later] += 1
        if mark.opened:
            del self.open[-mark.opened :]
        self.open.insert(mark.at, task)
        return task

    def _link(self, earlier: int, later: int) -> None:
        self._arcs[earlier].append((later, self.net.lengths_s[earlier]))
        self._behind.append(earlier)

    def _hurried_by(self, task: int) -> list[int]:
        """What must come within some time of tasks placed so far stands behind all that is placed, and says so
        before its turn comes: else its turn might come too late. Gives that task, and what those that it hurries
        itself newly stand behind."""
        if task in self._urgent:
            self._urgent = tuple(each for each in self._urgent if each != task)
        for each in self._urgent:
            if not self.needs[task].isdisjoint(self.needs[each]):
                self._link(task, each)
        before = [task]
        for each in self._hurried[task]:
            if self._is_placed[each] or each in self._urgent:
                continue
            self._urgent = (*self._urgent, each)
            for resource in self.net.needs[each]:
                if (last := self._last[resource]) >= 0:
                    self._link(last, each)
                    before.append(last)
        return before

    def _spread(self, pushing: list[int]) -> bool:
        """Moves all that must start later because of these; False when something would be moved by itself."""
        starts, tails, trail, arcs = self.starts_s, self.tails_s, self._trail, self._arcs
        is_placed, waits = self._is_placed, self._waits
        root, reach = pushing[0], self._furthest + LOOK_AHEAD
        raised_by: dict[int, int] = {}
        steps, longest_s = 0, self.least_s
        for task in pushing:
            start = starts[task]
            steps += len(arcs[task]) + 1
            for later, weight in arcs[task]:
                least_s = start + weight
                if least_s <= starts[later] + EPSILON_S:
                    continue
                if later > reach and waits[later] > 0 and not is_placed[later]:
                    continue
                if (weight <= 0 or later == root) and self._is_ring(task, later, raised_by):
                    self.steps += steps
                    return False
                raised_by[later] = task
                trail.append((later, starts[later]))
                starts[later] = least_s
                if least_s + tails[later] > longest_s:
                    longest_s = least_s + tails[later]
                pushing.append(later)
        self.steps, self.least_s = self.steps + steps, longest_s
        return True

    def _is_ring(self, task: int, later: int, raised_by: Mapping[int, int]) -> bool:
        if ring := ring_through(task, later, raised_by):
            limits = [pair for pair in ring if pair in self._limits]
            self.failed.update(limits[:1])
            self.causes = tuple(earlier for earlier, _ in limits)
        return bool(ring)
