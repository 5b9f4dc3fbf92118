"""Which gauges come first, and what they say of where a figure comes from."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.station import WarmedBy, Warming
from bench.model.step_kind import StepKind
from bench.plan.records import Ask
from bench.session import drive
from bench.session.prepare import prepare
from bench.session.session import Session
from bench.session.view import view
from bench.tui.pour.frame import _strip, frame
from bench.tui.pour.gauges import Gauge, gauges
from bench.tui.pour.picture import picture
from tests.tui.at_the_bench import at, at_kind, at_step, session_of, shelf
from tests.tui.pour.pictures import METRIC, US
from tests.tui.pour.shown import texts_of, whole_text


def with_two_moulds() -> Session:
    return prepare(
        shelf(), recipe="ember-under-peat", mould="ribbon-leech-4", ask=Ask(count=16, spares_pct=7, moulds=2)
    )


def names(session: Session, now: float) -> list[str]:
    return [each.name for each in gauges(session, view(session, at(now)), at(now), METRIC.units)]


def words(session: Session, now: float, name: str, units: UnitSystem = UnitSystem.METRIC) -> str:
    return next(
        f"{each.value} {each.words}"
        for each in gauges(session, view(session, at(now)), at(now), units)
        if each.name == name
    )


def rows_of(session: Session, now: float, width: int, height: int) -> list[str]:
    rows = frame(picture(session, at(now), US), width, height).rows
    return [text.strip() for text in texts_of(rows)]


def test_the_cup_that_is_shot_comes_before_its_mould_the_shells_and_the_idle_cup() -> None:
    shown = names(*at_step("r1.core.shot", with_two_moulds()))
    assert shown[:5] == ["core cup", "mould 1", "shells out, 1", "shells out, 2", "shell cup"]


def test_a_cup_that_heats_by_itself_comes_first_while_the_hands_have_none() -> None:
    session, now = at_step("r1.shells-back", with_two_moulds())
    assert names(session, now)[:4] == ["core cup", "mould 1", "shells out", "shell cup"]


@pytest.mark.parametrize("step", ["r1.core.shot", "r2.core.shot"])
def test_eighty_by_twenty_four_keeps_the_cup_of_a_core_shot_beside_two_rounds_of_shells(step: str) -> None:
    rows = rows_of(*at_step(step, with_two_moulds()), 80, 24)
    assert any(row.startswith("core cup  ") and "in band, " in row for row in rows)


def test_eighty_by_twenty_four_keeps_the_running_cup_while_the_shells_go_back() -> None:
    rows = rows_of(*at_step("r1.shells-back", with_two_moulds()), 80, 24)
    assert any(row.startswith("core cup  ") and "burst, " in row for row in rows)


@pytest.mark.parametrize("recipe", ["ember-under-peat", "ember-between-banks"])
def test_forty_by_twelve_shows_at_a_shot_how_long_each_cup_stays_in_its_band(recipe: str) -> None:
    session, now = at_kind(StepKind.SHOT, session_of(recipe))
    rows = rows_of(session, now, 40, 12)
    for part in session.step.parts:
        (row,) = (row for row in rows if row.startswith(f"{part.words} cup "))
        assert " °F" in row
        assert row.partition("in band, ")[2].endswith(" left")


def test_few_rows_hold_the_first_of_the_gauges() -> None:
    five = tuple(Gauge(name=f"cup {number}", value="cold") for number in range(1, 6))
    for width, last in ((20, 2), (60, 4)):
        forms = _strip(five, width)
        first = re.findall(r"cup \d", whole_text(forms[1]))
        assert sorted(first) == [f"cup {each}" for each in range(1, last + 1)]
        assert len(re.findall(r"cup \d", whole_text(forms[-1]))) == len(five)


def test_an_estimate_is_not_called_read_however_new_its_reading_is() -> None:
    session, now = at_step("r1.heat.shell")
    session = session.after(drive.reading(session, 140.0, at(now)))
    assert session.doubted is None
    assert words(session, now, "shell cup").startswith("140 °C ")
    assert " · read just now" in words(session, now, "shell cup")
    later = words(session, now + 20, "shell cup")
    assert not later.startswith("140 °C ")
    assert " · est., read 20 s ago" in later
    assert " · est., read 2 min ago" in words(session, now + 100, "shell cup")


def test_a_cup_is_under_its_band_where_it_is_shot_next_and_else_only_cools() -> None:
    session, now = at_step("r1.shell.set")
    assert "cooling" in words(session, now + 60, "shell cup")
    session, now = at_step("r1.shell.shot")
    cold = replace(view(session, at(now)).cups[0], part=Part.SHELL, temp_c=160.0)
    seen = replace(view(session, at(now)), cups=(cold,))
    assert "under the band" in gauges(session, seen, at(now), METRIC.units)[0].words
    session, now = at_step("heat-off")
    for each in gauges(session, view(session, at(now)), at(now), METRIC.units):
        assert "under the band" not in each.words


class TestAMouldThatIsWarmed:
    def test_it_is_ready_by_the_estimate_only_while_it_had_no_time_to_be_too_hot(self) -> None:
        session, now = at_kind(StepKind.WARM_MOULD)
        assert words(session, now + 60, "mould") == "28 °C cold · estimate"
        for later_s in (540, 1200):
            assert "ready" not in words(session, now + later_s, "mould")

    def test_one_that_nobody_reads_says_how_long_it_has_stood_there_and_the_key(self) -> None:
        session, now = at_kind(StepKind.WARM_MOULD)
        shown = picture(session, at(now + 540), METRIC)
        (mould,) = (each for each in shown.gauges if each.name == "mould")
        assert (mould.value, mould.words) == ("45 °C or more", "on the plate 9 min, not read: M")
        assert mould.brief == ("not read: M",)
        assert shown.middle.label == "over the estimate: read it, it may be too hot"

    def test_one_that_was_read_says_how_long_ago(self) -> None:
        session, now = at_kind(StepKind.WARM_MOULD)
        session = session.after(drive.reading(session, 30.0, at(now + 100)))
        assert words(session, now + 110, "mould").endswith("cold · est., read 10 s ago")
        assert "on the plate 8 min, read 8 min ago: " in words(session, now + 580, "mould")

    def test_in_warm_air_it_is_said_so_and_called_too_hot_by_what_is_known(self) -> None:
        session, now = at_kind(StepKind.WARM_MOULD)
        job = session.job
        air = replace(job.station, warming=Warming(by=WarmedBy.AIR, air_c=85.0))
        session = replace(session, job=replace(job, station=air, plan=replace(job.plan, warming=WarmedBy.AIR)))
        shown = words(session, now + 7200, "mould")
        assert shown.startswith("85 °C too hot · in the warm air 2 h, not read: ")

    def test_of_several_only_the_one_that_the_key_means_names_it(self) -> None:
        session, now = at_kind(StepKind.WARM_MOULD, with_two_moulds())
        shown = {each.name: each.words for each in picture(session, at(now + 540), METRIC).gauges}
        assert shown["mould 1"] == "on the plate 9 min, not read: M"
        assert shown["mould 2"] == "on the plate 9 min, not read"
