"""Names of keys, and what settings may choose them for."""

from __future__ import annotations

import re
import string
import tomllib
from itertools import combinations
from pathlib import Path

import pytest
from textual.keys import _character_to_key

from bench.errors import FaultyFiles
from bench.model.key_names import USUAL_KEYS, Action, is_key, key_of, key_words, keys_for, why_not
from bench.model.settings import Settings
from bench.store.decode import decode


def keys_from(text: str) -> Settings:
    return decode(Settings, tomllib.loads(f"[keys]\n{text}\n"), file="settings.toml")


@pytest.mark.parametrize("sign", sorted(set(string.printable) - set(string.whitespace)))
def test_a_sign_has_the_name_that_the_terminal_library_gives_it(sign: str) -> None:
    """Against Textual's own table; capitals are one key with small letters here."""
    assert key_of(sign) == _character_to_key(sign).lower()
    assert is_key(key_of(sign))
    assert key_words(key_of(sign)) == sign.upper()


@pytest.mark.parametrize(
    ("name", "words"),
    [("pagedown", "Page Down"), ("f13", "F13"), ("shift+f3", "Shift+F3"), ("ctrl+right", "Ctrl+→"), ("b", "B")],
)
def test_keys_are_called_as_on_a_keyboard(name: str, words: str) -> None:
    assert is_key(name)
    assert key_words(name) == words


@pytest.mark.parametrize("name", ["", "pgdn", "\x19", "ctrl+", "f25", "shift+nothing", "aa"])
def test_what_no_key_is_called(name: str) -> None:
    assert not is_key(name)


def test_the_readme_of_profiles_lists_every_action_with_its_usual_keys() -> None:
    readme = (Path(__file__).parents[2] / "profiles" / "README.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (\w+) \| (`.*`) \|", readme, re.MULTILINE)
    told = {action: tuple(key_of(key) for key in re.findall(r"`([^`]+)`", keys)) for action, keys in rows}
    assert told == {str(action): keys for action, keys in USUAL_KEYS.items()}


def test_no_two_actions_share_a_usual_key() -> None:
    for one, other in combinations(USUAL_KEYS.values(), 2):
        assert not set(one) & set(other)


def test_what_is_not_chosen_stays_as_usual() -> None:
    every = keys_for(keys_from('forward = ["F9", "."]\nhelp = ["f1"]').keys)
    assert every[Action.FORWARD] == ("f9", "full_stop", "enter"), "Enter goes on in any case"
    assert every[Action.HELP] == ("f1",)
    assert every[Action.BACK] == USUAL_KEYS[Action.BACK]


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        (
            'forwrd = ["f9"]',
            r'settings\.toml: keys\.forwrd: found an unknown key, wanted one of .*did you mean "forward"\?',
        ),
        (
            'forward = ["space", "b"]',
            r"settings\.toml: the second of keys\.forward: found B, which is back already, wanted a key",
        ),
        ('note = ["f2"]\nskip = ["f2"]', r"the first of keys\.note: found F2, which is skip already"),
        (
            'back = ["pgdn"]',
            r'the first of keys\.back: found "pgdn", wanted the name of a key.*did you mean "pagedown"\?',
        ),
        ("back = []", r"keys\.back: found 0 keys, wanted 1 to 8"),
        ('hold = ["5"]', r"the first of keys\.hold: found 5, which types a figure, wanted another key"),
        ('read = ["enter"]', r"the first of keys\.read: found Enter, which takes a figure and goes on"),
        ('help = ["escape"]', r"the first of keys\.help: found Esc, which leaves an entry"),
        ('stop = ["ctrl+q"]', r"the first of keys\.stop: found Ctrl\+Q, which leaves the program"),
        ('back = "b"', r'keys\.back: found "b", wanted a list'),
    ],
)
def test_what_cannot_be_meant_is_one_sentence(line: str, sentence: str) -> None:
    with pytest.raises(FaultyFiles, match=sentence) as refused:
        keys_from(line)
    assert len(refused.value.faults) == 1


def test_a_key_can_be_asked_about_before_it_is_chosen() -> None:
    every = keys_for({})
    assert why_not("f9", Action.FORWARD, every) is None
    assert why_not("space", Action.FORWARD, every) is None
    assert why_not("a", Action.FORWARD, every) == ("A, which is read already", "a key that nothing else has")
