from __future__ import annotations

import re
from dataclasses import replace

import pytest

from bench.model.key_names import Action
from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session.asking import Asked, asks_first
from bench.session.events import CupRead, Held
from bench.session.step import HEATING
from bench.tui import present
from bench.tui.pour.brief_words import in_brief
from bench.tui.pour.entry import Figure, Sure
from bench.tui.pour.frame import Frame, frame
from bench.tui.pour.keys import Keyboard
from bench.tui.pour.picture import Around, Picture, picture
from bench.tui.saved import unsaved_line
from bench.tui.widgets.lines import Tone, width_of
from tests.session.bench_sessions import placed
from tests.tui.at_the_bench import at, at_kind, at_step, session_of, walk
from tests.tui.pour.pictures import METRIC, SCENES
from tests.tui.pour.shown import texts_of, whole_text

BUILDS = ("peat-plain", "dusk-and-dawn", "ember-under-peat", "ember-between-banks")


def text_of(framed: Frame) -> str:
    return whole_text(framed.rows)


def words_of(framed: Frame) -> str:
    return " ".join(text_of(framed).split())


@pytest.mark.parametrize("name", SCENES)
def test_every_size_is_filled_exactly(name: str) -> None:
    session, now, around = SCENES[name]()
    shown = picture(session, at(now), around)
    for width in (*range(0, 50), 79, 80, 81, 120, 200, 300):
        for height in (*range(0, 16), 24, 40, 100):
            rows = frame(shown, width, height).rows
            assert len(rows) == (height if width else 0)
            assert all(width_of(row) <= width for row in rows)


@pytest.mark.parametrize("recipe", BUILDS)
def test_forty_by_twelve_shows_title_countdown_and_next_at_every_step(recipe: str) -> None:
    for session, now in walk(session_of(recipe)):
        if session.state.over:
            continue
        shown = picture(session, at(now), METRIC)
        framed = frame(shown, 40, 12)
        if shown.sheet is None:
            assert _says(framed, shown.title), session.step.id
            assert _says(framed, shown.middle.large), session.step.id
            assert f"then {shown.then}"[:30] in words_of(framed), session.step.id
            assert _caution_is_whole(shown, framed), session.step.id
        assert shown.hints[0].key in "".join(text_of(framed).splitlines()[-2:])


WARNED = (
    "shell cup is 6 °C under its band: heat it again before the shot",
    "mould reads 62 °C, over its warm window: let it cool",
)
REMINDED = "Fan on, air drawn away from you: look that it still runs."


@pytest.mark.parametrize("recipe", BUILDS)
def test_a_reminder_and_warnings_together_hide_neither_countdown_nor_what_to_do(recipe: str) -> None:
    for session, now in walk(session_of(recipe)):
        shown = picture(session, at(now), METRIC)
        if session.state.over or shown.sheet is not None:
            continue
        framed = frame(replace(shown, reminder=REMINDED, notices=WARNED), 40, 12)
        words = words_of(framed)
        assert _says(framed, shown.middle.large), session.step.id
        assert in_brief(shown).do[:24] in words, session.step.id
        leading = (shown.middle.choices or in_brief(shown).middle.details)[:1] if shown.middle.leads else ()
        assert all(text.split()[0] in words for text in leading), session.step.id
        assert shown.middle.choices or f"then {shown.then}"[:30] in words, session.step.id
        assert WARNED[0] in words, session.step.id
        assert REMINDED[:25] in words, session.step.id
        assert REMINDED in words or "…" in text_of(framed), "what is cut is marked"


@pytest.mark.parametrize("recipe", BUILDS)
def test_a_question_is_drawn_large_with_its_reason_whatever_else_is_to_be_said(recipe: str) -> None:
    asked = 0
    for session, now in walk(session_of(recipe)):
        why = None if session.state.over else asks_first(session, at(now))
        if why is None:
            continue
        asked += 1
        around = replace(METRIC, entry=Sure(why=why, step=session.step.id, asked=at(now)))
        for warned in ((), WARNED[:1], WARNED):
            shown = replace(picture(session, at(now), around), notices=warned)
            framed = frame(shown, 40, 12)
            assert "GO ON?" not in text_of(framed), f"{session.step.id}: in small letters"
            assert _says(framed, "GO ON?"), session.step.id
            assert shown.middle.details[0].rstrip(".")[:30] in words_of(framed), session.step.id
            assert shown.title in words_of(framed)
            assert not warned or warned[0][:30] in words_of(framed)
            assert (
                any(piece.tone in (Tone.CAUTION, Tone.REMIND) for row in framed.rows for piece in row)
                or not shown.cautions
            )
    assert asked > 3


