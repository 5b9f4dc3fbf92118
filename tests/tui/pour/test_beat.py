"""When the screen looks again, and what it says after a pause."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.session import drive
from bench.session.session import Session
from bench.session.stamp import span
from bench.tui import present
from bench.tui.pour.beat import (
    BLOCKED_S,
    MEANWHILE,
    PAST_S,
    READ_AFTER_S,
    TICK_S,
    Beats,
    away_line,
    meanwhile_line,
    next_look_s,
    overdue_s,
    waking_line,
)
from tests.session.test_aside import left_standing
from tests.tui.at_the_bench import at, at_step, session_of

SETTING = at_step("r1.shell.set")


@pytest.fixture(autouse=True)
def patient() -> None:
    """Here it is looked at how long a pause has to be."""


def left_s(session: Session, now: float) -> float:
    return drive.remaining_s(session, at(now))


@given(gone_s=st.floats(0, 150))
def test_looks_fall_just_behind_the_seconds_of_the_countdown(gone_s: float) -> None:
    session, entered = SETTING
    now = entered + gone_s
    shown = present.countdown(left_s(session, now))
    looks = 0
    while present.countdown(left_s(session, now)) == shown:
        assert looks < 6
        wait_s = next_look_s(session, at(now), pace=1.0)
        assert 0 < wait_s <= TICK_S
        now, looks = now + wait_s, looks + 1
    # A countdown takes what is a millionth of a second short of its second for that second.
    beyond_s = round(-left_s(session, now), 5) % 1.0
    assert beyond_s == pytest.approx(PAST_S, abs=2e-5) or beyond_s <= PAST_S


def test_the_end_is_met_when_it_comes() -> None:
    session, entered = SETTING
    now = entered + left_s(session, entered) - 0.1
    assert next_look_s(session, at(now), pace=1.0) == pytest.approx(0.1 + PAST_S)


def test_a_fast_rehearsal_is_not_drawn_more_often() -> None:
    session, entered = SETTING
    assert next_look_s(session, at(entered), pace=60.0) == TICK_S
    almost = entered + left_s(session, entered) - 6.0
    assert next_look_s(session, at(almost), pace=60.0) == pytest.approx(0.1 + PAST_S)


def test_where_nothing_counts_the_plain_tick_does() -> None:
    assert next_look_s(session_of(), at(0), pace=1.0) == TICK_S
    session, now = at_step("cautions")
    assert next_look_s(session, at(now), pace=1.0) == TICK_S
    assert overdue_s(session, at(now + 9999)) == 0.0


def test_a_clock_tells_how_long_it_has_run_out() -> None:
    session, entered = SETTING
    length_s = left_s(session, entered)
    assert overdue_s(session, at(entered + length_s - 1)) == 0.0
    assert overdue_s(session, at(entered + length_s + 400)) == pytest.approx(400)


def test_a_pause_is_told_with_what_it_made_late() -> None:
    line = waking_line(at(0), at(600), pace=1.0, ended="Let it [set]", late_s=400.0)
    assert "stood still for 10 min" in line
    assert "Let it [set] was over 7 min ago." in line
    assert "ran on" in line


@pytest.mark.parametrize(("gone_s", "pace"), [(0.25, 1.0), (4.9, 1.0), (290.0, 60.0)])
def test_an_ordinary_tick_tells_nothing(gone_s: float, pace: float) -> None:
    assert waking_line(at(0), at(gone_s), pace=pace, ended="Set", late_s=0.2) == ""


def test_the_first_look_tells_only_what_is_late() -> None:
    assert waking_line(None, at(600), pace=1.0, ended="Set", late_s=120.0) == "Set was over 2 min ago."
    assert waking_line(None, at(600), pace=1.0) == ""


def beaten(*at_s: float) -> Beats:
    beats = Beats()
    for each in at_s:
        beats = beats.after(each)
    return beats


def test_keys_count_while_the_screen_beats() -> None:
    assert beaten(100.0).blocked_s(100.1) == 0
    steady = beaten(*(100 + TICK_S * place for place in range(8)), 102.6)
    assert all(steady.blocked_s(100 + tenth / 10) == 0 for tenth in range(40)), "a beat that is late is no pause"


@given(
    pause_s=st.floats(BLOCKED_S + 0.01, 3600),
    part=st.floats(0.001, 0.999),
    after_s=st.floats(0, READ_AFTER_S - 0.01),
)
def test_what_was_read_in_a_pause_or_right_after_it_had_waited(
    pause_s: float, part: float, after_s: float
) -> None:
    beats = beaten(100.0, 100.25, 100.25 + pause_s)
    assert beats.blocked_s(100.25 + pause_s * part) == pytest.approx(pause_s)
    assert beats.blocked_s(100.25 + pause_s + after_s) == pytest.approx(pause_s)
    assert beats.blocked_s(100.24) == 0
    assert beats.blocked_s(100.26 + pause_s + READ_AFTER_S) == 0
    later = beats.after(100.5 + pause_s)
    assert later.blocked_s(100.25 + pause_s + after_s) == pytest.approx(pause_s), "the next beat forgives nothing"


def test_a_press_that_waited_is_answered_once_beside_what_is_said_of_the_pause() -> None:
    assert meanwhile_line("", 45) == f"{MEANWHILE} The screen stood still for 45 s."
    assert meanwhile_line("Shell cup: 170 °C.", 2) == f"{MEANWHILE} The screen stood still for 2 s."
    told = waking_line(at(0), at(45), pace=1.0)
    assert meanwhile_line(told, 45) == f"{MEANWHILE} {told}"
    assert meanwhile_line(f"{MEANWHILE} {told}", 45) == f"{MEANWHILE} {told}"


def test_who_comes_back_is_told_how_long_he_was_away_and_to_read() -> None:
    session, entered = SETTING
    assert session.last is not None
    now = at(entered + 25)
    gone = present.long_time(span(session.last, now).seconds)
    assert away_line(session, now, was_left=True) == (
        f"You were away {gone}. Clocks ran on. Is the heat as the screen says? Read the cup."
    )
    assert away_line(session, now, was_left=False).startswith(f"You were away up to {gone}. ")


def test_who_comes_back_before_any_heat_reads_nothing() -> None:
    session, entered = at_step("ready")
    assert away_line(session, at(entered + 25), was_left=True).endswith("Clocks ran on.")
    assert away_line(Session(job=session.job), at(entered), was_left=True) == ""


def test_what_was_told_at_the_start_stays_before_what_is_over() -> None:
    _, entered = SETTING
    told = "You were away 2 min."
    line = waking_line(None, at(entered), pace=1.0, ended="Set", late_s=120, told=told)
    assert line == f"{told} Set was over 2 min ago."
    assert waking_line(None, at(entered), pace=1.0, told=told) == ""


def test_who_comes_back_to_an_old_cup_alone_reads_that() -> None:
    hands = left_standing()
    assert away_line(hands.session, hands.now(), was_left=False).endswith("Read the cup.")
