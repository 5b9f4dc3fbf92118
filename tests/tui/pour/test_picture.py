from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

import pytest

from bench.model.key_names import Action
from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.plan.records import Ask
from bench.session import drive
from bench.session.bursts import BurstView
from bench.session.events import CupRead, Held, StepDone, VerdictGiven, WentBack
from bench.session.prepare import prepare
from bench.session.retime import Coming
from bench.session.session import Session
from bench.session.step import Ending
from bench.session.verdicts import Subject, Verdict
from bench.session.view import view
from bench.session.warmth import anchored, with_mould
from bench.tui import present
from bench.tui.pour.entry import Leaving
from bench.tui.pour.frame import frame
from bench.tui.pour.gauges import Gauge, gauges
from bench.tui.pour.keys import Keyboard, Press, key_for
from bench.tui.pour.picture import Around, Picture, _later, _meanwhile, _when, picture
from bench.tui.saved import SavedState
from tests.session.bench_sessions import placed
from tests.tui.at_the_bench import at, at_kind, at_step, session_of, shelf, walk
from tests.tui.pour.pictures import METRIC, SCENES, US
from tests.tui.pour.shown import texts_of, whole_text


def scene(name: str) -> Picture:
    session, now, around = SCENES[name]()
    return picture(session, at(now), around)


def gauge(shown: Picture, name: str) -> str:
    return next(f"{gauge.value} {gauge.words}".strip() for gauge in shown.gauges if gauge.name == name)


def test_the_top_line_says_round_recipe_mould_and_time() -> None:
    shown = scene("set")
    assert shown.heading == "Round 1 of 3 · Ember under Peat · Ribbon leech, four cavities"
    assert shown.corner[2] == ":"


def test_a_rehearsal_is_marked_and_waiting_events_are_counted() -> None:
    shown = scene("unsaved")
    assert shown.corner.startswith("REHEARSAL ×60  ")
    assert any("3 entries wait in memory" in notice for notice in shown.notices)


def test_before_the_start_the_screen_says_how_much_and_how_long() -> None:
    shown = scene("start")
    assert shown.middle.large == "READY TO START"
    assert shown.middle.details[0].startswith("8 baits in 3 rounds, about ")
    assert shown.hints[0].does == "start"


def too_dense() -> Session:
    """The demo with ten times the colour in its shell, idle."""
    recipe = shelf().recipe("ember-under-peat")
    shell = recipe.parts[Part.SHELL]
    doses = tuple(replace(dose, load_pct=min(20.0, 10 * dose.load_pct)) for dose in shell.doses)
    dense = replace(recipe, parts={**recipe.parts, Part.SHELL: replace(shell, doses=doses)})
    library = replace(shelf(), recipes={**shelf().recipes, recipe.name: dense})
    return prepare(library, recipe=recipe.name, mould="ribbon-leech-4", ask=Ask(count=8))


def test_before_the_start_a_shell_that_will_hide_its_core_is_warned_of() -> None:
    """Before anything is weighed into a cup, which cannot be undone."""
    session = too_dense()
    (warning,) = (each for each in session.job.plan.warnings if "the core will hide" in each)
    assert picture(session, at(0), METRIC).notices == (warning,)
    rows = frame(picture(session, at(0), METRIC), 80, 24).rows
    assert "the core will hide" in " ".join(texts_of(rows))
    assert scene("start").notices == ()


def test_a_step_that_ends_by_clock_counts_down_and_then_up() -> None:
    session, now = at_step("r1.shell.set")
    length = session.step.length_s
    began = session.ended("r1.shell.shot")
    assert began is not None
    shot_at = began.elapsed_s - at(0).elapsed_s
    assert picture(session, at(shot_at + length - 65), METRIC).middle.large == "1:05"
    late = picture(session, at(shot_at + length + 12), METRIC).middle
    assert late.large == "+0:12"
    assert late.label == "over"
    assert now > shot_at


