"""Orders that limits imply, found before any search.

When a shot must come within some time of its heating, and must also come after another task that keeps it waiting
for longer than that and needs the same heater, then that other task comes before the heating: behind it there
would be no time. Nothing is lost by asking for it, and the search is spared many dead ends.

Method: immediate selection, Carlier and Pinson, Management Science 35 (1989) 164, from memory, here on limits.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import replace

from bench.plan.network import EPSILON_S, Net

_MOST_VISITS = 32
"""How many of the tasks before a limited one are looked at; the work stays in proportion to the limits."""

_LOOK_BACK = 256
"""What comes before a task is known among so many that were given before it; others may be asked for again."""

_WINDOW = (1 << _LOOK_BACK) - 1


def with_implied(net: Net) -> Net:
    """The same net with the orders that its limits imply; it has a ring where the limits cannot all be kept. Give
    it one whose limits could be kept if nothing were ever busy."""
    arcs, before, into = list(net.arcs), list(net.before), list(net.leasts_into)
    known = _known_before(net.before)
    # Late limits first: what they imply may in turn hold for the limits of what comes before.
    for task in reversed(range(len(net))):
        for earlier, weight in net.arcs[task]:
            if weight >= 0:
                continue
            limit_s = -weight - net.lengths_s[earlier]
            for other in _too_far(net, into, known[earlier], task, earlier, limit_s):
                if other in before[earlier]:
                    continue
                before[earlier] = [*before[earlier], other]
                arcs[other] = [*arcs[other], (earlier, net.lengths_s[other])]
                into[earlier] = [*into[earlier], (other, net.lengths_s[other])]
                if other < earlier:
                    known[earlier] |= _reach(known, other, earlier)
    return replace(net, arcs=arcs, before=before)


def _known_before(before: Sequence[Sequence[int]]) -> list[int]:
    """By task, a bit for each that was given before it and comes before it: the lowest for the one just before."""
    known: list[int] = []
    for task, waits_for in enumerate(before):
        known.append(0)
        for each in waits_for:
            if each < task:
                known[task] |= _reach(known, each, task)
    return known


def _reach(known: Sequence[int], earlier: int, task: int) -> int:
    """What the one brings to the other's bits when it comes before it: itself and all that comes before it."""
    return ((known[earlier] << 1 | 1) << (task - 1 - earlier)) & _WINDOW


def _too_far(
    net: Net,
    into: Sequence[Sequence[tuple[int, float]]],
    known: int,
    task: int,
    earlier: int,
    limit_s: float,
) -> list[int]:
    """What shares a resource with ``earlier`` and keeps ``task`` waiting for longer than ``limit_s``, nearest ones
    only: what comes before those does too. What is ``known`` to come before ``earlier`` anyway is passed by, and
    so is all behind it."""
    shared = set(net.needs[earlier])
    far: dict[int, float] = {task: 0.0}
    found: list[int] = []
    looking = deque([task])
    for _ in range(_MOST_VISITS):
        if not looking:
            break
        each = looking.popleft()
        for other, weight in into[each]:
            away_s = far[each] + weight
            if other == earlier or away_s <= far.get(other, -1.0):
                continue
            if other < earlier and known >> (earlier - 1 - other) & 1:
                continue
            far[other] = away_s
            if away_s > limit_s + EPSILON_S and not shared.isdisjoint(net.needs[other]):
                found.append(other)
            else:
                looking.append(other)
    return list(dict.fromkeys(found))
