"""Settings: what is taken, what is refused, and that a file of them reads back."""

from __future__ import annotations

import dataclasses
import re
import tomllib
from pathlib import Path

import pytest

from bench.errors import FaultyFiles
from bench.model.key_names import Action
from bench.model.settings import FASTEST, LONGEST_COMMAND, MOST_WORDS, SLOWEST, Settings, Speech, ThemeName
from bench.store.decode import decode, encode

WRITTEN = """
format = 1
units = "us"
viewing_distance = "6.5 ft"
screen_width = "31 cm"
theme = "bright"
keep_awake = false

[sound]
on = false

[keys]
forward = ["space", "f9"]

[speech]
on = true
language = "en-us"
rate = 140
command = ["my-voice", "--slowly"]
words = { Quillmere = "kwill meer" }
"""


def settings_from(text: str) -> Settings:
    table = tomllib.loads(text)
    table.pop("format")
    return decode(Settings, table, file="settings.toml")


def test_what_a_file_says_is_what_is_meant() -> None:
    settings = settings_from(WRITTEN)
    # The foot: 0.3048 m exactly, NIST Handbook 44, appendix C (from memory).
    assert settings.viewing_distance_mm == pytest.approx(6.5 * 304.8)
    assert settings.screen_width_mm == pytest.approx(310.0)
    assert settings.theme is ThemeName.BRIGHT
    assert not settings.keep_awake
    assert not settings.sound.on
    assert settings.keys == {Action.FORWARD: ("space", "f9")}
    assert settings.speech == Speech(
        language="en-us", rate=140, command=("my-voice", "--slowly"), words={"Quillmere": "kwill meer"}
    )
    assert decode(Settings, encode(settings), file="settings.toml") == settings


def test_nothing_needs_saying() -> None:
    assert settings_from("format = 1") == Settings()
    assert list(Settings().faults()) == []


@pytest.mark.parametrize("rate", [SLOWEST, FASTEST])
def test_the_bounds_themselves_are_allowed(rate: int) -> None:
    assert list(Speech(rate=rate).faults()) == []


@pytest.mark.parametrize(
    "speech",
    [
        Speech(rate=SLOWEST - 1),
        Speech(rate=FASTEST + 1),
        Speech(language=""),
        Speech(language="--stdout"),
        Speech(command=("a",) * (LONGEST_COMMAND + 1)),
        Speech(words={str(number): "" for number in range(MOST_WORDS + 1)}),
        Speech(words={" ": "nothing"}),
    ],
)
def test_what_no_speech_program_could_be_asked_for_is_refused(speech: Speech) -> None:
    assert len(list(speech.faults())) == 1
    assert len(list(dataclasses.replace(Settings(), speech=speech).faults())) == 1


@pytest.mark.parametrize(
    "line", ['rate = "fast"', "on = 1", 'command = "espeak-ng --stdin"', "rate = 155.5", 'voice = "a"']
)
def test_another_type_is_refused(line: str) -> None:
    with pytest.raises(FaultyFiles, match=r"speech\."):
        settings_from(f"format = 1\n[speech]\n{line}\n")


def test_the_readmes_example_loads() -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    (example,) = re.findall(r"^```toml\n(format = 1\n.*?)^```", readme, re.MULTILINE | re.DOTALL)
    settings = settings_from(example)
    assert settings.keys == {Action.FORWARD: ("space", "pagedown", "f9")}
    assert settings.viewing_distance_mm == pytest.approx(2000.0)