def test_a_step_by_hand_shows_what_to_do_and_the_pace_small() -> None:
    shown = scene("shot")
    assert shown.middle.is_title
    assert shown.middle.large == "SHELL SHOT"
    assert shown.middle.label == "about 12 s of work, 0:12 left"
    assert "top-off included" in shown.middle.details[0]


def test_a_doubted_figure_is_guessed_at_in_the_unit_it_was_typed_in() -> None:
    """170 in a field for degF is 76.7 degC; in one for degC it would be no slip of that kind."""
    session, now = at_step("r1.shell.shot")
    doubted = session.after(drive.reading(session, (170 - 32) / 1.8, at(now)))
    assert doubted.doubted is not None
    meant = drive.accept_suggestion(doubted, at(now), UnitSystem.US)
    assert isinstance(meant, CupRead)
    assert meant.temp_c == pytest.approx(170.0)
    words = " ".join(picture(doubted, at(now), US).middle.details)
    assert present.temperature(meant.temp_c, UnitSystem.US) in words


def test_a_weighing_says_what_to_weigh_in_the_makers_units_and_the_heat_what_to_set() -> None:
    session, now = at_kind(StepKind.WEIGH)
    shown = picture(session, at(now), US).middle
    assert shown.details[0].startswith("weigh ")
    assert shown.details[0].endswith("oz of plastic")
    assert any("Peat brown" in row and " g " in row for row in shown.details)
    session, now = at_kind(StepKind.HEAT_ON)
    assert [row.startswith("set the timer to ") for row in picture(session, at(now), US).middle.details] == [True]
    assert scene("heat").middle.details[-1] == "until it reads 329 to 347 °F: type the figure, Enter"


def test_a_reheat_has_nothing_to_weigh() -> None:
    session, now = at_step("r2.heat.shell")
    assert not any(row.startswith("weigh") for row in picture(session, at(now), METRIC).middle.details)


def test_a_cup_over_its_band_gets_no_more_heat() -> None:
    session, now = at_step("r1.heat.shell")
    hot = session.after(CupRead(at=at(now + 60), part=Part.SHELL, temp_c=182.0))
    shown = picture(hot, at(now + 61), METRIC)
    assert shown.middle.details[0] == "over the band: no more heat, let it cool"
    assert "over the band" in gauge(shown, "shell cup")


def test_the_tails_say_what_each_choice_costs() -> None:
    shown = scene("tails")
    assert shown.middle.details[0].startswith("4 of 4 tails cut: ")
    assert shown.middle.details[0].endswith(" of shell comes off")
    assert shown.middle.details[1].startswith("core cup holds ")
    assert shown.middle.details[1].endswith(": enough")
    assert "Ember red, Chalk white" in shown.middle.details[2]
    assert any(hint.key == "0–4" for hint in shown.hints)


def test_keeping_every_tail_says_so() -> None:
    session, now = at_kind(StepKind.TRIM)
    kept = drive.tails(session, 0, at(now))
    assert kept is not None
    shown = picture(session.after(kept), at(now), METRIC)
    assert shown.middle.details[0] == "0 of 4 tails cut: all kept"


def test_a_given_verdict_is_marked_by_a_sign() -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    given = VerdictGiven(at=at(now), round=1, subject=Subject.SHELLS, verdict=Verdict.TOO_FAINT)
    shown = picture(session.after(given), at(now), METRIC)
    assert [choice for choice in shown.middle.choices if "•" in choice] == ["3 • too faint"]


def test_the_strip_says_where_each_figure_comes_from() -> None:
    session, now = at_step("r1.shell.shot")
    shown = picture(session, at(now), METRIC)
    assert gauge(shown, "core cup") == "cold"
    assert "read " in gauge(shown, "shell cup") or "estimate" in gauge(shown, "shell cup")
    assert gauge(scene("set"), "mould").startswith("48 °C")


