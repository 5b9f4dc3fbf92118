"""The starts of tasks in a given order, against plain relaxation of every arc."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.plan.network import Net


@st.composite
def nets(draw: st.DrawFn) -> Net:
    """Tasks that wait only for earlier ones, some of them not for long."""
    count, resources = draw(st.integers(2, 8)), 3
    lengths_s = [float(draw(st.integers(0, 12))) for _ in range(count)]
    arcs: list[list[tuple[int, float]]] = [[] for _ in range(count)]
    before: list[list[int]] = []
    for task in range(count):
        before.append(sorted(draw(st.sets(st.integers(0, task - 1), max_size=2))) if task else [])
        for earlier in before[-1]:
            lag_s = float(draw(st.sampled_from([0, 0, 3])))
            arcs[earlier].append((task, lengths_s[earlier] + lag_s))
            if draw(st.booleans()):
                arcs[task].append((earlier, -lengths_s[earlier] - lag_s - draw(st.integers(0, 12))))
    return Net(
        lengths_s=lengths_s,
        needs=[sorted(draw(st.sets(st.integers(0, resources - 1), max_size=2))) for _ in range(count)],
        resources=resources,
        arcs=arcs,
        before=before,
        counts=[True] * count,
    )


def relaxed_s(net: Net, order: Sequence[int]) -> list[float] | None:
    """Every arc, and one between any two tasks in the order that share a resource, until all are quiet; None where
    they never are."""
    arcs = [(task, later, weight) for task, own in enumerate(net.arcs) for later, weight in own]
    for place, task in enumerate(order):
        rivals = [later for later in order[place + 1 :] if set(net.needs[task]) & set(net.needs[later])]
        arcs.extend((task, later, net.lengths_s[task]) for later in rivals)
    starts_s = [0.0] * len(net)
    for _ in range(len(net) + 1):
        quiet = True
        for task, later, weight in arcs:
            if starts_s[task] + weight > starts_s[later] + 1e-9:
                starts_s[later], quiet = starts_s[task] + weight, False
        if quiet:
            return starts_s
    return None


@given(nets(), st.data())
def test_the_starts_in_an_order_are_those_that_relaxing_every_arc_comes_to(net: Net, data: st.DataObject) -> None:
    tasks = range(len(net))
    order = data.draw(st.one_of(st.just(list(tasks)), st.permutations(tasks)))
    starts_s, steps = net.starts_in(order)
    place = {task: at for at, task in enumerate(order)}
    if any(place[each] > place[task] for task in tasks for each in net.before[task]):
        assert starts_s is None
        return
    slowly_s = relaxed_s(net, order)
    assert starts_s == (None if slowly_s is None else pytest.approx(slowly_s, abs=1e-6))
    assert steps >= len(net) + sum(map(len, net.arcs))


@given(nets())
def test_the_earliest_starts_are_those_that_relaxing_every_arc_comes_to(net: Net) -> None:
    """Or a limit is given that cannot be kept, of a task and an earlier one."""
    starts_s, ring = net.earliest_s
    slowly_s = relaxed_s(net, [])
    if ring is None:
        assert starts_s == pytest.approx(slowly_s, abs=1e-6)
    else:
        assert slowly_s is None
        assert ring in net.limits
