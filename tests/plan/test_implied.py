"""Orders that follow from limits."""

from __future__ import annotations

from bench.plan.implied import with_implied
from bench.plan.network import Net

HANDS, HEATER = 0, 1


def net(limit_s: float) -> Net:
    """Task 0 heats one cup, 1 shoots it, 2 heats another, 3 shoots that: after 1, and soon after 2."""
    lengths_s = [40.0, 30.0, 20.0, 30.0]
    arcs: list[list[tuple[int, float]]] = [[(1, 40.0)], [(3, 30.0)], [(3, 20.0)], [(2, -20.0 - limit_s)]]
    return Net(
        lengths_s=lengths_s,
        needs=[[HEATER], [HANDS], [HEATER], [HANDS]],
        resources=2,
        arcs=arcs,
        before=[[], [0], [], [1, 2]],
        counts=[True] * 4,
    )


def test_a_heating_follows_the_one_for_which_its_limit_leaves_no_time() -> None:
    """From the start of task 0 to that of task 3 it is 70 s: within 60 s, task 0 cannot lie between 2 and 3."""
    implied = with_implied(net(60.0))
    assert list(implied.before[2]) == [0]
    assert (2, 40.0) in implied.arcs[0]


def test_nothing_is_added_where_there_is_time_for_it() -> None:
    assert with_implied(net(70.0)) == net(70.0)


def test_what_comes_before_anyway_is_not_asked_for_again() -> None:
    """Task 0 comes before 1, 1 before 4, and 4 heats for 5; so all that keeps 5 waiting for too long from there on
    is before 4 as it is. Task 2 is not, and it alone is asked for."""
    hands = [[HANDS]] * 6
    arcs: list[list[tuple[int, float]]] = [
        [(1, 10.0)],
        [(3, 10.0), (4, 10.0)],
        [(3, 10.0)],
        [(5, 10.0)],
        [(5, 10.0)],
        [(4, -15.0)],
    ]
    given = Net(
        lengths_s=[10.0] * 6,
        needs=hands,
        resources=1,
        arcs=arcs,
        before=[[], [0], [], [1, 2], [1], [3, 4]],
        counts=[True] * 6,
    )
    implied = with_implied(given)
    assert [list(each) for each in implied.before] == [[], [0], [], [1, 2], [1, 3], [3, 4]]