def test_shells_out_of_the_mould_are_timed_against_their_limit() -> None:
    session, now = at_step("r1.core.shot")
    opened = session.ended("r1.shell.open")
    assert opened is not None
    out_at = opened.elapsed_s - at(0).elapsed_s
    limit = session.job.station.shell_out_s
    assert gauge(picture(session, at(out_at + 65), METRIC), "shells out") == "1:05 of 10:00"
    late = out_at + limit + 5
    assert gauge(picture(session, at(late), METRIC), "shells out") == "10:05 too long: they may peel", "cold cup"
    hot = placed(session, at(late), cup_c=172.0)
    assert gauge(picture(hot, at(late), METRIC), "shells out") == "10:05 too long: fill them now"
    assert now >= out_at


def test_a_doubted_reading_says_what_was_expected() -> None:
    shown = scene("doubt")
    assert shown.middle.large == "READ AGAIN"
    assert any(row.startswith("320 °C was typed for the shell cup; about ") for row in shown.middle.details)


def test_what_was_predicted_stands_beside_the_verdicts_on_shells() -> None:
    session, now = at_step("r1.look-at-shells")
    samples = picture(session, at(now), METRIC).middle.samples
    assert [sample.words for sample in samples] == ["shell alone", "over the core"]
    predicted = {look.view.value: look.hex for look in session.job.looks}
    assert [sample.hex for sample in samples] == [predicted["shell alone"], predicted["over the core"]]


def test_where_nothing_is_looked_at_no_colour_is_shown() -> None:
    session, now = at_step("r1.shell.set")
    assert picture(session, at(now), METRIC).middle.samples == ()


def test_a_hold_says_that_the_plastic_goes_on() -> None:
    session, now = at_step("r1.shell.set")
    shown = picture(session.after(Held(at=at(now))), at(now + 10), METRIC)
    assert shown.middle.large == "HELD"
    assert "The plastic does not wait" in shown.middle.label
    assert shown.hints[0].does == "go on"


def test_a_step_come_back_to_says_so() -> None:
    session, now = at_step("r1.shell.hold")
    back = session.after(StepDone(at=at(now), step=session.step.id, by=Ending.HAND)).after(WentBack(at=at(now)))
    assert picture(back, at(now), METRIC).middle.label.startswith("You came back: Space goes on.")


def test_a_reminder_takes_the_place_of_the_cautions() -> None:
    session, now = at_step("r1.shell.set")
    shown = picture(session, at(now + 3600), METRIC)
    assert shown.reminder.startswith("Look at the fan")
    assert shown.hints[0].key == "A"


def test_calm_lines_about_time_and_keys() -> None:
    session, now = at_step("r1.shell.set")
    moved = replace(at(now + 5), wall=at(now).wall + timedelta(hours=1))
    assert any("wall clock was moved" in line for line in picture(session, moved, METRIC).notices)
    restarted = replace(at(now + 5), boot="another")
    assert any("estimates" in line for line in picture(session, restarted, METRIC).notices)
    elsewhere = Around(units=UnitSystem.METRIC, has_keys=False, saved=SavedState())
    assert picture(session, at(now), elsewhere).notices == ("KEYS GO TO ANOTHER WINDOW. Click on this one.",)


def test_leaving_says_what_stays() -> None:
    session, now = at_step("r1.shell.set")
    shown = picture(session, at(now), Around(units=UnitSystem.METRIC, entry=Leaving()))
    assert "kept" in shown.middle.label
    assert shown.middle.details == ("Leave nothing hot alone: heat off first.",)


def test_us_units_all_over() -> None:
    session, now = at_step("r1.core.shot")
    shown = picture(session, at(now), US)
    assert "fl oz" in shown.middle.details[0]
    assert "°F" in gauge(shown, "mould")
    assert session_of().job.plan.recipe_title in shown.heading


@pytest.mark.parametrize(
    ("spent_pct", "says"),
    [(9.9, ""), (10.0, "10 % of its heat life used"), (131.0, "over 100 % of its heat life used")],
)
def test_the_strip_says_what_heat_has_used_up_once_it_matters(spent_pct: float, says: str) -> None:
    session, now = at_step("r1.shell.set")
    seen = view(session, at(now))
    worn = replace(seen, cups=tuple(replace(cup, spent_pct=spent_pct) for cup in seen.cups))
    words = next(each.words for each in gauges(session, worn, at(now), METRIC.units) if each.name == "shell cup")
    assert ("heat life" in words) == bool(says)
    assert words.endswith(says)