def test_a_warned_shot_says_what_to_do_and_how_much() -> None:
    session, now = at_kind(StepKind.SHOT)
    shown = replace(picture(session, at(now), METRIC), notices=WARNED[:1])
    words, brief = words_of(frame(shown, 40, 12)), in_brief(shown)
    assert brief.do in words
    assert brief.middle.details[0] in words


@pytest.mark.parametrize("width", range(34, 44))
def test_what_is_cut_is_marked_however_full_its_row_is(width: int) -> None:
    session, now = at_kind(StepKind.HEAT)
    long = "The cup was not read since it was last heated, and by the estimate it is not in its band."
    shown = replace(picture(session, at(now), METRIC), notices=(long,))
    text = text_of(frame(shown, width, 10))
    assert long in " ".join(text.split()) or any(row.rstrip().endswith("…") for row in text.splitlines()[1:3])


def _says(framed: Frame, text: str) -> bool:
    """Whether the text stands there, in letters or drawn in blocks."""
    return text in text_of(framed) or any(
        "█" in piece.text and piece.tone in (Tone.TITLE, Tone.COUNT, Tone.LATE)
        for row in framed.rows
        for piece in row
    )


def _caution_is_whole(shown: Picture, framed: Frame) -> bool:
    brief = dict(shown.brief)
    shown_words = [shown.reminder] if shown.reminder else list(shown.cautions)
    shown_words += [brief.get(each, each) for each in shown_words]
    return not shown_words or any(words in words_of(framed) for words in shown_words)


@pytest.mark.parametrize("recipe", BUILDS)
def test_every_opening_card_is_whole_from_forty_by_twelve_up(recipe: str) -> None:
    for session, now in walk(session_of(recipe)):
        shown = picture(session, at(now), METRIC) if not session.state.over else None
        if shown is not None and shown.sheet is not None:
            for size in ((40, 12), (80, 24), (300, 100)):
                framed = frame(shown, *size)
                assert framed.is_whole
                assert all(caution.words in words_of(framed) for caution in shown.sheet.cautions)


def test_a_card_that_does_not_fit_says_so() -> None:
    session, now, around = SCENES["card"]()
    framed = frame(picture(session, at(now), around), 30, 6)
    assert not framed.is_whole
    assert "window larger" in text_of(framed)


def test_the_alarm_fills_the_middle() -> None:
    session, now, around = SCENES["alarm"]()
    for size in ((40, 12), (80, 24), (200, 60)):
        framed = frame(picture(session, at(now), around), *size)
        filled = [row for row in framed.rows if row and row[0].tone is Tone.ALARM]
        assert len(filled) >= size[1] - 3
        assert "212 °C" in words_of(framed)
        assert "Off the heat." in words_of(framed)


def test_the_alarm_leaves_room_for_what_is_asked() -> None:
    session, now, _ = SCENES["alarm"]()
    around = Around(units=UnitSystem.METRIC, entry=SCENES["stopping"]()[2].entry)
    assert "5 danger: left at once" in words_of(frame(picture(session, at(now), around), 80, 24))


def test_more_room_shows_larger_digits() -> None:
    session, now, around = SCENES["set"]()
    shown = picture(session, at(now), around)
    heights = [
        sum(1 for row in frame(shown, *size).rows if any(piece.tone is Tone.COUNT for piece in row))
        for size in ((20, 8), (40, 12), (80, 24), (120, 40), (300, 100))
    ]
    assert heights == sorted(set(heights))


def test_a_saving_problem_stands_on_its_own_line_until_it_is_gone() -> None:
    session, now, around = SCENES["unsaved"]()
    wanted = unsaved_line(around.saved)
    assert wanted in words_of(frame(picture(session, at(now), around), 80, 24))
    assert "Not saved" not in words_of(frame(picture(session, at(now), METRIC), 80, 24))


def test_all_cautions_of_a_step_take_their_turn_where_only_one_fits() -> None:
    session, now, around = SCENES["heat"]()
    seen: set[str] = set()
    for place in range(12):
        shown = picture(session, at(now + place * present.TURN_S), around)
        seen |= {words for words in shown.cautions if words in words_of(frame(shown, 80, 24))}
    assert seen == set(shown.cautions)


