"""Schedules against enumeration, against Johnson's rule, and against their own limits."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.errors import BenchError
from bench.plan.schedule import After, Resource, Schedule, Task, TooLong, Within, schedule
from tests.plan.brute_force import shortest_s

NAMES = tuple(Resource(name) for name in ("hands", "heater", "mould"))
NEAR = 1e-6


@st.composite
def jobs(draw: st.DrawFn, *, most: int, limits: bool) -> list[Task]:
    """Tasks that wait only for earlier ones, some of them not for long."""
    names = NAMES[: draw(st.integers(2, 3))]
    tasks: list[Task] = []
    for place in range(draw(st.integers(2, most))):
        before = draw(st.sets(st.sampled_from(range(place)), max_size=2)) if place else set()
        after = tuple(After(task=f"t{each}", lag_s=draw(st.sampled_from([0, 0, 3]))) for each in sorted(before))
        within = [
            Within(task=each.task, limit_s=each.lag_s + draw(st.integers(0, 12)))
            for each in after
            if limits and draw(st.booleans())
        ]
        tasks.append(
            Task(
                id=f"t{place}",
                words=f"task {place}",
                length_s=draw(st.integers(0, 12)),
                needs=frozenset(draw(st.sets(st.sampled_from(names), max_size=2))),
                after=after,
                within=tuple(within),
                counts=place == 0 or draw(st.integers(0, 9)) > 0,
            )
        )
    return tasks


def check(tasks: Sequence[Task], made: Schedule) -> None:
    """Every task once, nothing booked twice, every limit kept."""
    assert sorted(each.task.id for each in made.tasks) == sorted(task.id for task in tasks)
    placed = {each.task.id: each for each in made.tasks}
    for each in made.tasks:
        assert each.start_s >= 0
        for after in each.task.after:
            assert each.start_s >= placed[after.task].end_s + after.lag_s - NEAR
        for within in each.task.within:
            assert each.start_s <= placed[within.task].end_s + within.limit_s + NEAR
    for one, other in combinations(made.tasks, 2):
        if one.task.needs & other.task.needs:
            assert one.end_s <= other.start_s + NEAR or other.end_s <= one.start_s + NEAR
    assert made.makespan_s == pytest.approx(max(each.end_s for each in made.tasks if each.task.counts))


@settings(max_examples=150, deadline=None)
@given(jobs(most=6, limits=False))
def test_without_limits_it_is_as_short_as_enumeration_finds(tasks: list[Task]) -> None:
    made = schedule(tasks)
    check(tasks, made)
    best_s = shortest_s(tasks)
    assert best_s is not None
    assert made.makespan_s <= 1.05 * best_s + NEAR


@settings(max_examples=200, deadline=None)
@given(jobs(most=6, limits=True))
def test_with_limits_it_is_as_short_as_enumeration_finds_or_both_find_none(tasks: list[Task]) -> None:
    best_s = shortest_s(tasks)
    if best_s is None:
        with pytest.raises(BenchError, match=r"no order was found in which task \d+ begins within"):
            schedule(tasks)
        return
    made = schedule(tasks)
    check(tasks, made)
    assert made.makespan_s <= 1.05 * best_s + NEAR


@settings(max_examples=60, deadline=None)
@given(jobs(most=40, limits=False))
def test_many_tasks_keep_everything_and_come_out_the_same_twice(tasks: list[Task]) -> None:
    made = schedule(tasks)
    check(tasks, made)
    assert schedule(tasks) == made


@settings(max_examples=60, deadline=None)
@given(jobs(most=25, limits=True))
def test_many_tasks_with_limits_keep_them_or_say_which_cannot_be_kept(tasks: list[Task]) -> None:
    said = ""
    try:
        check(tasks, schedule(tasks))
    except BenchError as error:
        said = str(error)
    assert not said or said.endswith("as it must")


def test_a_limit_of_nothing_that_cannot_be_kept_is_found_out() -> None:
    """Nothing long, nothing between, and still 3 s to wait and 0 allowed."""
    tasks = [
        Task(id="heat", words="the heat", length_s=0),
        Task(
            id="shot",
            words="the shot",
            length_s=0,
            after=(After(task="heat", lag_s=3),),
            within=(Within(task="heat", limit_s=0),),
        ),
    ]
    with pytest.raises(BenchError, match="the shot begins within 0 s of the end of the heat"):
        schedule(tasks)


@settings(max_examples=80, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 20), st.integers(1, 20)), min_size=2, max_size=5))
def test_two_machines_in_a_row_reach_the_optimum_of_johnsons_rule(jobs_s: list[tuple[int, int]]) -> None:
    """Johnson, Naval Research Logistics Quarterly 1 (1954) 61, from memory: first those that are quicker on the
    first machine, by that, then the others, by the second machine, longest first."""
    first, second = NAMES[:2]
    tasks = []
    for place, (one_s, two_s) in enumerate(jobs_s):
        tasks.append(Task(id=f"a{place}", words="", length_s=one_s, needs=frozenset({first})))
        after = (After(task=f"a{place}"),)
        tasks.append(Task(id=f"b{place}", words="", length_s=two_s, needs=frozenset({second}), after=after))
    early = sorted((job for job in jobs_s if job[0] < job[1]), key=lambda job: job[0])
    late = sorted((job for job in jobs_s if job[0] >= job[1]), key=lambda job: -job[1])
    one_done = two_done = 0
    for one_s, two_s in early + late:
        one_done += one_s
        two_done = max(two_done, one_done) + two_s
    assert schedule(tasks).makespan_s <= 1.05 * two_done


def test_a_task_that_must_follow_soon_draws_its_forerunner_later() -> None:
    """The heat could begin at 0, but the shot cannot come before 100 and must come within 20 of it."""
    hands, heater, _ = NAMES
    tasks = [
        Task(id="rods", words="rods", length_s=100, needs=frozenset({hands})),
        Task(id="heat", words="heat", length_s=30, needs=frozenset({heater})),
        Task(
            id="shot",
            words="shot",
            length_s=10,
            needs=frozenset({hands}),
            after=(After(task="rods"), After(task="heat")),
            within=(Within(task="heat", limit_s=20),),
        ),
    ]
    made = {each.task.id: each for each in schedule(tasks).tasks}
    assert (made["heat"].start_s, made["shot"].start_s) == (50, 100)


def test_what_does_not_count_is_done_but_not_waited_for() -> None:
    hands = frozenset({NAMES[0]})
    look = Task(id="look", words="look", length_s=20, needs=hands, counts=False)
    made = schedule([look, Task(id="open", words="open", length_s=5, needs=hands)])
    assert made.makespan_s == 5
    assert [each.task.id for each in made.tasks] == ["open", "look"]


def test_a_limit_that_cannot_be_kept_is_named_in_words() -> None:
    hands = frozenset({NAMES[0]})
    tasks = [
        Task(id="heat", words="heating the core cup", length_s=40),
        Task(id="oil", words="oiling", length_s=60, needs=hands, after=(After(task="heat"),)),
        Task(
            id="shot",
            words="the core shot",
            length_s=12,
            needs=hands,
            after=(After(task="oil"),),
            within=(Within(task="heat", limit_s=45),),
        ),
    ]
    with pytest.raises(BenchError) as caught:
        schedule(tasks)
    assert str(caught.value) == (
        "no order was found in which the core shot begins within 45 s of the end of heating the core cup, "
        "as it must"
    )


def test_tasks_that_wait_for_one_another_are_a_defect() -> None:
    ring = [Task(id=name, words=name, length_s=1, after=(After(task=other),)) for name, other in ("ab", "ba")]
    with pytest.raises(ValueError, match="ring"):
        schedule(ring)


@st.composite
def heats(draw: st.DrawFn) -> list[Task]:
    """A cup in two phases with its shot, a short heating with its own, and something else for the hands."""
    hands, heater, _ = NAMES
    both = frozenset({hands, heater})
    burst_s, finish_s, push_s = draw(st.integers(20, 90)), draw(st.integers(20, 120)), draw(st.integers(10, 40))
    other_s, short_s = draw(st.integers(5, 120)), draw(st.integers(17, 60))
    wait_s = draw(st.sampled_from([10, 120]))
    band_s = draw(st.integers(0, 60))
    return [
        Task(id="a.on", words="", length_s=10, needs=both),
        Task(
            id="a",
            words="",
            length_s=burst_s,
            needs=frozenset({heater}),
            after=(After(task="a.on"),),
            within=(Within(task="a.on", limit_s=0),),
        ),
        Task(
            id="a.finish",
            words="",
            length_s=finish_s,
            needs=both,
            after=(After(task="a"),),
            within=(Within(task="a", limit_s=wait_s),),
        ),
        Task(
            id="a.shot",
            words="",
            length_s=push_s,
            needs=frozenset({hands}),
            after=(After(task="a.finish"),),
            within=(Within(task="a.finish", limit_s=band_s),),
        ),
        Task(id="other", words="", length_s=other_s, needs=frozenset({hands})),
        Task(id="b.finish", words="", length_s=short_s, needs=both),
        Task(
            id="b.shot",
            words="",
            length_s=push_s,
            needs=frozenset({hands}),
            after=(After(task="b.finish"),),
            within=(Within(task="b.finish", limit_s=band_s),),
        ),
    ]


@settings(max_examples=40, deadline=None)
@given(heats())
def test_cups_heated_in_two_phases_are_scheduled_as_well_as_enumeration_does(tasks: list[Task]) -> None:
    made = schedule(tasks)
    check(tasks, made)
    best_s = shortest_s(tasks)
    assert best_s is not None
    assert made.makespan_s <= 1.05 * best_s + NEAR
    again = schedule(tasks, order=made.order)
    assert again.makespan_s == pytest.approx(made.makespan_s)


@settings(max_examples=60, deadline=None)
@given(jobs(most=25, limits=False), st.booleans())
def test_only_one_that_is_short_enough_is_given(tasks: list[Task], follows: bool) -> None:
    found = schedule(tasks, quick=True)
    given_too = {"order": found.order} if follows else {}
    assert schedule(tasks, quick=True, shorter_than_s=found.makespan_s + 1, **given_too).order == found.order
    with pytest.raises(TooLong):
        schedule(tasks, quick=True, shorter_than_s=found.makespan_s, **given_too)


def test_an_order_is_followed_though_tasks_come_and_go() -> None:
    hands, heater, _ = NAMES
    tasks = [
        Task(id="rods", words="rods", length_s=40, needs=frozenset({hands})),
        Task(id="finish", words="finish", length_s=30, needs=frozenset({hands, heater})),
    ]
    order = schedule(tasks).order
    split = [
        Task(id="on", words="on", length_s=10, needs=frozenset({hands, heater})),
        Task(id="rods", words="rods", length_s=40, needs=frozenset({hands})),
        Task(
            id="finish", words="finish", length_s=30, needs=frozenset({hands, heater}), after=(After(task="on"),)
        ),
    ]
    followed = schedule(split, order=order)
    check(split, followed)
    assert [name for name in followed.order if name != "on"] == list(order)
    assert followed.order.index("on") == followed.order.index("finish") - 1


def test_an_order_that_breaks_a_limit_is_kept_but_for_what_breaks_it() -> None:
    """The look fitted into a burst that is gone: it goes behind the heatings, which must follow one another."""
    hands, heater, _ = NAMES
    both = frozenset({hands, heater})
    tasks = [
        Task(id="rods", words="rods", length_s=40, needs=frozenset({hands})),
        Task(id="a", words="a", length_s=20, needs=both, after=(After(task="rods"),)),
        Task(id="look", words="look", length_s=20, needs=frozenset({hands}), after=(After(task="rods"),)),
        Task(
            id="b",
            words="b",
            length_s=30,
            needs=both,
            after=(After(task="a"),),
            within=(Within(task="a", limit_s=10),),
        ),
        Task(id="open", words="open", length_s=5, needs=frozenset({hands}), after=(After(task="b"),)),
    ]
    order = ("rods", "a", "look", "b", "open")
    made = schedule(tasks, order=order)
    check(tasks, made)
    assert made.order == ("rods", "a", "b", "look", "open")
