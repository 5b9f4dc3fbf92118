"""Keys are heard by the names they have on the screen, whatever settings choose."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Mapping

import pytest

from bench.model.key_names import USUAL_KEYS, Action, key_words, keys_for
from bench.model.settings import UnitSystem
from bench.session import drive
from bench.session.asking import Asked
from bench.signals import spoken_keys
from bench.signals.phrases import Told, tell
from bench.signals.voice import speakable
from bench.tui.pour.keys import PRESSES, Keyboard
from tests.session.bench_sessions import placed
from tests.tui.at_the_bench import at, at_step

CHOSEN: Mapping[Action, tuple[str, ...]] = {
    Action.BACK: ("a",),
    Action.READ: ("full_stop",),
    Action.YES: ("ctrl+f9",),
    Action.FORWARD: ("space", "enter", "f7"),
}


@pytest.mark.parametrize(
    ("name", "heard"),
    [
        *(("b", "B"), ("space", "space"), ("pagedown", "page down"), ("f9", "F nine"), ("f12", "F twelve")),
        *(("full_stop", "full stop"), ("question_mark", "question mark"), ("slash", "slash")),
        *(("left", "left arrow"), ("ctrl+f9", "control F nine"), ("shift+right", "shift right arrow")),
    ],
)
def test_a_key_is_heard_as_it_is_pressed(name: str, heard: str) -> None:
    assert spoken_keys.key(name) == heard


def test_the_key_that_is_said_is_the_one_that_the_screen_shows() -> None:
    for chosen in ({}, CHOSEN):
        keys, keyboard = keys_for(chosen), Keyboard(chosen)
        for action, press in PRESSES.items():
            first = keys[action][0]
            assert keyboard.shown(press) == key_words(first)
            assert spoken_keys.key_for(action, keys).startswith(spoken_keys.key(first))


def test_a_key_beside_the_first_to_go_on_is_the_pedals() -> None:
    assert spoken_keys.key_for(Action.FORWARD, USUAL_KEYS) == "space"
    assert spoken_keys.key_for(Action.FORWARD, keys_for(CHOSEN)) == "space or the pedal"


def said_with(chosen: Mapping[Action, tuple[str, ...]]) -> list[str]:
    """What is said of a cold cup, of a question and of a doubted reading, with these keys."""
    keys = keys_for(chosen)
    session, now = at_step("r1.core.shot")
    cold = placed(session, at(now), cup_c=160.0)
    early, since = at_step("r1.shell.set")
    heated, then = at_step("r1.heat.shell")
    # 304 °F is 151.1 °C: NIST SP 811, appendix B.
    doubted = heated.after(drive.reading(heated, 304.0, at(then)))
    said = [
        *tell(Told(), cold, at(now), units=UnitSystem.METRIC, keys=keys)[1],
        *tell(Told(), early, at(since), units=UnitSystem.METRIC, keys=keys, asked=Asked.EARLY)[1],
        *tell(Told(), doubted, at(then), units=UnitSystem.METRIC, keys=keys)[1],
    ]
    return [phrase.text for phrase in said if "ress " in phrase.text]


def test_every_sentence_names_the_key_of_the_users_settings() -> None:
    usual, own = said_with({}), said_with(CHOSEN)
    assert [re.findall(r"[Pp]ress (.*?)(?: to| again|\.)", text) for text in usual] == [["B"], ["space"], ["Y"]]
    assert [re.findall(r"[Pp]ress (.*?)(?: to| again|\.)", text) for text in own] == [
        ["A"],
        ["space or the pedal"],
        ["control F nine"],
    ]
    assert not [text for text in (*usual, *own) if re.search(r"\b(?:back|yes|same) key\b", text)]


def test_an_a_within_a_sentence_is_a_letter_and_at_its_beginning_an_article() -> None:
    assert speakable("Press A to put it back.") == "Press A-to put it back."
    assert speakable("Read the shell A and B cups, from shell A.") == "Read the shell A-and B cups, from shell A."
    assert speakable("Go on? A mould is cold.") == "Go on? A mould is cold."
    assert speakable("The shell A cup", {"A": "first"}) == "The shell first cup"


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="asks espeak-ng itself")
def test_a_voice_says_the_letter() -> None:
    """In espeak-ng's own phonemes the letter is eI and the article a#."""

    def phonemes(text: str) -> str:
        said = subprocess.run(["espeak-ng", "-q", "-x", text], capture_output=True, text=True, check=True)
        return said.stdout

    assert "eI" not in phonemes("The shell A cup is hot.")
    assert "eI" in phonemes(speakable("The shell A cup is hot."))
    assert "eI" in phonemes(speakable("Press A to put it back on the heat."))
