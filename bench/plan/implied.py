"""Orders that limits imply, found before any search.

When a shot must come within some time of its heating, and must also come after another task that keeps it waiting
for longer than that and needs the same heater, then that other task comes before the heating: behind it there
would be no time. Nothing is lost by asking for it, and the search is spared many dead ends.

Method: immediate selection, Carlier and Pinson, Management Science 35 (1989) 164, from memory, here on limits.
"""

from __future__ import annotations

from collections import deque

from bench.plan.network import EPSILON_S, Net

_MOST_VISITS = 32
"""How many of the tasks before a limited one are looked at; the work stays in proportion to the limits."""


def with_implied(net: Net) -> Net:
    """The same net with the orders that its limits imply; it has a ring where the limits cannot all be kept. Give
    it one whose limits could be kept if nothing were ever busy."""
    arcs = [list(each) for each in net.arcs]
    before = [list(each) for each in net.before]
    into = [list(each) for each in net.leasts_into]
    # Late limits first: what they imply may in turn hold for the limits of what comes before.
    for task in reversed(range(len(net))):
        for earlier, weight in net.arcs[task]:
            if weight >= 0:
                continue
            limit_s = -weight - net.lengths_s[earlier]
            for other in _too_far(net, into, task, earlier, limit_s):
                if other in before[earlier]:
                    continue
                before[earlier].append(other)
                arcs[other].append((earlier, net.lengths_s[other]))
                into[earlier].append((other, net.lengths_s[other]))
    return Net(
        lengths_s=net.lengths_s,
        needs=net.needs,
        resources=net.resources,
        arcs=arcs,
        before=before,
        counts=net.counts,
    )


def _too_far(net: Net, into: list[list[tuple[int, float]]], task: int, earlier: int, limit_s: float) -> list[int]:
    """What shares a resource with ``earlier`` and keeps ``task`` waiting for longer than ``limit_s``, nearest ones
    only: what comes before those does too."""
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
            far[other] = away_s
            if away_s > limit_s + EPSILON_S and not shared.isdisjoint(net.needs[other]):
                found.append(other)
            else:
                looking.append(other)
    return list(dict.fromkeys(found))