def test_where_all_cautions_fit_they_stand_still() -> None:
    session, now, around = SCENES["heat"]()
    cautions = [
        [
            row
            for row in frame(picture(session, at(now + second), around), 200, 60).rows
            if row and _is_caution(row)
        ]
        for second in (0.0, 9.0, 17.0)
    ]
    assert cautions[0] == cautions[1] == cautions[2]
    assert len(cautions[0]) == len(picture(session, at(now), around).cautions)


def _is_caution(row: object) -> bool:
    return isinstance(row, tuple) and any(piece.tone is Tone.CAUTION for piece in row)


def test_nothing_is_told_by_tone_alone() -> None:
    """Late, reminders, alarm and choices carry a sign or a word of their own."""
    session, now, around = SCENES["doubt"]()
    assert "READ AGAIN" in picture(session, at(now), around).middle.large
    kinds = {there.step.kind for there, _ in walk(session_of())}
    assert StepKind.SET in kinds
    for there, then in walk(session_of()):
        if there.state.over:
            continue
        shown = picture(there, at(then), METRIC)
        if shown.middle.tone is Tone.LATE:
            assert shown.middle.large.startswith("+")


@pytest.mark.parametrize("recipe", BUILDS)
def test_eighty_by_twenty_four_shows_every_key_and_the_cup_that_is_heated(recipe: str) -> None:
    """At each step, at once and while its clock runs."""
    heated = 0
    for session, now in walk(session_of(recipe)):
        for later_s in (0.0, 40.0):
            shown = None if session.state.over else picture(session, at(now + later_s), METRIC)
            if shown is None or shown.sheet is not None:
                continue
            rows = texts_of(frame(shown, 80, 24).rows)
            for hint in shown.hints:
                assert any(f"{hint.key} {hint.does}" in row for row in rows[-2:]), (session.step.id, hint)
            if session.step.kind in HEATING and session.step.parts:
                own = f"{session.step.parts[0].words} cup"
                assert any(row.strip().startswith(f"{own}  ") for row in rows), session.step.id
                assert shown.gauges[0].name == own, session.step.id
                heated += 1
    assert heated


@pytest.mark.parametrize("name", ["heat", "set", "look", "tails", "unsaved"])
def test_stopping_help_and_leaving_stay_in_the_footer_where_one_row_is_left(name: str) -> None:
    session, now, around = SCENES[name]()
    shown = picture(session, at(now), around)
    for size in ((66, 14), (80, 16)):
        rows = texts_of(frame(shown, *size).rows)
        for key in (f"{shown.hints[0].key} {shown.hints[0].does}", "X stop early", "? help", "Q leave"):
            assert any(key in row for row in rows[-2:]), (size, key)


def test_a_pedals_key_is_named_where_it_costs_no_row_and_no_other_key() -> None:
    taught = Keyboard({Action.FORWARD: ("space", "enter", "pagedown", "f9")})
    session, now = at_kind(StepKind.RODS_IN)
    usual = picture(session, at(now), Around(units=UnitSystem.METRIC))
    own = picture(session, at(now), Around(units=UnitSystem.METRIC, keyboard=taught))
    named = 0
    for width in range(20, 140):
        for height in (12, 24, 40):
            before, after = text_of(frame(usual, width, height)), text_of(frame(own, width, height))
            assert after.replace("Space / F9 done", "Space done").split() == before.split()
            named += "Space / F9 done" in after
    assert 0 < named < 120 * 3


def at_forty_by_twelve(name: str, **around: object) -> str:
    session, now, usual = SCENES[name]()
    return words_of(frame(picture(session, at(now), replace(usual, **around)), 40, 12))  # type: ignore[arg-type]


def test_the_smallest_window_shows_over_the_alarm_what_is_typed_and_what_every_digit_means() -> None:
    _, now, _ = SCENES["alarm"]()
    typed = Figure(about=CupRead(at=at(now), part=Part.SHELL, temp_c=0.0), typed="16")
    figure = at_forty_by_twelve("alarm", entry=typed)
    assert "16_ Shell cup, in °C." in figure
    reasons = at_forty_by_twelve("alarm", entry=SCENES["stopping"]()[2].entry)
    assert "1 enough made" in reasons
    assert "5 danger: left at once" in reasons
    for words in (figure, reasons):
        assert "STOP" in words
        assert "leave it and leave the room." in words
        assert "Do not carry a smoking cup. No water." in words


