"""The search for a short order: dives by simple rules, and for few tasks all orders that could be shorter.

A dive places one task after another. It looks at the task that could end first and at all that would be in its way
(Giffler and Thompson, Operations Research 8 (1960) 487, from memory), and takes what a running limit waits for, or
the one with the longest way to the end behind it. Where a limit cannot be kept it takes the next. When none is
left it goes back to before the task that made the limit run, as other orders of what came after it seldom help
(Prosser, Computational Intelligence 9 (1993) 268, from memory). More dives follow with these ways shifted at
random. When all end in a corner, a last one takes the tasks as they were given.

All work is bounded: a limited number of dives, each of at most a few tries a task, fewer where there are many.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import NamedTuple

from bench.plan.implied import with_implied
from bench.plan.network import EPSILON_S, Net
from bench.plan.placing import Placing


class _Way(NamedTuple):
    """How a dive chooses. ``patience`` is how far a task may still be from its start when it is preferred to one
    that could start at once, as a share of the time that this one would take: with 0 no resource would ever wait
    for a better task. Without one, tasks are taken as they were given. ``hurries`` says whether what a running
    limit waits for goes first."""

    patience: float | None
    hurries: bool


WAYS = (_Way(0.5, hurries=True), _Way(0.5, hurries=False), _Way(3.0, hurries=False))
"""The dives that are tried first."""

AS_GIVEN = _Way(None, hurries=False)
EVENLY = _Way(1.0, hurries=False)
QUICK_WAYS = (WAYS[0], AS_GIVEN, *WAYS[1:])
"""Where the first dive ends in a corner, the tasks as they were given pass it sooner than the others."""

SHUFFLED_TASKS = 400
MOST_SHUFFLES = 24
LEAST_SHUFFLES = 3
"""After these, as many dives as place so many tasks in all, each with the ways to the end shifted at random; the
numbers are the same every time. Where there is no schedule yet, at most the least number of them, and none in a
quick search."""

SHUFFLE_LENGTHS = 3.0
"""By how many mean lengths of a task they are shifted at most. With 1 to 10 dives are about equally good."""

NEAR_ENOUGH = 1.02
"""A schedule no longer than this many times what none can be shorter than is not bettered."""

FEW_TASKS = 16
"""So few tasks are searched through: every order of them that could be shorter."""

MOST_TRIES = 4000
TRIES_A_TASK = 2
STEPS_A_TASK = 200
"""A dive that runs into a corner is not worth much work: another one may pass it by. One that meets none takes
a tenth of these steps, or less."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Found:
    """The best starts found, None where every order tried breaks a limit, and the ``order`` in which tasks were
    placed for them. ``steps`` is the work it took. ``broken`` is the limit missed most often: from the end of its
    first task to the start of its second, ``is_cut`` whether an order was left as it came to none short enough."""

    starts_s: tuple[float, ...] | None
    length_s: float
    steps: int
    broken: tuple[int, int] | None
    order: tuple[int, ...] = ()
    is_cut: bool = False


def search(
    net: Net, *, quick: bool = False, order: Sequence[int] = (), shorter_than_s: float = float("inf")
) -> Found:
    """The shortest schedule that bounded work finds, or when ``quick`` the first; always the same for a net. With
    an ``order`` one about like that is looked for first. Only one ``shorter_than_s`` is wanted: a dive that comes
    to no such one is left, and in a quick search the last.

    Raises ValueError when tasks wait for one another in a ring.
    """
    implied = with_implied(net)
    if len(implied.backwards) < len(net) or implied.earliest_s[1] is not None:
        # No order keeps all limits. The net as it was shows which.
        if (impossible := _impossible(net)) is not None:
            return impossible
        implied = net
    return _Search(implied, order, shorter_than_s).run(quick=quick)


def follow(net: Net, order: Sequence[int]) -> Found:
    """The schedule in which tasks are placed in that order, and no other is tried."""
    starts, steps = net.starts_in(order)
    if starts is None:
        return Found(starts_s=None, length_s=float("inf"), steps=steps, broken=None)
    return Found(
        starts_s=tuple(starts), length_s=_length_s(net, starts), steps=steps, broken=None, order=tuple(order)
    )


def _length_s(net: Net, starts_s: Sequence[float]) -> float:
    """Until the end of the last task that counts."""
    return max(
        (
            start + length
            for start, length, counts in zip(starts_s, net.lengths_s, net.counts, strict=True)
            if counts
        ),
        default=0.0,
    )


def _impossible(net: Net) -> Found | None:
    """What is found where no order at all keeps the limits; None where one may. Raises ValueError for a ring."""
    if len(net.backwards) < len(net):
        raise ValueError("tasks wait for one another in a ring")
    _, ring = net.earliest_s
    return None if ring is None else Found(starts_s=None, length_s=float("inf"), steps=0, broken=ring)


