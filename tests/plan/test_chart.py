"""The chart of a timeline: what each column shows."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.model.recipe import Part
from bench.plan.chart import CUPS, LEGEND, MARKS, SHOTS, chart, rounds_chart, used_marks
from bench.plan.lying_out import lying_out
from bench.plan.records import Shot
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
    drawn = chart([row(TaskKind.WEIGH, 0, 4), row(TaskKind.SHOT, 90, 100, mould=1)], width=10)
    assert drawn.lanes[0] == ("hands", ".........s")


def test_part_of_a_timeline_can_be_drawn() -> None:
    drawn = chart([row(TaskKind.HEAT, 0, 40), row(TaskKind.HEAT, 80, 100)], width=4, starts_s=60, ends_s=100)
    assert drawn.lanes[1] == ("heater", "..##")


def test_after_the_end_there_is_nothing() -> None:
    drawn = chart([row(TaskKind.HEAT, 0, 40)], width=10, ends_s=100)
    assert drawn.lanes == (("hands", "....      "), ("heater", "####      "))


@pytest.mark.parametrize(("starts_s", "expected"), [(0.0, [0, 5, 10, 15, 20, 25]), (930.0, [20, 25, 30, 35, 40])])
def test_the_ruler_tells_whole_minutes_where_they_begin(starts_s: float, expected: list[int]) -> None:
    drawn = chart([row(TaskKind.HEAT, 0, 6000)], width=60, starts_s=starts_s, ends_s=starts_s + 1800.0)
    assert [int(each) for each in drawn.ruler.split()] == expected
    for minute in expected:
        at = (60 * minute - starts_s) / drawn.column_s
        assert drawn.ruler[int(at + 1e-6) :].startswith(str(minute))


def test_moulds_are_numbered_where_there_are_several() -> None:
    rows = [row(TaskKind.SET, 0, 10, mould=1), row(TaskKind.SET, 10, 20, mould=2)]
    assert [name for name, _ in chart(rows, width=2).lanes] == ["hands", "at", "heater", "mould 1", "mould 2"]


def test_a_lane_tells_at_which_of_several_moulds_the_hands_are() -> None:
    rows = [
        row(TaskKind.SHOT, 0, 20, mould=2),
        row(TaskKind.WEIGH, 20, 40),
        row(TaskKind.SHOT, 50, 80, mould=1),
        row(TaskKind.SET, 80, 100, mould=1),
    ]
    assert chart(rows, width=10).lanes[:2] == (("hands", "ssww.sss.."), ("at", "22   111  "))


@pytest.mark.parametrize(("shot", "mark"), [(Shot.WHOLE, "s"), (Shot.SHELL, "S"), (Shot.CORE, "C")])
def test_a_shot_of_core_work_tells_which_it_is(shot: Shot, mark: str) -> None:
    pushed = replace(row(TaskKind.SHOT, 0, 10, mould=1), shot=shot)
    assert chart([pushed], width=1).lanes[0] == ("hands", mark)


@pytest.mark.parametrize("part", list(Part))
def test_the_heater_tells_whose_cup_is_on_it(part: Part) -> None:
    heated = replace(row(TaskKind.HEAT, 0, 10), part=part)
    mark = dict(chart([heated], width=1).lanes)["heater"]
    words = {"shell": "S", "core": "C", "side_a": "A", "shell_a": "A", "side_b": "B", "shell_b": "B"}
    assert mark == words.get(part.value, "#")


def test_a_push_is_not_lost_beside_its_hold() -> None:
    """12 s of push over two columns of 14 s, the rest of them full."""
    rows = [
        row(TaskKind.RODS_IN, 0, 8, mould=1),
        replace(row(TaskKind.SHOT, 8, 20, mould=1), shot=Shot.SHELL),
        row(TaskKind.HOLD, 20, 42, mould=1),
    ]
    assert "S" in dict(chart(rows, width=3).lanes)["hands"]


def test_a_lane_tells_whose_shells_lie_out_and_when_of_several() -> None:
    opened = [replace(row(TaskKind.OPEN, at, at + 5, mould=1 + at // 20), shot=Shot.SHELL) for at in (0, 20)]
    cores = [replace(row(TaskKind.SHOT, at, at + 10, mould=1 + (at > 40)), shot=Shot.CORE) for at in (40, 70)]
    rows = [replace(each, round=each.mould) for each in (*opened, *cores, row(TaskKind.LOOK_AT_BAITS, 80, 100))]
    assert dict(chart(rows, width=10).lanes)["shells"] == "11++222   "
    assert [(each.round, each.out_s) for each in lying_out(rows)] == [(1, 40), (2, 50)]


def test_rounds_are_numbered_where_their_first_push_is() -> None:
    pushes = [(1, 1, 0), (2, 2, 10), (3, 1, 40), (3, 1, 70), (4, 2, 95)]
    rows = [replace(row(TaskKind.SHOT, at, at + 5, mould=mould), round=each) for each, mould, at in pushes]
    drawn = rounds_chart(rows, width=10, starts_s=0.0, ends_s=100.0)
    assert drawn.lanes == (("mould 1", "1   3     "), ("mould 2", " 2       4"))
    later = rounds_chart(rows, width=5, starts_s=50.0, ends_s=100.0)
    assert later.lanes == (("mould 1", "     "), ("mould 2", "    4"))


def test_a_round_without_room_for_its_number_is_left_out() -> None:
    rows = [replace(row(TaskKind.SHOT, at, at + 5, mould=1), round=at) for at in (10, 20, 30, 40, 50, 90)]
    assert rounds_chart(rows, width=10, starts_s=0.0, ends_s=100.0).lanes == (("mould", " 10 40    "),)


def test_the_legend_names_every_mark_once_and_only_those_on_the_chart_are_used() -> None:
    assert {mark for mark, _ in LEGEND} == {*MARKS.values(), *SHOTS.values(), *CUPS.values(), "."}
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
