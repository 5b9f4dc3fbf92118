"""What is said of a heating that waits for its press, once it has begun, and before a later burst."""

from __future__ import annotations

from bench.session import drive
from bench.session.events import CupRead, WentBack
from bench.session.view import view
from bench.signals.phrases import Urgency
from tests.signals.test_phrases import listener
from tests.tui.at_the_bench import at, at_step

WAITING = "Put the cup in, set the timer to "


def test_a_heating_says_what_to_set_and_once_it_is_on_what_is_wanted() -> None:
    ear = listener(at_step("r1.heat.shell", waits=True))
    (said,) = ear.said(Urgency.STEP)
    assert said.startswith(f"Reheat the shell cup. {WAITING}")
    assert said.endswith(" seconds, start it, then press space.")
    assert ear.said(Urgency.STEP, 60.0) == [], "however long it waits"
    ear.session = ear.session.after(drive.forward(ear.session, at(ear.now)))
    (on,) = ear.listen()
    assert on == "On the heat. one hundred sixty five to one hundred seventy five degrees."


def test_taken_back_it_says_again_what_to_set() -> None:
    ear = listener(at_step("r1.heat.shell", waits=True))
    ear.listen()
    ear.session = ear.session.after(drive.forward(ear.session, at(ear.now)))
    ear.listen()
    ear.session = ear.session.after(WentBack(at=at(ear.now)))
    (said,) = ear.listen()
    assert said.startswith(f"Not on the heat. {WAITING}")


def test_a_reading_under_the_band_has_the_next_burst_said() -> None:
    ear = listener(at_step("m1.warm-up1.heat.shell"))
    ear.listen()
    ear.now += 30.0
    part = ear.session.step.parts[0]
    ear.session = ear.session.after(CupRead(at=at(ear.now), part=part, temp_c=125.0))
    (said,) = ear.said(Urgency.STEP)
    assert said.startswith(f"Not on the heat. {WAITING}")
    assert said.endswith(" seconds, start it, then press space.")
    assert ear.said(Urgency.STEP, 60.0) == [], "however long it waits"


def test_a_burst_that_is_over_is_said_and_after_the_stir_what_to_set() -> None:
    ear = listener(at_step("m1.warm-up1.heat.shell"))
    ear.listen()
    burst = view(ear.session, at(ear.now)).burst
    assert burst is not None
    said = ear.said(Urgency.STEP, burst.left_s + 60.0)
    assert said[0] == "Heater off. Stir, then read."
    assert said[1].startswith(WAITING)
    assert len(said) == 2