def test_the_alarm_and_a_card_name_their_key_once() -> None:
    for name, does in (("alarm", "I have read this"), ("card", "I have read it")):
        for size in ((40, 12), (80, 24), (300, 12), (300, 100)):
            session, now, around = SCENES[name]()
            assert words_of(frame(picture(session, at(now), around), *size)).count(f"A {does}") == 1


def test_the_keys_of_a_card_take_two_rows_only_where_it_stays_whole() -> None:
    session, now, around = SCENES["card"]()
    shown = picture(session, at(now), around)
    for height in range(8, 30):
        framed = frame(shown, 40, height)
        rows = text_of(framed).splitlines()[-2:]
        assert framed.is_whole
        assert "A I have read it" in "".join(rows)
        assert ("stop early" in rows[-1]) == (height >= 9)


def test_what_a_hold_means_is_said_in_the_smallest_window() -> None:
    session, now = at_step("r1.core.set")
    held = session.after(Held(at=at(now)))
    words = words_of(frame(picture(held, at(now + 5), METRIC), 40, 12))
    assert "The plastic does not wait." in words


def test_a_sentence_is_cut_between_words() -> None:
    session, now = at_kind(StepKind.HEAT)
    for width in range(30, 80):
        shown = picture(session, at(now), METRIC)
        for row in text_of(frame(shown, width, 12)).splitlines():
            if shown.do[:20] in row and "…" in row:
                said = row.rstrip().removesuffix("…").strip()
                assert shown.do.startswith(said)
                assert shown.do[len(said)] in " ,", (width, row)


@pytest.mark.parametrize("kind", [StepKind.LAY_OUT, StepKind.READY, StepKind.PURGE_AIR])
def test_forty_by_twelve_says_the_whole_of_what_to_do_before_how_long_it_takes(kind: StepKind) -> None:
    session, now = at_kind(kind)
    shown = picture(session, at(now), METRIC)
    said = words_of(frame(shown, 40, 12))
    assert shown.do in said
    assert all(words in said for words in (shown.middle.brief or shown.middle.details)[:1])
    assert bool(shown.middle.details) == (kind is not StepKind.PURGE_AIR)


def test_a_figure_that_is_typed_is_named_beside_a_warning_and_a_reminder_too() -> None:
    session, now, around = SCENES["typing"]()
    shown = replace(picture(session, at(now), around), notices=WARNED[:1], reminder="Look at the fan.")
    words = words_of(frame(shown, 40, 12))
    assert "Shell cup, in °F." in words
    assert WARNED[0][:30] in words
    assert "Look at the fan." in words


def test_forty_by_twelve_shows_every_key_that_answers_a_question() -> None:
    session, now = at_step("r1.heat.shell")
    around = replace(METRIC, entry=Sure(why=Asked.UNREAD, step=session.step.id, asked=at(now)))
    shown = picture(session, at(now + 20), around)
    keys = text_of(frame(shown, 40, 12)).splitlines()[-2:]
    for hint in shown.hints:
        assert f"{hint.key} {hint.does}" in " ".join(keys)


def test_forty_by_twelve_keeps_the_temperature_of_the_cup_on_the_heat() -> None:
    session, now = at_step("r1.heat.shell")
    shown = picture(session, at(now + 20), METRIC)
    assert shown.gauges[0].name == "shell cup"
    assert f"shell cup  {shown.gauges[0].value}" in text_of(frame(shown, 40, 12))


@pytest.mark.parametrize("scene", ["cooling", "weigh-anew"])
def test_forty_by_twelve_says_where_a_scorched_cup_stays(scene: str) -> None:
    session, now, around = SCENES[scene]()
    said = words_of(frame(picture(session, at(now), around), 40, 12))
    assert "eave the" in said
    assert "until it is cold" in said


STOPPABLE = (
    StepKind.WARM_MOULD,
    StepKind.HEAT_ON,
    StepKind.HEAT,
    StepKind.SHOT,
    StepKind.SET,
    StepKind.LOOK_AT_SHELLS,
    StepKind.TRIM,
    StepKind.PURGE_AIR,
)


@pytest.mark.parametrize("kind", STOPPABLE)
def test_the_key_that_stops_stands_in_the_smallest_window_held_or_not(kind: StepKind) -> None:
    session, now = at_kind(kind)
    held = session.after(Held(at=at(now + 2)))
    for shown in (session, held):
        said = words_of(frame(picture(shown, at(now + 5), METRIC), 40, 12))
        assert "X stop" in said, shown.state
        assert "Space" in said
    wide = words_of(frame(picture(session, at(now + 5), METRIC), 80, 24))
    assert "X stop early" in wide


