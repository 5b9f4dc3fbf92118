from __future__ import annotations

import pytest

from bench.tui.pour.choice_rows import choice_rows, in_a_row, in_columns, lowest_whole
from bench.tui.widgets.lines import width_of
from tests.tui.pour.pictures import SCENES, drawn
from tests.tui.pour.shown import texts_of

CHOICES = ("1   right", "2 • too dense", "3   too faint", "4   soft or torn", "5   could have opened sooner")


def test_with_room_they_stand_in_columns_read_downwards() -> None:
    assert texts_of(choice_rows(CHOICES, 100)[-1]) == [
        "1   right                     3   too faint                 5   could have opened sooner",
        "2 • too dense                 4   soft or torn",
    ]


def test_where_columns_take_more_rows_they_stand_one_after_the_other() -> None:
    assert texts_of(lowest_whole(CHOICES, 38)) == [
        "1 right   2 • too dense   3 too faint",
        "4 soft or torn",
        "5 could have opened sooner",
    ]
    assert texts_of(choice_rows(CHOICES, 38)[-1])[0] == "1   right", "all rows that there are: one each"


def test_a_form_that_leaves_a_choice_out_is_marked() -> None:
    forms = choice_rows(CHOICES, 38)
    assert [texts_of(form)[-1].endswith("…") for form in forms] == [True, True, False, False]


@pytest.mark.parametrize("room", range(20, 60))
def test_no_row_is_wider_than_there_is_room(room: int) -> None:
    assert all(width_of(row) <= room for form in choice_rows(CHOICES[:4], room) for row in form)
    assert all(width_of(row) <= room for row in in_a_row(CHOICES, room))


def test_one_that_is_wider_than_the_window_goes_on_below_behind_its_digit() -> None:
    learnt = ("1 • baits need 1.08 times the reckoned time to set, from 1 verdict", "2   the heater gives 380 W")
    assert texts_of(choice_rows(learnt, 40)[-1]) == [
        "1 • baits need 1.08 times the reckoned",
        "    time to set, from 1 verdict",
        "2   the heater gives 380 W",
    ]


def test_nothing_to_choose_takes_no_row() -> None:
    assert choice_rows((), 80) == ()
    assert in_columns((), 80) == ()


@pytest.mark.parametrize(
    ("scene", "last"), [("stopping", "5 danger: left at once"), ("look", "8 could have opened")]
)
def test_forty_by_twelve_says_what_every_digit_means(scene: str, last: str) -> None:
    assert last in drawn(SCENES[scene], 40, 12)