class _Search:
    def __init__(self, net: Net, order: Sequence[int], shorter_than_s: float) -> None:
        self._net = net
        self._rank = list(range(len(net)))
        for rank, task in enumerate(order):
            self._rank[task] = rank
        self._has_order = bool(order)
        self._placing = Placing(net)
        self._floor_s = NEAR_ENOUGH * max([self._placing.least_s, *net.loads_s])
        self._best_s = shorter_than_s
        self._is_cut = False
        """Whether a dive was left as it came to none shorter than wanted."""
        self._starts_s: tuple[float, ...] | None = None
        self._order: tuple[int, ...] = ()
        self._ways_s = list(self._placing.tails_s)
        self._cornered: set[bool] = set()
        """Whether dives that hurry, and whether those that do not, have ended in a corner."""

    def run(self, *, quick: bool) -> Found:
        ways = QUICK_WAYS if quick else WAYS
        for way in (AS_GIVEN, *ways) if self._has_order else ways:
            if not self._is_done(quick=quick) and self._may_help(way):
                self._dive(way)
        if len(self._net) <= FEW_TASKS and not self._is_done(quick=quick):
            self._search_through()
        elif self._starts_s is None and not quick:
            self._shuffle(LEAST_SHUFFLES, quick=True)
        elif not quick:
            self._shuffle(min(MOST_SHUFFLES, SHUFFLED_TASKS // len(self._net)), quick=False)
        if self._starts_s is None and not quick:
            self._dive(AS_GIVEN)
        return self._found()

    def _found(self) -> Found:
        failed = self._placing.failed
        return Found(
            starts_s=self._starts_s,
            length_s=self._best_s,
            steps=self._placing.steps,
            broken=max(failed, key=lambda pair: (failed[pair], pair)) if failed else None,
            order=self._order,
            is_cut=self._is_cut,
        )

    def _shuffle(self, dives: int, *, quick: bool) -> None:
        chance = Random(0)
        most_s = SHUFFLE_LENGTHS * sum(self._net.lengths_s) / len(self._net)
        for number in range(dives):
            if self._is_done(quick=quick):
                break
            self._ways_s = [tail + chance.uniform(0, most_s) for tail in self._placing.tails_s]
            if helpful := [way for way in WAYS if self._may_help(way)]:
                self._dive(helpful[number % len(helpful)])
        self._ways_s = list(self._placing.tails_s)

    def _may_help(self, way: _Way) -> bool:
        """Once there is a schedule, no more of a sort of dive that ends in corners."""
        return self._starts_s is None or way.hurries not in self._cornered

    def _is_done(self, *, quick: bool) -> bool:
        if self._starts_s is None:
            return quick and self._is_cut
        return quick or self._best_s <= self._floor_s + EPSILON_S

    def _dive(self, way: _Way) -> None:
        """One order, with steps back only where a limit cannot be kept."""
        placing, size = self._placing, len(self._net)
        tries = TRIES_A_TASK * size
        most_steps = placing.steps + STEPS_A_TASK * max(size, FEW_TASKS)
        left: list[list[int]] = []
        causes: list[frozenset[int]] = []
        while len(placing.placed) < size:
            if len(left) == len(placing.placed):
                left.append(self._preferred(way))
                causes.append(frozenset())
            while left[-1]:
                tries -= 1
                if placing.place(left[-1].pop()):
                    break
                causes[-1] |= frozenset(placing.causes)
            else:
                left.pop()
                if not left or tries < 0 or placing.steps > most_steps:
                    self._cornered.add(way.hurries)
                    break
                self._back(left, causes)
                continue
            if placing.least_s > self._best_s - EPSILON_S or not placing.loads_allow(self._best_s):
                self._is_cut = True
                break
        else:
            self._keep()
        placing.clear()

    def _back(self, left: list[list[int]], causes: list[frozenset[int]]) -> None:
        """Takes back the last task that made a limit run that cannot be kept, and all that was placed since; where
        there is none, the last task alone."""
        placing, why = self._placing, causes.pop()
        if why.isdisjoint(placing.placed):
            placing.take_back()
        else:
            while placing.take_back() not in why:
                left.pop()
                causes.pop()
        causes[-1] |= why

    def _search_through(self) -> None:
        """Every order that could be shorter than the best, as far as the tries reach."""
        placing, tries = self._placing, MOST_TRIES
        left = [self._preferred(EVENLY)]
        while left and tries > 0:
            if not left[-1]:
                left.pop()
                if placing.placed:
                    placing.take_back()
                continue
            task = left[-1].pop()
            tries -= 1
            if self._repeats(task) or not placing.place(task):
                continue
            if len(placing.placed) == len(self._net):
                self._keep()
            if placing.least_s > self._best_s - EPSILON_S or not placing.loads_allow(self._best_s):
                placing.take_back()
            else:
                left.append(self._preferred(EVENLY))
        placing.clear()

    def _repeats(self, task: int) -> bool:
        """Whether swapping it with the last one placed is the same schedule, to be found there."""
        if not self._placing.placed:
            return False
        last = self._placing.placed[-1]
        return (
            task < last
            and last not in self._net.before[task]
            and not set(self._net.needs[task]).intersection(self._net.needs[last])
        )

    def _preferred(self, way: _Way) -> list[int]:
        """What could be placed next, the best one last; without a patience, the first one given."""
        patience = way.patience
        if patience is None:
            return sorted(self._placing.open, key=self._rank.__getitem__, reverse=True)
        placing, lengths_s, ways_s = self._placing, self._net.lengths_s, self._ways_s
        if len(placing.open) == 1:
            return list(placing.open)
        open_s = placing.open_s()
        end_s, first, first_s = min([(start + lengths_s[task], task, start) for task, start in open_s])
        least_s = min([start for _, start in open_s])
        soon_s = max(least_s + patience * (end_s - least_s) - EPSILON_S, first_s + EPSILON_S)
        shared = placing.needs[first]
        awaited = placing.awaited() if way.hurries else frozenset[int]()
        order = [
            (
                task == first or (start < soon_s and not shared.isdisjoint(placing.needs[task])),
                task in awaited,
                ways_s[task],
                -start,
                -task,
            )
            for task, start in open_s
        ]
        order.sort()
        return [-task for *_, task in order]

    def _keep(self) -> None:
        net, starts = self._net, self._placing.starts_s
        length_s = _length_s(net, starts)
        if length_s < self._best_s - EPSILON_S:
            self._best_s, self._starts_s = length_s, tuple(starts)
            self._order = tuple(self._placing.placed)
