"""The chart of a timeline: what each column shows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.plan.chart import LEGEND, MARKS, chart, used_marks
from bench.plan.rows import Row
from bench.plan.work import HANDS, HEATER, TaskKind, mould_resource


def row(kind: TaskKind, start_s: float, end_s: float, *, mould: int = 0) -> Row:
    needs = {
        TaskKind.HEAT: {HEATER},
        TaskKind.SET: {mould_resource(mould)},
        TaskKind.SHOT: {HANDS, mould_resource(mould)},
    }
    return Row(
        id=f"{kind}{start_s}",
        words=kind,
        kind=kind,
        round=1,
        mould=mould,
        part=None,
        shot=None,
        melt=0,
        start_s=start_s,
        end_s=end_s,
        resources=frozenset(needs.get(kind, {HANDS})),
    )


def test_every_lane_shows_what_takes_up_most_of_each_column() -> None:
    rows = [row(TaskKind.HEAT, 0, 40), row(TaskKind.SHOT, 40, 60, mould=1), row(TaskKind.SET, 60, 100, mould=1)]
    drawn = chart(rows, width=10)
    assert drawn.column_s == pytest.approx(10)
    assert drawn.lanes == (("hands", "....ss...."), ("heater", "####......"), ("mould", "....ss===="))


def test_a_column_that_is_mostly_idle_is_a_wait() -> None:
    drawn = chart([row(TaskKind.SHOT, 0, 4, mould=1), row(TaskKind.SHOT, 90, 100, mould=1)], width=10)
    assert drawn.lanes[0] == ("hands", ".........s")


def test_part_of_a_timeline_can_be_drawn() -> None:
    drawn = chart([row(TaskKind.HEAT, 0, 40), row(TaskKind.HEAT, 80, 100)], width=4, starts_s=60, ends_s=100)
    assert drawn.lanes[1] == ("heater", "..##")


def test_after_the_end_there_is_nothing() -> None:
    drawn = chart([row(TaskKind.HEAT, 0, 40)], width=10, ends_s=100)
    assert drawn.lanes == (("hands", "....      "), ("heater", "####      "))


@pytest.mark.parametrize(
    ("starts_s", "expected"), [(0.0, [0, 5, 10, 15, 20, 25]), (930.0, [20, 25, 30, 35, 40])]
)
def test_the_ruler_tells_whole_minutes_where_they_begin(starts_s: float, expected: list[int]) -> None:
    drawn = chart([row(TaskKind.HEAT, 0, 6000)], width=60, starts_s=starts_s, ends_s=starts_s + 1800.0)
    assert [int(each) for each in drawn.ruler.split()] == expected
    for minute in expected:
        at = (60 * minute - starts_s) / drawn.column_s
        assert drawn.ruler[int(at + 1e-6) :].startswith(str(minute))


def test_moulds_are_numbered_where_there_are_several() -> None:
    rows = [row(TaskKind.SET, 0, 10, mould=1), row(TaskKind.SET, 10, 20, mould=2)]
    assert [name for name, _ in chart(rows, width=2).lanes] == ["hands", "heater", "mould 1", "mould 2"]


def test_the_legend_names_every_mark_once_and_only_those_on_the_chart_are_used() -> None:
    assert {mark for mark, _ in LEGEND} == {*MARKS.values(), "."}
    assert len({mark for mark, _ in LEGEND}) == len(LEGEND)
    assert used_marks(chart([row(TaskKind.HEAT, 0, 40)], width=4)) == (("#", "heat"), (".", "wait"))


@given(
    width=st.integers(0, 200),
    times=st.lists(st.tuples(st.floats(0, 5000), st.floats(0.1, 900)), max_size=12),
    kind=st.sampled_from(TaskKind),
)
def test_every_lane_is_as_wide_as_asked(width: int, times: list[tuple[float, float]], kind: TaskKind) -> None:
    drawn = chart([row(kind, start, start + length, mould=1) for start, length in times], width=width)
    assert all(len(cells) == max(1, width) for _, cells in drawn.lanes)
    assert len(drawn.ruler) == max(1, width)
