"""What is said of a cup outside its band, of a burst that is over, of a question and of a doubted reading."""

from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import Asked
from bench.session.session import Session
from bench.session.warmth import anchored, with_cup
from bench.signals.bell import Signal
from bench.signals.phrases import Told, Urgency, tell
from tests.session.bench_sessions import placed
from tests.signals.test_phrases import Listener, listener
from tests.tui.at_the_bench import at, at_kind, at_step, session_of

LAMINATE = ("ember-between-banks", "ribbon-leech-4", 8)


def with_cup_at(session: Session, now: float, part: Part, temp_c: float) -> Session:
    """The session with that cup at that temperature, its band being 165 to 175 °C."""
    known = anchored(session, at(now))
    return with_cup(known, part, replace(known.cups[part], temp_c=temp_c))


def shot_with_one_cold_cup() -> Listener:
    """A reading in the band of the one cup leads to the shot, the other cup being too cold for it."""
    ear = listener(at_step("r1.heat.shell_a.again", session_of(*LAMINATE)), UnitSystem.US)
    ear.listen()
    # 327 °F is 163.9 °C: NIST SP 811, appendix B.
    ear.session = with_cup_at(ear.session, ear.now, Part.SHELL_B, (327 - 32) / 1.8)
    ear.session = ear.session.after(drive.reading(ear.session, 170.0, at(ear.now)))
    return ear


def test_a_cup_under_its_band_is_said_at_its_shot_and_no_word_says_the_opposite() -> None:
    ear = shot_with_one_cold_cup()
    said = ear.listen()
    assert ear.session.step.id == "r1.shell.shot"
    cold = "The shell B cup is under its band, three hundred twenty seven degrees."
    assert said == [f"{cold} Press B to put it back on the heat.", "Shell shot."]
    assert [phrase.urgency for phrase in ear.heard[-2:]] == [Urgency.ATTENTION, Urgency.STEP]
    assert ear.heard[-2].instead is Signal.ATTENTION


def test_a_shot_whose_cups_are_fit_says_in_the_band_and_how_much() -> None:
    ear = listener(at_step("r1.heat.shell_a.again", session_of(*LAMINATE)))
    ear.listen()
    ear.session = with_cup_at(ear.session, ear.now, Part.SHELL_B, 172.0)
    ear.session = ear.session.after(drive.reading(ear.session, 172.0, at(ear.now)))
    (said,) = ear.listen()
    assert said.startswith("In the band. Shell shot. About ")


def test_a_cup_that_goes_cold_while_its_shot_waits_is_said_once() -> None:
    session, now = at_step("r1.core.shot")
    ear = listener((placed(session, at(now), cup_c=166.0), now))
    ear.tick_s = 1.0
    said = [text for text in ear.listen(60.0) if "under its band" in text]
    assert said == [
        "The core cup is under its band, one hundred sixty four degrees. Press B to put it back on the heat."
    ]


def test_the_end_of_a_burst_that_ran_by_itself_is_said_once_at_another_step() -> None:
    ear = listener(at_step("r1.shells-back"))
    assert ear.session.cups[Part.CORE].by_itself
    ear.tick_s = 1.0
    said = [text for text in ear.listen(200.0) if "urst" in text]
    assert said == ["Burst over: stir, read the core cup."]
    ear.session = ear.session.after(drive.forward(ear.session, at(ear.now)))
    assert not [text for text in ear.listen(5.0) if "Burst over" in text], "its own step says what to do"


def test_a_question_that_stands_is_said_with_its_reason_once() -> None:
    session, now = at_step("r1.shell.set")
    told = Told()
    told, _ = tell(told, session, at(now), units=UnitSystem.METRIC)
    told, asked = tell(told, session, at(now), units=UnitSystem.METRIC, asked=Asked.EARLY)
    assert [phrase.text for phrase in asked] == [
        "Go on? It is not over yet: it may be liquid inside. Press space again to go on."
    ]
    told, again = tell(told, session, at(now), units=UnitSystem.METRIC, asked=Asked.EARLY)
    assert again == ()
    told, _ = tell(told, session, at(now), units=UnitSystem.METRIC)
    _, anew = tell(told, session, at(now), units=UnitSystem.METRIC, asked=Asked.UNREAD)
    assert [phrase.text for phrase in anew] == [
        "Go on? Not read since its last burst, nor in its band. Read the screen."
    ], "what the key never answers is not said to be answered by it"


def test_a_doubted_reading_says_what_it_was_probably_meant_to_be() -> None:
    ear = listener(at_step("r1.heat.shell"))
    ear.listen()
    # 304 °F is 151.1 °C: NIST SP 811, appendix B.
    ear.session = ear.session.after(drive.reading(ear.session, 304.0, at(ear.now)))
    (said,) = ear.listen(2.0)
    assert said.endswith("Was it one hundred fifty one degrees, a Fahrenheit figure? Then press Y.")


def test_what_nothing_can_be_is_said_of_the_thermometer() -> None:
    ear = listener(at_step("r1.heat.shell"))
    ear.listen()
    ear.session = ear.session.after(drive.reading(ear.session, -10.0, at(ear.now)))
    (said,) = ear.listen(2.0)
    assert said.endswith(" Check the thermometer.")


def test_of_a_mould_that_nobody_read_on_its_plate_it_is_said_what_it_is_at_least() -> None:
    session, now = at_kind(StepKind.WARM_MOULD)
    ear = listener((session, now + 540.0))
    ear.listen()
    ear.session = ear.session.after(drive.reading(ear.session, 300.0, at(ear.now)))
    said = [text for text in ear.listen(2.0) if "Read again" in text]
    assert "forty five degrees or more was expected." in said[0]


def test_at_the_scale_every_dose_is_said() -> None:
    (said,) = listener(at_step("r1.weigh.core")).listen()
    assert said.startswith("Weigh the core cup. Weigh ")
    assert " grams Ember red" in said


def test_a_shot_from_two_cups_says_how_much_from_each() -> None:
    (said,) = listener(at_step("r1.shell.shot", session_of(*LAMINATE))).said(Urgency.STEP)
    assert said.count(" millilitres from shell ") == 2
    (said,) = listener(at_step("r1.shot.shot", session_of("dusk-and-dawn", "ribbon-leech-4", 8))).said(
        Urgency.STEP
    )
    assert said.endswith(" millilitres from each cup.")


def test_a_heating_whose_shot_is_not_next_says_what_to_aim_at() -> None:
    (said,) = listener(at_step("r1.heat.shell_b", session_of(*LAMINATE))).said(Urgency.STEP)
    assert said.endswith("degrees. Aim at one hundred sixty eight degrees or more.")