@pytest.mark.parametrize("units", UnitSystem)
@pytest.mark.parametrize("kind", [StepKind.READY, StepKind.WARM_MOULD])
@pytest.mark.parametrize(
    ("recipe", "mould"),
    [
        ("ember-under-peat", "ribbon-leech-4"),
        ("ember-between-banks", "marsh-minnow-2"),
        ("dusk-and-dawn", "long-reed-6"),
        ("hoarfrost-reed", "long-reed-6"),
    ],
)
def test_the_first_cups_stand_whole_in_the_smallest_window(
    recipe: str, mould: str, kind: StepKind, units: UnitSystem
) -> None:
    session, now = at_kind(kind, session_of(recipe, mould))
    around = Around(units=units)
    said = words_of(frame(picture(session, at(now + 3), around), 40, 12))
    for plan in session.job.plan.parts:
        melt = plan.melts[0]
        base_g = melt.base_g
        assert (f"{base_g / 28.349523125:.2f} oz" if units is UnitSystem.US else f"{base_g:.1f}") in said
        figures = " + ".join(f"{dose.mass_g:.2f}" for dose in melt.doses)
        assert f"+ {figures} g" in said
    large = words_of(frame(picture(session, at(now + 3), around), 80, 24))
    titles = {dose.title for plan in session.job.plan.parts for dose in plan.melts[0].doses}
    assert all(title in large for title in titles)


def test_while_held_a_look_keeps_what_its_digits_mean_and_the_key_that_goes_on() -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    held = session.after(Held(at=at(now + 5)))
    for width, height in ((80, 24), (40, 12)):
        said = words_of(frame(picture(held, at(now + 9), METRIC), width, height))
        assert "8 could have opened sooner" in said
        assert "P go on" in said


def test_a_scorched_cup_with_a_reminder_due_keeps_the_second_row_of_keys() -> None:
    session, now, around = SCENES["cooling"]()
    said = words_of(frame(picture(session, at(now), around), 80, 24))
    assert "T temperature" in said
    assert "P hold" in said


def test_forty_by_twelve_says_what_to_aim_at() -> None:
    session, now = at_step("r1.heat.shell_b", session_of("ember-between-banks"))
    text = text_of(frame(picture(session, at(now), METRIC), 40, 12))
    assert re.search(r"burst 1 of 2: on for \d:\d\d, stir, read\n", text)
    assert re.search(r"aim at 168 to 175 °C: shot in \d:\d\d\n", text)


def test_the_smallest_window_says_burst_band_gloves_and_every_key_of_an_entry_whole() -> None:
    session, now = at_step("m1.warm-up1.heat.shell")
    text = text_of(frame(picture(session, at(now), METRIC), 40, 12))
    assert re.search(r"burst 1 of \d: on for \d:\d\d, stir, read\n", text)
    assert "until 165 to 175 °C: digits, Enter\n" in text
    entry = Figure(about=CupRead(at=at(now), part=Part.SHELL, temp_c=0.0), typed="17")
    typing = words_of(frame(picture(session, at(now), replace(METRIC, entry=entry)), 40, 12))
    assert "Enter take it B rub out Esc leave" in typing
    session, now = at_step("r1.shell.open")
    opening = words_of(frame(picture(session, at(now), METRIC), 40, 12))
    assert re.search(r"gloves on about \d+ min, then test it", opening)


def test_the_key_that_ends_a_push_or_a_weighing_is_named() -> None:
    for step in ("weigh.shell", "r1.shell.shot", "r1.core.shot"):
        session, now = at_step(step)
        assert picture(session, at(now), METRIC).do.endswith("Then press Space."), step
    own = replace(METRIC, keyboard=Keyboard({Action.FORWARD: ("pagedown", "f9")}))
    assert picture(session, at(now), own).do.endswith("Then press Page Down.")


def test_the_smallest_window_names_every_hot_cup_at_the_cleaning() -> None:
    session, now = at_kind(StepKind.CLEAN)
    hot = placed(session, at(now), cup_c=130.0)
    said = words_of(frame(picture(hot, at(now), METRIC), 40, 12))
    assert re.search(r"core cup 130 °C: hot \d+ min or more", said)
    assert re.search(r"shell cup 130 °C: hot \d+ min or more", said)
    assert "Leave hot cups, and what is in them, until cold. Clean the rest once cold, wipe it dry." in said
