"""What is said in a whole session, at each moment that matters, and what is not."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

import pytest

from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.events import Held, MouldRead, Resumed, StepDone, WentBack
from bench.session.session import Session
from bench.session.step import Ending
from bench.signals.alarms import caught_up
from bench.signals.bell import Signal
from bench.signals.phrases import ALARM_AGAIN_S, Phrase, Told, Urgency, tell
from bench.signals.voice import LONGEST_TEXT, speakable
from tests.session.bench_sessions import placed
from tests.tui.at_the_bench import at, at_kind, at_step, session_of, walk

TICK_S = 0.25


@dataclass
class Listener:
    """Somebody who hears a session."""

    session: Session
    now: float = 0.0
    units: UnitSystem = UnitSystem.METRIC
    pace: float = 1.0
    tick_s: float = TICK_S
    told: Told = field(default_factory=Told)
    heard: list[Phrase] = field(default_factory=list)

    def listen(self, seconds: float = 0.0) -> list[str]:
        """What is said while so many seconds pass, in ticks; things that end by themselves end."""
        before = len(self.heard)
        end = self.now + seconds
        while True:
            self.session = caught_up(self.session, at(self.now))
            self.told, phrases = tell(self.told, self.session, at(self.now), units=self.units, pace=self.pace)
            self.heard += phrases
            if self.now >= end:
                return [phrase.text for phrase in self.heard[before:]]
            self.now = min(end, self.now + self.tick_s)

    def said(self, urgency: Urgency, seconds: float = 0.0) -> list[str]:
        """The same, of that urgency alone."""
        before = len(self.heard)
        self.listen(seconds)
        return [phrase.text for phrase in self.heard[before:] if phrase.urgency is urgency]

    def left_s(self) -> float:
        return drive.remaining_s(self.session, at(self.now))


def listener(place: tuple[Session, float], units: UnitSystem = UnitSystem.METRIC, pace: float = 1.0) -> Listener:
    session, now = place
    return Listener(session=session, now=now, units=units, pace=pace)


def test_before_the_start_nothing_is_said() -> None:
    assert Listener(session=session_of()).listen(5.0) == []


WITHIN_A_STEP = ("Next card", "Every card", "The session", "On the heat")


def test_every_step_of_a_session_is_said_once_with_its_title() -> None:
    told = Told()
    texts: list[str] = []
    titles: list[tuple[int, str]] = []
    for session, now in walk(session_of(count=4)):
        for _ in range(3):
            told, phrases = tell(told, session, at(now), units=UnitSystem.METRIC)
            texts += [phrase.text for phrase in phrases if phrase.urgency is Urgency.STEP]
        if not session.state.over and (not titles or titles[-1][0] != len(session.visits)):
            titles.append((len(session.visits), session.step.title))
    steps = [text for text in texts if not text.startswith(WITHIN_A_STEP)]
    assert len(steps) == len(titles)
    for text, (_, title) in zip(steps, titles, strict=True):
        assert title in text
    assert texts[-1] == "The session is complete."


def test_everything_said_is_fit_for_a_voice_and_has_no_digit_to_guess_at() -> None:
    for recipe in ("ember-under-peat", "peat-plain"):
        mould = "ribbon-leech-4" if recipe == "ember-under-peat" else "long-reed-6"
        told = Told()
        for session, now in walk(session_of(recipe, mould, 6)):
            told, phrases = tell(told, session, at(now), units=UnitSystem.US)
            for phrase in phrases:
                assert len(phrase.text) <= LONGEST_TEXT
                assert speakable(phrase.text)
                assert not any(character.isdigit() for character in phrase.text), phrase.text


@pytest.mark.parametrize(
    ("step", "units", "said"),
    [
        ("warm-mould", UnitSystem.METRIC, "Warm the mould. forty to fifty degrees."),
        # 40 °C is 104 °F and 50 °C 122 °F: NIST SP 811, appendix B.
        ("warm-mould", UnitSystem.US, "Warm the mould. one hundred four to one hundred twenty two degrees."),
        ("r1.trim", UnitSystem.METRIC, "Tails: keep or cut. four tails."),
        ("r1.shells-back", UnitSystem.METRIC, "Shells back in."),
    ],
)
def test_a_step_says_its_title_and_the_one_number_that_matters(step: str, units: UnitSystem, said: str) -> None:
    assert listener(at_step(step), units).said(Urgency.STEP) == [said]


def test_a_timed_step_says_how_long() -> None:
    ear = listener(at_step("r1.shell.set"))
    assert 60 < ear.left_s() < 120
    assert ear.listen()[0].startswith("Let it set. one minute "), "nothing ended by itself just now"


def test_what_to_do_meanwhile_comes_after_the_step_and_once() -> None:
    ear = listener(at_step("r1.shell.set"))
    ear.listen(5.0)
    assert [phrase.urgency for phrase in ear.heard] == [Urgency.STEP, Urgency.ASIDE]
    assert ear.heard[1].text == "Meanwhile: Empty the nozzle and stir what is still hot."


def test_the_seconds_that_matter_are_counted_once_each_and_in_order() -> None:
    ear = listener(at_step("r1.shell.set"))
    ear.listen()
    counted = ear.said(Urgency.TIME, ear.left_s() - 0.1)
    assert counted == ["one minute", "thirty seconds", "ten seconds", "five", "four", "three", "two", "one"]
    assert [phrase.text for phrase in ear.heard if phrase.instead is Signal.ATTENTION] == ["ten seconds"]


def test_each_second_is_said_when_it_is_true() -> None:
    ear = listener(at_step("r1.shell.set"))
    ear.listen()
    true = {"one minute": 60, "thirty seconds": 30, "ten seconds": 10, "five": 5, "four": 4, "three": 3}
    for _ in range(4 * 200):
        left_s = ear.left_s()
        for text in ear.listen(0.0):
            if text in true:
                assert 0 <= true.pop(text) - left_s <= 0.5
        if ear.session.step.kind is not StepKind.SET:
            break
        ear.now += TICK_S
    assert true == {}


def test_a_second_that_was_slept_through_is_not_said_late() -> None:
    ear = listener(at_step("r1.shell.set"))
    ear.listen()
    ear.now += ear.left_s() - 7.0
    assert ear.said(Urgency.TIME) == []
    assert ear.said(Urgency.TIME, 2.25) == ["five"]


def test_a_short_step_does_not_say_again_what_its_own_words_said() -> None:
    session, now = at_step("r1.shell.hold")
    ear = listener((session, now + session.step.length_s - 12.0))
    assert ear.said(Urgency.STEP) == ["Hold the plunger. twelve seconds."]
    assert ear.said(Urgency.TIME, 6.0) == []
    assert ear.said(Urgency.TIME, 1.25) == ["five"]


def test_a_step_that_ended_by_itself_says_so_and_one_ended_by_hand_does_not() -> None:
    ear = listener(at_step("r1.shell.set"))
    ear.listen()
    assert ear.listen(ear.left_s() + TICK_S)[-1] == "Time. Open the mould."
    ear.session = ear.session.after(StepDone(at=at(ear.now), step=ear.session.step.id, by=Ending.HAND))
    assert ear.listen()[0] == "Pull the rods."


def test_a_reading_in_the_band_says_so() -> None:
    ear = listener(at_step("r1.heat.shell"))
    ear.listen()
    ear.session = ear.session.after(drive.reading(ear.session, 170.0, at(ear.now)))
    assert ear.listen()[0].startswith("In the band. ")


def test_a_heating_step_asks_for_the_thermometer_once_when_its_estimate_is_over() -> None:
    ear = listener(at_step("r1.heat.shell"))
    ear.listen()
    asked = "Read the thermometer. Wanted: one hundred sixty five to one hundred seventy five degrees."
    assert ear.said(Urgency.STEP, ear.left_s() + 30.0).count(asked) == 1
    assert [phrase.text for phrase in ear.heard if phrase.instead is Signal.ATTENTION] == [asked]


def test_going_back_says_where_and_counts_no_seconds() -> None:
    ear = listener(at_step("r1.shell.open"))
    ear.listen()
    ear.session = ear.session.after(WentBack(at=at(ear.now)))
    assert ear.listen(70.0) == ["Back. Let it set."]


def test_an_alarm_is_said_alone_and_again_until_it_is_read() -> None:
    ear = listener(at_step("m1.warm-up1.heat.shell"))
    ear.listen()
    ear.session = ear.session.after(drive.reading(ear.session, 212.0, at(ear.now)))
    (first,) = ear.listen(ALARM_AGAIN_S - 1)
    assert first.startswith("Stop. Too hot. The shell cup reads two hundred twelve degrees. Off the heat.")
    (again,) = ear.listen(1.0)
    assert again.startswith("Too hot.")
    assert {phrase.urgency for phrase in ear.heard[-2:]} == {Urgency.ALARM}
    acknowledged = drive.acknowledge(ear.session, at(ear.now))
    assert acknowledged is not None
    ear.session = ear.session.after(acknowledged)
    assert [text for text in ear.listen(30.0) if "Too hot" in text] == []


def test_a_reminder_is_said_each_time_that_it_comes_round() -> None:
    ear = listener(at_kind(StepKind.RODS_IN))
    ear.tick_s = 5.0
    words = "Look at the fan: is it running, and does it draw outward?"
    assert Counter(ear.listen(620.0))[words] == 1
    acknowledged = drive.acknowledge(ear.session, at(ear.now))
    assert acknowledged is not None
    ear.session = ear.session.after(acknowledged)
    assert Counter(ear.listen(590.0))[words] == 0
    assert Counter(ear.listen(20.0))[words] == 1


def test_a_held_session_says_only_alarms_and_then_what_it_kept_back() -> None:
    ear = listener(at_kind(StepKind.RODS_IN))
    ear.tick_s = 5.0
    ear.listen()
    ear.session = ear.session.after(Held(at=at(ear.now)))
    assert ear.listen(700.0) == []
    ear.session = ear.session.after(drive.reading(ear.session, 212.0, at(ear.now)))
    if ear.session.doubted:
        ear.session = ear.session.after(drive.reading(ear.session, 212.0, at(ear.now)))
    assert len(ear.listen()) == 1
    acknowledged = drive.acknowledge(ear.session, at(ear.now))
    assert acknowledged is not None
    ear.session = ear.session.after(acknowledged).after(Resumed(at=at(ear.now)))
    assert [text for text in ear.listen() if text.startswith("Look at the fan")] != []


def test_a_doubted_reading_is_asked_for_again() -> None:
    ear = listener(at_step("r1.heat.shell"))
    ear.listen()
    ear.session = ear.session.after(drive.reading(ear.session, 20.0, at(ear.now)))
    assert ear.session.doubted
    (text,) = ear.listen(5.0)
    said = "Read again. twenty degrees was typed, about one hundred fifty one degrees was expected."
    assert text == f"{said} Check the thermometer.", "it was read hot a few minutes ago"


def test_nothing_is_called_for_from_a_cup_that_cannot_be_shot() -> None:
    session, now = at_step("r1.core.shot")
    ear = listener((placed(session, at(now), cup_c=27.0), now))
    said = ear.listen(0.0)
    assert any("Do not shoot yet" in text for text in said)
    assert not any("millilitres" in text for text in said)
    ear.tick_s = 5.0
    late = [text for text in ear.listen(900.0) if "out too long" in text]
    assert late == [text for text in late if "They may peel" in text]
    assert len(late) == 1
    full = listener((placed(session, at(now + 700), cup_c=172.0), now + 700))
    assert any("Fill them now" in text for text in full.listen(5.0))


def test_shells_that_lie_out_too_long_are_called_for_once() -> None:
    ear = listener(at_step("r1.shells-back"))
    ear.tick_s = 5.0
    said = ear.listen(1200.0)
    assert sum("The shells have been out too long" in text for text in said) == 1


def test_a_cold_mould_is_called_once_before_each_shot_while_its_cup_is_heated() -> None:
    ear = listener(at_step("r1.heat.core.on"))
    assert not [text for text in ear.listen(4.0) if "cold" in text]
    ear.session = ear.session.after(MouldRead(at=at(ear.now), temp_c=36.0))
    ear.tick_s = 2.0
    said = [text for text in ear.listen(60.0) if "cold" in text]
    assert said == ["The mould is cold. Warm it until it reads forty degrees."]
    assert [phrase.instead for phrase in ear.heard if "cold" in phrase.text] == [Signal.ATTENTION]
    assert ear.session.step.id == "r1.heat.core.on"
    while ear.session.step.id != "r1.core.shot":
        ear.session = ear.session.after(StepDone(at=at(ear.now), step=ear.session.step.id, by=Ending.HAND))
        assert not [text for text in ear.listen(4.0) if "cold" in text], "said before this shot already"
    while ear.session.step.id != "r2.heat.shell":
        ear.session = ear.session.after(StepDone(at=at(ear.now), step=ear.session.step.id, by=Ending.HAND))
    ear.session = ear.session.after(MouldRead(at=at(ear.now), temp_c=36.0))
    assert len([text for text in ear.listen(30.0) if "cold" in text]) == 1, "and again for the next"


def test_a_mould_that_nobody_reads_on_its_plate_is_called_for_again_and_again() -> None:
    ear = listener(at_kind(StepKind.WARM_MOULD))
    ear.tick_s = 5.0
    first = ear.listen(ear.left_s() + 10.0)
    assert sum(text.startswith("Read the thermometer.") for text in first) == 1
    again = [text for text in ear.listen(1500.0) if "mould" in text]
    assert again == ["Read the mould: it may be too hot."] * 5
    assert {each.instead for each in ear.heard if "too hot" in each.text} == {Signal.ATTENTION}
    ear.session = ear.session.after(drive.reading(ear.session, 38.0, at(ear.now)))
    assert ear.session.doubted is None
    assert not [text for text in ear.listen(30.0) if "too hot" in text]


def test_a_fast_rehearsal_leaves_out_what_cannot_be_said_in_time() -> None:
    ear = listener(at_step("r1.shell.set"), pace=60.0)
    said = ear.listen(ear.left_s() + 1.0)
    assert [phrase for phrase in ear.heard if phrase.urgency is Urgency.TIME] == []
    assert said[-1] == "Time. Open the mould."


def test_a_doubted_reading_over_the_scorch_limit_says_heat_off_first() -> None:
    ear = listener(at_step("r1.heat.shell"))
    ear.listen()
    ear.session = ear.session.after(drive.reading(ear.session, 400.0, at(ear.now)))
    (text,) = ear.listen(5.0)
    assert text.startswith("If it may be true, heat off now. Read again.")


def test_a_cup_that_did_not_rise_is_asked_about_its_heater() -> None:
    session, now = at_step("r1.heat.shell")
    ear = listener((session, now))
    ear.listen()
    ear.session = session.after(drive.reading(session, 145.0, at(now)))
    ear.session = ear.session.after(drive.forward(ear.session, at(now)))
    burst_over = now + 40.0
    ear.session = ear.session.after(drive.reading(ear.session, 140.0, at(burst_over)))
    ear.now = burst_over
    assert ear.session.doubted is not None
    assert "It did not rise. Was the heater on? Read again." in ear.listen(1.0)
