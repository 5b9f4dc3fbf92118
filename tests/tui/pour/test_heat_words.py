"""What the physics says at a step, in the words of the screen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.station import WarmedBy
from bench.session.aim import Aim
from bench.session.bond import BondView
from bench.session.bursts import BurstView
from bench.session.feed import TopOffView
from bench.session.fill import FillChange, FillHelp, FillVerdict, FillView
from bench.session.warned import BenchWarning, WarningKind
from bench.tui.pour.heat_words import aim_words, bond_words, burst_words, fill_words, top_off_words, warning_words
from bench.tui.pour.keys import USUAL
from bench.tui.pour.picture import picture
from tests.tui.at_the_bench import at, at_step, session_of
from tests.tui.pour.pictures import METRIC

C, F = UnitSystem.METRIC, UnitSystem.US


def burst(*, heating: bool, left_s: float, next_s: float | None) -> BurstView:
    return BurstView(number=2, of=4, heating=heating, left_s=left_s, next_burst_s=next_s)


@pytest.mark.parametrize(
    ("view", "words"),
    [
        (
            burst(heating=True, left_s=34.2, next_s=20),
            "burst 2 of 4: the heater is on for 0:35, then stir and read",
        ),
        (burst(heating=False, left_s=8, next_s=20), "heater off: stir and read; the next burst is 0:20"),
        (burst(heating=False, left_s=0, next_s=None), "heater off: stir and read"),
    ],
)
def test_bursts(view: BurstView, words: str) -> None:
    assert burst_words(view) == words


def test_filling_says_the_one_change_that_helps_most() -> None:
    helped = FillHelp(change=FillChange.MOULD, by=8.0, open_fraction=0.7)
    short = FillView(open_fraction=0.4, verdict=FillVerdict.SHORT, help=helped)
    assert fill_words(short, C) == "it will run short: the mould +8 °C helps most"
    assert fill_words(short, F) == "it will run short: the mould +14 °F helps most"
    barely = FillView(open_fraction=0.6, verdict=FillVerdict.MARGINAL, help=None)
    assert fill_words(barely, C) == "it will barely fill"
    assert fill_words(FillView(open_fraction=0.9, verdict=FillVerdict.FILLS, help=None), C).startswith(
        "it will fill"
    )


def test_a_cold_cup_is_the_one_reason_that_is_given() -> None:
    helped = FillHelp(change=FillChange.REHEAT, by=47.0, open_fraction=0.7)
    short = FillView(open_fraction=0.1, verdict=FillVerdict.SHORT, help=helped)
    assert fill_words(short, C) == "it will run short, the cup is too cold: reheat it into its band"


def test_a_cold_cup_names_the_key_where_its_shot_is_at_hand() -> None:
    cold = BenchWarning(kind=WarningKind.CUP_COLD, value=118.0, limit=165.0, part=Part.SHELL)
    assert warning_words(cold, C) == "The shell cup is under its band, 118 °C: reheat it before its shot."
    said = USUAL.words(warning_words(replace(cold, at_shot=True), C))
    assert said == "The shell cup is under its band, 118 °C. B puts it back on the heat, the shot follows."
    said = USUAL.words(warning_words(replace(cold, at_shot=True, came_back=True), C))
    assert said.endswith("Y puts it back on the heat, the shot follows.")


def test_a_cup_under_its_band_never_reads_as_in_it() -> None:
    cold = BenchWarning(kind=WarningKind.CUP_COLD, value=164.8, limit=165.0, part=Part.SHELL)
    assert warning_words(cold, C).startswith("The shell cup is under its band, 164 °C")


def test_a_cold_mould_says_how_to_warm_it() -> None:
    cold = BenchWarning(kind=WarningKind.MOULD_COLD, value=33.0, limit=40.0, mould=1)
    assert warning_words(cold, C).endswith("closed, to 40 °C.")
    assert warning_words(replace(cold, mould=2, moulds=2), C).startswith("Mould 2 is cold, 33 °C.")


@pytest.mark.parametrize(
    ("by", "says"),
    [
        (WarmedBy.PLATE, "Warm it on its plate, closed, to 40 °C."),
        (WarmedBy.AIR, "Warm it in the warm air, closed, to 40 °C."),
        (WarmedBy.SHOTS, "Each shot warms it: it is good from 40 °C, baits may come out short before."),
    ],
)
def test_a_cold_mould_is_warmed_with_what_the_bench_has(by: WarmedBy, says: str) -> None:
    cold = BenchWarning(kind=WarningKind.MOULD_COLD, value=33.0, limit=40.0, mould=1, by=by)
    assert warning_words(cold, C) == f"The mould is cold, 33 °C. {says}"


def test_top_off_and_bond() -> None:
    assert top_off_words(TopOffView(volume_ml=0.8, next_in_s=0, left_s=9, dent_pct=6), C).startswith("top off now")
    assert "in 0:04" in top_off_words(TopOffView(volume_ml=0.8, next_in_s=4, left_s=9, dent_pct=6), C)
    assert "may peel" in bond_words(BondView(contact_c=82, enough=False, shell_c=30), C)


@pytest.mark.parametrize("kind", WarningKind)
def test_every_warning_has_its_line(kind: WarningKind) -> None:
    line = warning_words(BenchWarning(kind=kind, value=123.0, limit=100.0, part=Part.CORE, mould=1, round=2), C)
    assert line.endswith(".")
    assert 10 < len(USUAL.words(line)) <= 99


def test_the_screen_shows_the_burst_while_a_cup_is_heated() -> None:
    session, now = at_step("m1.warm-up1.heat.shell")
    assert picture(session, at(now + 5), METRIC).middle.details[0].startswith("burst 1 of ")


def test_a_second_warning_says_what_is_so_and_gives_no_order() -> None:
    out = BenchWarning(kind=WarningKind.SHELLS_OUT, value=720.0, limit=600.0, round=1)
    cold = BenchWarning(kind=WarningKind.CUP_COLD, value=140.0, limit=165.0, part=Part.CORE, at_shot=True)
    assert warning_words(out, C).endswith("Fill them now.")
    assert "back on the heat" in warning_words(cold, C)
    assert warning_words(replace(out, is_second=True), C).endswith("they may peel.")
    assert warning_words(replace(cold, is_second=True), C) == "The core cup is under its band, 140 °C."


def test_late_shells_are_told_what_can_be_done_where_the_maker_stands() -> None:
    out = BenchWarning(kind=WarningKind.SHELLS_OUT, value=1088.0, limit=600.0, round=2, is_second=True)
    said = "The shells of round 2 have been out for 18:08: "
    assert warning_words(replace(out, away_s=75.0), C) == f"{said}their core is 1:15 away, be quick."
    assert warning_words(replace(out, away_s=0.0), C) == f"{said}their core is next, be quick."
    closed = warning_words(replace(out, away_s=75.0, mould=2), C)
    assert USUAL.words(closed) == f"{said}first their core. Leave mould 2 closed, Space goes on."


def test_a_cup_that_waits_is_told_what_to_aim_at_and_later_which_key_reheats_it() -> None:
    # 167.5 °C is 333.5 °F: NIST SP 811, appendix B; no aim is rounded down.
    aimed = Aim(temp_c=167.5, waits_s=24.0)
    assert aim_words(aimed, UnitSystem.US) == ("aim at 334 °F or more: its shot is 0:24 away",)
    assert aim_words(replace(aimed, temp_c=168.0), C) == ("aim at 168 °C or more: its shot is 0:24 away",)
    assert aim_words(None, C) == ()
    late = BenchWarning(kind=WarningKind.CUP_LATE, value=24.0, limit=10.0, part=Part.SHELL_A)
    assert USUAL.words(warning_words(late, C)) == (
        "The shell A cup stays in its band for 0:10, its shot is 0:24 away: be quick, or reheat it there (B)."
    )


def test_the_aim_stands_at_its_heating() -> None:
    session, now = at_step("r1.heat.shell_b", session_of("ember-between-banks"))
    assert picture(session, at(now), METRIC).middle.details[-1].startswith("aim at 168 °C or more: ")


def test_a_mould_that_nobody_read_after_its_plate_is_to_be_read_with_the_key_where_that_means_it() -> None:
    unread = BenchWarning(kind=WarningKind.MOULD_UNREAD, value=540.0, limit=50.0, mould=1, at_shot=True)
    said = USUAL.words(warning_words(unread, C))
    assert said == "The mould was on the plate for 9 min, not read since: it may be too hot. M reads it."
    later = replace(unread, mould=2, moulds=2, at_shot=False, by=WarmedBy.AIR)
    said = warning_words(later, C)
    assert said.startswith("Mould 2 was in the warm air for 9 min")
    assert said.endswith("Read it first.")