def test_the_cup_is_not_called_heating_beside_a_heater_that_is_off() -> None:
    session, now = at_step("r1.heat.shell")
    said = set()
    for second in range(120):
        shown = picture(session, at(now + second), METRIC)
        words, told = gauge(shown, "shell cup"), shown.middle.details[0]
        assert ("heating" in words) == ("heater is on" in told), (words, told)
        assert ("heater off" in words) == ("heater off" in told or "start it" in told), (words, told)
        said.add("heater off" in told)
    assert said == {True, False}


@pytest.mark.parametrize("spent_pct", [87.0, 131.0])
def test_what_is_spent_is_whole_in_the_narrowest_usual_window(spent_pct: float) -> None:
    """80 columns; with names and figures as wide as they come beside it."""
    wide = (Gauge(name="shells out, 12", value="10:05"), Gauge(name="trays", value="120 curing"))
    for session, now in walk(session_of(count=8)):
        if session.state.over or not session.cups:
            continue
        seen = view(session, at(now + 300))
        worn = replace(seen, cups=tuple(replace(cup, spent_pct=spent_pct) for cup in seen.cups))
        cups = tuple(each for each in gauges(session, worn, at(now + 300), METRIC.units) if each.brief)
        shown = replace(picture(session, at(now + 300), METRIC), gauges=(*cups, *wide), sheet=None)
        text = whole_text(frame(shown, 80, 60).rows)
        for each in cups:
            whole = [each.words, *(" · ".join(each.brief[:count]) for count in range(2, len(each.brief) + 1))]
            assert any(f"{words}\n" in text.replace("  \n", "\n") for words in whole), (session.step.id, each)


def test_a_reminder_stands_beside_the_caution_of_the_moment() -> None:
    shown = replace(scene("heat"), reminder="Look at the fan.", cautions=("Never leave the heat alone.",))
    rows = texts_of(frame(shown, 80, 24).rows)
    assert any("Look at the fan." in row for row in rows)
    assert any("Never leave the heat alone." in row for row in rows)


def test_every_sentence_names_the_chosen_keys() -> None:
    """Every key moved elsewhere: no usual one is named anywhere, and no mark is left."""
    moved = {action: (f"f{number}",) for number, action in enumerate(Action, start=1)}
    around = replace(METRIC, keyboard=Keyboard(moved), line=f"press {key_for(Press.ACKNOWLEDGE)}")
    session, now = at_kind(StepKind.HEAT)
    burnt = session.after(drive.reading(session, 300.0, at(now)))
    for there, then in ((session_of(), 0.0), (session, now), (burnt, now), *walk(session_of())):
        if there.state.over:
            continue
        shown = picture(there, at(then), around)
        assert shown.notices[-1] == "press F4"
        assert "<key:" not in repr(shown)
        assert {hint.key for hint in shown.hints} & set("BPATMCYLSXNQ?") == set()
        assert not re.search(r"\b(Space|press [A-Z]\b|(?<!°)[A-Z] takes|(?<!°)[A-Z]: )", repr(shown))


def test_steps_after_the_next_stand_with_when_they_come_as_far_as_they_fit() -> None:
    session, now = at_step("r1.core.set")
    shown = picture(session, at(now), METRIC)
    assert shown.then not in shown.later[0]
    assert all(" in " in each for each in shown.later)
    assert [row for row in rows_of(shown, 120, 40) if row.strip().startswith("later  ")]
    narrow = next(row for row in rows_of(shown, 60, 60) if row.strip().startswith("later  "))
    assert narrow.strip() == f"later  {shown.later[0]}"


