from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import Asked
from bench.session.doubt import Doubt
from bench.session.events import CupRead
from bench.session.readings import Expected
from bench.session.session import Session
from bench.session.view import View, view
from bench.session.warned import BenchWarning, WarningKind
from bench.tui.pour.entry import Mistyped, Nothing, Sure
from bench.tui.pour.heat_words import warning_words
from bench.tui.pour.hints import hints
from bench.tui.pour.keys import USUAL, Press, key_for
from bench.tui.pour.question_words import sure_label
from tests.tui.at_the_bench import at, at_kind, at_step

COLD = BenchWarning(kind=WarningKind.CUP_COLD, value=150.0, limit=165.0, part=Part.SHELL, at_shot=True)


def does(session: Session, seen: View, press: Press) -> str:
    return next((hint.does for hint in hints(session, seen, Nothing()) if hint.key == key_for(press)), "")


def test_at_a_shot_whose_cup_is_too_cold_the_key_back_is_called_what_it_does() -> None:
    session, now = at_kind(StepKind.SHOT)
    seen = view(session, at(now))
    assert does(session, replace(seen, warnings=()), Press.BACK) == "back"
    assert does(session, replace(seen, warnings=(COLD,)), Press.BACK) == "reheat"
    assert does(session, replace(seen, warnings=(replace(COLD, at_shot=False),)), Press.BACK) == "back"
    came_back = replace(seen, warnings=(replace(COLD, came_back=True),))
    assert does(session, came_back, Press.BACK) == "back"
    assert does(session, came_back, Press.YES) == "reheat"


@pytest.mark.parametrize(("came_back", "heats", "stays"), [(False, Press.BACK, "Esc"), (True, Press.YES, "B")])
@pytest.mark.parametrize("why", [Asked.COLD, Asked.SOLID])
def test_the_question_at_a_cold_cup_and_its_warning_give_a_key_one_meaning(
    why: Asked, came_back: bool, heats: Press, stays: str
) -> None:
    session, now = at_kind(StepKind.SHOT)
    cold = replace(COLD, came_back=came_back)
    seen = replace(view(session, at(now)), warnings=(cold,))
    entry = Sure(why=why, step=session.step.id, asked=at(now))
    meanings = {USUAL.words(hint.key): hint.does for hint in hints(session, seen, entry)}
    assert meanings[USUAL.shown(heats)] == "reheat"
    assert meanings[stays] == "stay"
    assert f"{USUAL.shown(heats)} puts it back on the heat" in USUAL.words(warning_words(cold, UnitSystem.METRIC))
    said = USUAL.words(sure_label(entry, seen))
    assert f"{USUAL.shown(heats)}: reheat." in said
    assert f"{stays}: stay." in said


def test_a_reminder_is_read_before_a_question_is_answered() -> None:
    session, now = at_step("r1.heat.shell")
    due = replace(view(session, at(now)), reminders=view(session, at(now)).cautions[:1])
    entry = Sure(why=Asked.UNREAD, step=session.step.id, asked=at(now))
    said = {hint.key: hint.does for hint in hints(session, due, entry)}
    assert said[key_for(Press.ACKNOWLEDGE)] == "I have read it"
    assert "A: read the reminder, then I take it as it is." in USUAL.words(sure_label(entry, due))
    without = {hint.key: hint.does for hint in hints(session, replace(due, reminders=()), entry)}
    assert without[key_for(Press.ACKNOWLEDGE)] == "I take it as it is"


def test_digits_are_called_tails_at_their_own_step_alone() -> None:
    session, now = at_kind(StepKind.TRIM)
    assert ("0–4", "tails cut") in shown_keys(session, now)
    session, now = at_kind(StepKind.SHELLS_BACK)
    assert ("0–9", "reading") in shown_keys(session, now), "of the core cup, whose burst runs by itself"
    assert not any(does == "tails cut" for _, does in shown_keys(session, now))


def shown_keys(session: Session, now: float) -> set[tuple[str, str]]:
    return {(hint.key, hint.does) for hint in hints(session, view(session, at(now)), Nothing())}


def test_a_cup_that_did_not_rise_is_answered_by_yes() -> None:
    session, now = at_kind(StepKind.HEAT)
    seen = view(session, at(now))
    reading = CupRead(at=at(now), part=session.step.parts[0], temp_c=60.0)
    doubt = Doubt(
        reading=reading, expected=Expected(temp_c=100.0, range_c=(80.0, 120.0)), suggestion=None, did_not_rise=True
    )
    assert does(session, replace(seen, doubt=doubt), Press.YES) == "heater was off"
    assert does(session, replace(seen, doubt=replace(doubt, did_not_rise=False)), Press.YES) == ""


def test_a_question_that_the_one_key_never_answers_names_the_keys_that_do() -> None:
    session, now = at_kind(StepKind.HEAT)
    seen = view(session, at(now))
    shown = hints(session, seen, Sure(why=Asked.UNREAD, step=session.step.id, asked=at(now)))
    keys = {hint.key for hint in shown}
    assert key_for(Press.FORWARD) not in keys
    assert {key_for(Press.ACKNOWLEDGE), key_for(Press.TEMPERATURE), key_for(Press.SKIP)} <= keys


def test_after_a_reading_over_the_scorch_limit_the_keys_are_called_what_they_do() -> None:
    session, now = scorched()
    seen = view(session, at(now))
    assert does(session, seen, Press.BACK) == "reading was wrong"
    event = drive.acknowledge(session, at(now))
    assert event is not None
    read = session.after(event)
    assert does(read, view(read, at(now)), Press.FORWARD) == "new cup"
    asked = hints(read, view(read, at(now)), Mistyped(read=session.cup_readings[-1], asked=at(now)))
    assert [hint.does for hint in asked] == ["it was wrong", "it was right"]


def test_the_question_about_a_look_names_the_digits_that_answer_it() -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    seen = view(session, at(now))
    shown = hints(session, seen, Sure(why=Asked.NO_VERDICT, step=session.step.id, asked=at(now)))
    assert [hint.does for hint in shown] == ["go on all the same", "verdict", "stay"]
    assert shown[1].key == "1–8"


def test_a_single_choice_is_no_range() -> None:
    session, now = at_kind(StepKind.LOOK_AT_BAITS)
    seen = view(session, at(now))
    assert len(seen.verdicts_offered) > 1
    for offered, key in ((seen.verdicts_offered[:1], "1"), (seen.verdicts_offered[:2], "1–2")):
        shown = hints(session, replace(seen, verdicts_offered=offered), Nothing())
        assert [hint.key for hint in shown if hint.does == "verdict"] == [key]


def scorched() -> tuple[Session, float]:
    session, now = at_kind(StepKind.HEAT)
    for _ in range(2):
        session = session.after(CupRead(at=at(now), part=session.step.parts[0], temp_c=400.0))
    return session, now
