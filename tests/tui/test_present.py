from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.cli.plan import as_lines
from bench.model.recipe import Build, Part
from bench.model.settings import UnitSystem
from bench.plan.records import Shot
from bench.tui import present
from bench.tui.present_plan import plan_content
from tests.plan.bench_records import plan_of

METRIC, US = UnitSystem.METRIC, UnitSystem.US


@pytest.mark.parametrize(
    ("remaining_s", "shown"),
    [
        (65.0, "1:05"),
        (64.2, "1:05"),
        (0.01, "0:01"),
        (0.0, "0:00"),
        (-0.9, "0:00"),
        (-1.0, "+0:01"),
        (-65.9, "+1:05"),
        (3725.0, "1:02:05"),
        (59.9999999999, "1:00"),
    ],
)
def test_a_countdown_is_full_until_it_is_gone_and_then_counts_up(remaining_s: float, shown: str) -> None:
    assert present.countdown(remaining_s) == shown


@given(st.floats(min_value=-1e5, max_value=1e5))
def test_a_countdown_never_shows_nothing_left_while_something_is(remaining_s: float) -> None:
    shown = present.countdown(remaining_s)
    assert "-" not in shown
    if remaining_s > 1e-5:
        assert shown.strip("0:") != ""
        assert not present.is_late(remaining_s)


@pytest.mark.parametrize(
    ("temp_c", "units", "shown"),
    [
        (168.4, METRIC, "168 °C"),
        (-0.2, METRIC, "0 °C"),
        # 350 °F is 176.67 °C: NIST SP 811, appendix B.9, t/°C = (t/°F - 32)/1.8 [C].
        (176.6667, US, "350 °F"),
        (0.0, US, "32 °F"),
    ],
)
def test_temperatures_in_the_makers_unit(temp_c: float, units: UnitSystem, shown: str) -> None:
    assert present.temperature(temp_c, units) == shown


def test_a_typed_figure_is_in_the_makers_unit() -> None:
    assert present.celsius(350, US) == pytest.approx(176.6667, abs=1e-4)
    assert present.celsius(350, METRIC) == 350


@pytest.mark.parametrize(
    ("shown", "wanted"),
    [
        (present.volume(0.84, METRIC), "0.8 ml"),
        (present.volume(9.96, METRIC), "10 ml"),
        (present.volume(38.4, METRIC), "38 ml"),
        # One US fluid ounce is 29.5735 ml, one avoirdupois ounce 28.3495 g: NIST Handbook 44, appendix C [C].
        (present.volume(29.5735, US), "1.00 fl oz"),
        (present.mass(28.3495, US), "1.00 oz"),
        (present.mass(186.04, METRIC), "186.0 g"),
        (present.small_mass(0.417), "0.42 g"),
        (present.drops(9.4), "about 9 drops"),
        (present.drops(1.2), "about 1 drop"),
        (present.drops(0.3), "less than a drop"),
        (present.drops(None), ""),
        (present.load(0.25), "0.25 %"),
    ],
)
def test_amounts(shown: str, wanted: str) -> None:
    assert shown == wanted


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [(12.0, "12 s"), (59.6, "1 min"), (540.0, "9 min"), (8760.0, "2 h 26 min"), (172800.0, "48 h")],
)
def test_a_time_to_plan_with(seconds: float, shown: str) -> None:
    assert present.long_time(seconds) == shown


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [
        (1, "1 min"),
        (61, "2 min"),
        (599, "10 min"),
        (601, "15 min"),
        (900, "15 min"),
        (3541, "1 h"),
        (3601, "1 h 05 min"),
    ],
)
def test_a_wait_is_never_said_to_be_shorter_than_it_is(seconds: float, shown: str) -> None:
    assert present.wait(seconds) == shown


