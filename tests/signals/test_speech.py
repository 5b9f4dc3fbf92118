"""The speaker with real programs: order, freshness, cutting off, failure, and that nobody ever waits for it."""

from __future__ import annotations

import queue
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from bench.signals import voice as speaking
from bench.signals.phrases import Phrase, Urgency
from bench.signals.speech import Speaker
from bench.signals.voice import Voice
from tests.signals.talkers import (
    HANG_S,
    OFTEN,
    WAIT_S,
    failure,
    grumbler,
    hanger,
    lines,
    nowhere,
    recorder,
    wait_for,
)


@dataclass
class Ear:
    """A speaker, its clock and what came of its phrases."""

    voice: Voice | None
    now_s: float = 0.0
    ends: queue.Queue[tuple[str, str]] = field(default_factory=queue.Queue)
    speaker: Speaker = field(init=False)

    def __post_init__(self) -> None:
        self.speaker = Speaker(
            self.voice,
            clock=lambda: self.now_s,
            words={"sprue": "sproo"},
            ended=lambda phrase, problem: self.ends.put((phrase.text, problem)),
        )

    def say(self, text: str, urgency: Urgency = Urgency.STEP, fresh_s: float = 60.0) -> None:
        self.speaker.say(Phrase(text=text, urgency=urgency, fresh_s=fresh_s))

    def ended(self) -> tuple[str, str]:
        return self.ends.get(timeout=WAIT_S)


Make = Callable[[Voice | None], Ear]


@pytest.fixture
def ear() -> Iterator[Make]:
    """Makes ears whose speakers are closed when the test is over."""
    made: list[Ear] = []

    def make(voice: Voice | None) -> Ear:
        made.append(Ear(voice))
        return made[-1]

    yield make
    for each in made:
        each.speaker.close(WAIT_S)
    assert not [thread for thread in threading.enumerate() if thread.name == "speech"]


@pytest.fixture
def record(tmp_path: Path) -> Path:
    return tmp_path / "record"


def test_a_phrase_is_said_in_the_users_spelling_and_reported(ear: Make, record: Path) -> None:
    here = ear(recorder(record))
    here.say("Top off when the sprue sinks.")
    assert here.ended() == ("Top off when the sprue sinks.", "")
    assert lines(record) == ["Top off when the sproo sinks."]


@pytest.mark.parametrize("voice", [None, failure(), nowhere(), grumbler("error: No such file or directory")])
def test_what_cannot_be_said_is_reported_for_the_bell(ear: Make, voice: Voice | None) -> None:
    here = ear(voice)
    for text in ("ten seconds", "open the mould"):
        here.say(text)
        said, problem = here.ended()
        assert said == text
        assert problem


def test_a_newer_step_cuts_off_an_older_one(ear: Make, record: Path) -> None:
    here = ear(hanger(record))
    here.say("shell shot")
    wait_for(lambda: lines(record) == ["shell shot"])
    here.say("hold the plunger")
    wait_for(lambda: lines(record) == ["shell shot", "hold the plunger"])
    assert here.ends.empty(), "what was cut off neither failed nor was said"


def test_a_program_deaf_to_signals_is_cut_off_too(ear: Make, record: Path) -> None:
    here = ear(hanger(record, deaf=True))
    here.say("shell shot")
    wait_for(lambda: lines(record) == ["shell shot", "deaf"])
    here.say("too hot", Urgency.ALARM)
    wait_for(lambda: "too hot" in lines(record))


def test_what_is_less_urgent_waits_and_what_an_alarm_cut_off_comes_again(ear: Make, record: Path) -> None:
    here = ear(hanger(record))
    here.say("open the mould")
    wait_for(lambda: lines(record) == ["open the mould"])
    here.say("meanwhile stir", Urgency.ASIDE)
    here.say("too hot", Urgency.ALARM)
    wait_for(lambda: lines(record) == ["open the mould", "too hot"])
    here.say("still too hot", Urgency.ALARM)
    wait_for(lambda: lines(record)[2:] == ["still too hot"])
    assert [each.phrase.text for each in sorted(here.speaker._waiting, key=lambda each: each.phrase.urgency)] == [
        "open the mould",
        "meanwhile stir",
    ]


def test_a_new_step_takes_the_place_of_what_still_waits_for_the_last_one(ear: Make, record: Path) -> None:
    here = ear(hanger(record))
    here.say("too hot", Urgency.ALARM)
    wait_for(lambda: lines(record) == ["too hot"])
    for text, urgency in (("shell shot", Urgency.STEP), ("meanwhile", Urgency.ASIDE), ("hold", Urgency.STEP)):
        here.say(text, urgency)
    assert [each.phrase.text for each in here.speaker._waiting] == ["hold"]


def test_two_reminders_are_both_said(ear: Make, record: Path) -> None:
    here = ear(recorder(record))
    for text in ("look at the fan", "fill the shells"):
        here.say(text, Urgency.ATTENTION)
    assert [here.ended()[0], here.ended()[0]] == ["look at the fan", "fill the shells"]


def test_words_that_are_no_longer_fresh_are_not_said(ear: Make, record: Path) -> None:
    here = ear(hanger(record))
    here.say("shell shot")
    wait_for(lambda: lines(record) == ["shell shot"])
    here.say("five", Urgency.TIME, fresh_s=0.9)
    here.now_s = 1.0
    here.say("too hot", Urgency.ALARM)
    wait_for(lambda: lines(record)[1:] == ["too hot"])
    here.now_s = 100.0
    here.say("read it", Urgency.ALARM)
    wait_for(lambda: lines(record)[2:] == ["read it"])
    assert [each.phrase.text for each in here.speaker._waiting if each.until_s >= here.now_s] == []


@pytest.mark.parametrize("deaf", [False, True])
def test_closing_takes_no_time_and_leaves_no_program_behind(
    record: Path, deaf: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(speaking, "START_S", 600.0)
    here = Ear(hanger(record, deaf=deaf))
    here.say("shell shot")
    wait_for(lambda: len(lines(record)) == 1 + deaf)
    began = time.monotonic()
    here.speaker.close()
    assert time.monotonic() - began < HANG_S
    wait_for(lambda: not [thread for thread in threading.enumerate() if thread.name == "speech"])
    here.say("nobody hears this")
    assert here.ends.empty()


def test_saying_waits_for_nothing(ear: Make, record: Path) -> None:
    """So often that it would take far too long if each waited until the program before it is cut off."""
    here = ear(hanger(record, deaf=True))
    began = time.monotonic()
    for number in range(OFTEN):
        here.say(f"step {number}")
    assert time.monotonic() - began < HANG_S