def test_work_that_can_be_begun_while_a_clock_runs_is_said_first() -> None:
    session, now = at_step("r1.core.set")
    seen = view(session, at(now))
    rods = next(step for step in session.job.script if step.kind is StepKind.RODS_IN)
    assert _meanwhile(replace(seen, start_now=rods)).startswith("Oil and seat the rods. ")
    assert _meanwhile(replace(seen, start_now=None)) == seen.step.meanwhile


def test_a_burst_that_runs_by_itself_is_counted_in_the_strip_and_called_over() -> None:
    session, now = at_step("r1.core.set")
    seen = view(session, at(now))
    burst = BurstView(number=1, of=1, heating=True, left_s=31.0, next_burst_s=None)

    def words(over_s: float) -> str:
        cups = tuple(replace(cup, burst=burst, burst_over_s=over_s) for cup in seen.cups)
        strip = gauges(session, replace(seen, cups=cups), at(now), METRIC.units)
        return next(each.words for each in strip if each.name == "core cup")

    assert words(0.0).startswith("burst, 0:31 left")
    assert words(75.0).startswith("burst over 1:15: stir, read")


@pytest.mark.parametrize(("behind_s", "says"), [(None, ""), (40.0, ""), (190.0, "3 min behind"), (-300.0, "")])
def test_the_strip_says_when_the_last_bait_is_out_and_how_late_that_is(behind_s: float | None, says: str) -> None:
    session, now = at_step("r1.core.set")
    seen = replace(view(session, at(now)), last_bait_s=1800.0, behind_s=behind_s)
    end = next(each for each in gauges(session, seen, at(now), METRIC.units) if each.name == "last bait")
    assert end.value == f"{at(now + 1800).wall:%H:%M}"
    assert end.words == says


def rows_of(shown: Picture, width: int, height: int) -> list[str]:
    return [text.rstrip() for text in texts_of(frame(shown, width, height).rows)]


def test_a_step_whose_clock_is_long_over_says_how_late_it_is() -> None:
    step = at_step("r1.shell.shot")[0].step
    times = ((28.0, 7080.0), (0.0, 5.0), (28.0, 0.0))
    coming = [Coming(step=step, in_s=in_s, late_s=late_s) for in_s, late_s in times]
    assert [_when(each) for each in coming] == ["1 h 58 min late", "", "in 28 s"]


def test_what_follows_at_once_is_not_called_now_before_it_is() -> None:
    session, now = at_step("r1.shell.shot")
    seen = view(session, at(now))
    after = replace(session.job.script[-1], title="Shell A cup on the heat")
    assert list(_later(replace(seen, coming=(Coming(step=after, in_s=0.0),)))) == ["Shell A cup on the heat"]


def test_how_late_a_step_is_stands_apart_from_the_number_of_its_mould() -> None:
    session, now = at_step("r1.shell.shot")
    seen = view(session, at(now))
    after = session.job.script[-1]
    late = Coming(step=replace(after, title="Open mould 2"), in_s=10.0, late_s=120.0)
    assert list(_later(replace(seen, coming=(late,)))) == ["Open mould 2, 2 min late"]


def test_the_strip_says_that_the_time_in_the_band_is_left() -> None:
    session, now = at_step("r1.shell.shot")
    assert re.search(r"in band, \d+:\d\d left", gauge(picture(session, at(now), METRIC), "shell cup"))


@pytest.mark.parametrize(
    ("under_k", "words"), [(-0.2, "ready"), (0.1, "ready"), (0.7, "just under"), (1.2, "cold")]
)
def test_a_mould_a_little_under_its_window_is_not_called_ready_beside_a_lesser_figure(
    under_k: float, words: str
) -> None:
    session, now = at_step("r1.shell.shot")
    low_c = session.job.mould.warm_c[0]
    placed = with_mould(
        anchored(session, at(now)), 1, replace(session.moulds[1], temp_c=low_c - under_k, at=at(now), read_off_k=0)
    )
    shown = next(
        each for each in gauges(placed, view(placed, at(now)), at(now), UnitSystem.US) if each.name == "mould"
    )
    assert shown.words.startswith(words)