def test_ages_and_moments() -> None:
    friday = datetime(2026, 3, 13, 9, 40, tzinfo=UTC)
    assert present.day_and_time(friday) == "Fri 09:40"
    assert present.time_of_day(friday) == "09:40"
    assert [present.ago(age) for age in (4.0, 35.0, 200.0)] == ["just now", "30 s ago", "3 min ago"]
    assert present.gone(65.9) == "1:05"
    assert [present.lasted(second) for second in (77.4, 77.6)] == ["1:17", "1:18"]
    assert present.left(-3.0) == "0:00"


def test_things_take_turns_by_the_makers_time() -> None:
    assert [present.turn(second, pace=1.0) for second in (0.0, 7.9, 8.0, 16.0)] == [0, 0, 1, 2]
    assert present.turn(479.0, pace=60.0) == 0


@pytest.mark.parametrize(
    ("count", "spares_pct", "said"),
    [(24, 5.0, "6 rounds without the 5 % spare"), (8, 5.0, ""), (4, 100.0, "1 round without the 100 % spare")],
)
def test_the_plan_says_which_rounds_are_there_for_spares_alone(count: int, spares_pct: float, said: str) -> None:
    shown = plan_content(plan_of(Build.PLAIN, count=count, spares_pct=spares_pct), METRIC).plain
    assert said in shown if said else "without the" not in shown


@pytest.mark.parametrize(
    ("temp_c", "units", "shown"),
    [
        (164.8, UnitSystem.METRIC, "164 °C"),
        (164.2, UnitSystem.METRIC, "164 °C"),
        (165.0, UnitSystem.METRIC, "165 °C"),
        (170.0, UnitSystem.METRIC, "170 °C"),
        (175.0, UnitSystem.METRIC, "175 °C"),
        (175.3, UnitSystem.METRIC, "176 °C"),
        (164.9, UnitSystem.US, "328 °F"),
        (175.1, UnitSystem.US, "348 °F"),
    ],
)
def test_what_lies_outside_a_band_is_never_rounded_into_it(temp_c: float, units: UnitSystem, shown: str) -> None:
    """165 °C is 329 °F, 175 °C is 347 °F."""
    assert present.against_band(temp_c, (165.0, 175.0), units) == shown


@pytest.mark.parametrize("build", [Build.PLAIN, Build.CORE])
def test_no_figure_of_the_plan_runs_into_the_next_in_either_system(build: Build) -> None:
    for units in (METRIC, US):
        rows = plan_content(plan_of(build, count=8), units).plain.splitlines()
        at = next(place for place, row in enumerate(rows) if row.startswith("Each round"))
        shots = 2 if build is Build.CORE else 1
        for row in rows[at + 1 : at + 1 + shots]:
            assert not re.search(r"[a-z][0-9]", row), row
            assert len(row) <= 38, row
        assert ("fl oz" in rows[at]) is (units is US)


@pytest.mark.parametrize("build", list(Build))
def test_the_bench_and_the_verb_give_the_same_amounts_and_times_of_one_plan(build: Build) -> None:
    plan = plan_of(build, count=12)
    on_the_bench = plan_content(plan, METRIC).plain.splitlines()
    printed = list(as_lines(plan, units=METRIC))
    for each in plan.rounds_table:
        row = next(line for line in on_the_bench if re.match(rf"{each.round} .*:", line))
        same = next(line for line in printed if re.match(rf"  {each.round}(-\d+)? .*:", line))
        assert re.findall(r"\d+:\d\d", row) == re.findall(r"\d+:\d\d", same)[-2 * len(each.shots) :]
    for shot in plan.rounds_table[0].shots:
        row = next(line for line in on_the_bench if line.startswith((f"{shot.shot} shot ", "shot ")))
        told = re.search(r"(\S+) ml", row)
        assert told is not None
        parts = [each.per_round_ml for each in plan.parts if (each.part is Part.CORE) is (shot.shot is Shot.CORE)]
        assert told[1] == present.volume(sum(parts), METRIC).removesuffix(" ml")
