"""In the smallest window every question stands with its whole reason, whatever else there is to say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import pytest

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.session.asking import INSISTED, Asked, asks_first
from bench.session.events import CupRead
from bench.session.reheating import SHOTS
from bench.session.session import Session
from bench.session.warmth import anchored, with_cup
from bench.tui.pour.entry import Entry, Leaving, Mistyped, Sure
from bench.tui.pour.frame import frame
from bench.tui.pour.picture import Around, Picture, picture
from bench.tui.saved import SavedState
from tests.tui.at_the_bench import at, session_of, walk
from tests.tui.pour.pictures import METRIC, US
from tests.tui.pour.test_frame import BUILDS, REMINDED, WARNED, text_of, words_of

LONG = "Weathered copper halo over bog myrtle dusk, second try"
"""A title as long as any that a shelf would hold."""

COLD_C, FIT_C, HOT_C = 150.0, 171.0, 184.0
"""About the demo's band of 165 to 175 °C."""

SMALLEST = (40, 12)


def with_cups(session: Session, now: float, temps_c: tuple[float, ...]) -> Session:
    """The session with the cups of its step at these temperatures, as far as they were heated."""
    known = anchored(session, at(now))
    for part, temp_c in zip(session.step.parts, temps_c, strict=True):
        if part in known.cups:
            known = with_cup(known, part, replace(known.cups[part], temp_c=temp_c, read_off_k=0.0))
    return known


def places(recipe: str) -> Iterator[tuple[Session, float]]:
    """Every step of a session; at a shot with its cups cold, fit and hot in every mixture."""
    for session, now in walk(session_of(recipe, count=4)):
        if session.state.over:
            continue
        named = replace(session.job, plan=replace(session.job.plan, recipe_title=LONG, mould_title=LONG))
        titled = replace(session, job=named)
        yield titled, now
        if session.step.kind in SHOTS:
            for temps_c in product((20.0, COLD_C, FIT_C, HOT_C), repeat=len(session.step.parts)):
                yield with_cups(titled, now, temps_c), now


def is_whole(shown: Picture) -> bool:
    """Whether the reason of the question, and a key that answers it, stand there: alone, and beside a reminder and
    warnings of anything else."""
    reason, key = shown.middle.details[0], shown.hints[0].key
    for reminder, warned in product((shown.reminder, REMINDED), ((), WARNED)):
        framed = frame(replace(shown, reminder=reminder, notices=(*shown.notices, *warned)), *SMALLEST)
        words = words_of(framed)
        # Drawn large: in small letters it stands nowhere.
        if reason not in words or f" {key} " not in f" {words} " or shown.middle.large in words:
            return False
    return True


@pytest.mark.parametrize("recipe", BUILDS)
def test_whatever_the_one_key_asks(recipe: str) -> None:
    real = set()
    for session, now in places(recipe):
        really = asks_first(session, at(now))
        real.add(really)
        for why in Asked:
            # No cup is asked about as cold, hot or solid where it is not: the words would name none.
            if why in (Asked.COLD, Asked.HOT, Asked.SOLID) and why is not really:
                continue
            entry = Sure(why=why, step=session.step.id, asked=at(now))
            shown = picture(session, at(now), replace(US, entry=entry))
            assert is_whole(shown), f"{session.step.id}, {why}:\n{text_of(frame(shown, *SMALLEST))}"
    assert {Asked.COLD, Asked.HOT, Asked.SOLID} <= real


def test_every_key_that_answers_stands_there_too() -> None:
    for session, now in places("ember-between-banks"):
        why = asks_first(session, at(now))
        if why is None or why in INSISTED:
            continue
        shown = picture(
            session, at(now), replace(METRIC, entry=Sure(why=why, step=session.step.id, asked=at(now)))
        )
        words = words_of(frame(shown, *SMALLEST))
        assert all(f"{hint.key} " in words for hint in shown.hints), f"{session.step.id}:\n{words}"


def test_of_two_cold_cups_the_key_says_which_one_it_heats_and_a_solid_one_has_its_name() -> None:
    cups = {"r1.shell.shot": (COLD_C, COLD_C - 4), "r2.shell.shot": (20.0, FIT_C)}
    said = {}
    for session, now in walk(session_of("ember-between-banks", count=4)):
        if not session.state.over and session.step.id in cups:
            cold = with_cups(session, now, cups[session.step.id])
            why = asks_first(cold, at(now))
            assert why is not None
            entry = Sure(why=why, step=session.step.id, asked=at(now))
            said[why] = words_of(frame(picture(cold, at(now), replace(METRIC, entry=entry)), *SMALLEST))
    assert "The shell A and B cups are under their band." in said[Asked.COLD]
    assert "B reheat shell B" in said[Asked.COLD]
    assert "Shell A cup, 20 °C: it is not liquid, it cannot be shot." in said[Asked.SOLID]


@pytest.mark.parametrize("recipe", BUILDS)
@pytest.mark.parametrize("problem", [None, f"{LONG}: no space is left on the device"])
def test_leaving_and_a_reading_that_was_wrong(recipe: str, problem: str | None) -> None:
    around = Around(units=UnitSystem.US, saved=SavedState(events_waiting=12, problem=problem))
    for session, now in places(recipe):
        read = CupRead(at=at(now), part=(session.step.parts or (Part.CORE,))[0], temp_c=312.0)
        entries: tuple[Entry, ...] = (Leaving(), Mistyped(read=read, asked=at(now)))
        for entry in entries:
            shown = picture(session, at(now), replace(around, entry=entry))
            if shown.sheet is None:
                assert is_whole(shown), f"{session.step.id}:\n{text_of(frame(shown, *SMALLEST))}"


@pytest.mark.parametrize("temp_c", [0.0, 77.0, 330.0, 338.0])
def test_a_doubted_reading_says_what_answers_it(temp_c: float) -> None:
    """338 °F is 170 °C: NIST SP 811, appendix B."""
    asked = 0
    for session, now in walk(session_of("ember-under-peat", count=4)):
        if session.state.over or not session.step.parts:
            continue
        read = CupRead(at=at(now), part=session.step.parts[0], temp_c=temp_c)
        doubted = session.after(read) if may_read(session) else session
        shown = picture(doubted, at(now + 1), METRIC)
        if shown.middle.large != "READ AGAIN":
            continue
        asked += 1
        for reminder, warned in product((shown.reminder, REMINDED), ((), WARNED)):
            framed = frame(replace(shown, reminder=reminder, notices=warned), *SMALLEST)
            words = words_of(framed)
            assert all(each in words for each in shown.middle.brief), f"{session.step.id}:\n{text_of(framed)}"
    assert asked > 1


def may_read(session: Session) -> bool:
    return session.step.kind in SHOTS or session.step.heats
