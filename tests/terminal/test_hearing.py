"""What the real program says and rings: words by the user's own speech program, the bell by the terminal."""

from __future__ import annotations

import re
import time
from pathlib import Path

import tomli_w

from bench.signals.voice import Voice
from tests.signals.talkers import grumbler, hanger, lines, recorder
from tests.terminal.conftest import Start
from tests.terminal.term import RESTORED, WITHIN_S, Term

_TITLES = re.compile(rb"\x1b\][^\a\x1b]*\a")
"""Titles of the window, which end in the same byte as a bell (xterm control sequences, OSC)."""


def speak_with(voice: Voice, home: Path) -> None:
    home.mkdir()
    settings = {
        "format": 1,
        "keep_awake": False,
        "sound": {"on": False},
        "speech": {"command": list(voice.argv)},
    }
    (home / "settings.toml").write_text(tomli_w.dumps(settings), encoding="utf-8")


PATIENT = """
import sys
from bench.__main__ import main
from bench.signals import voice

voice.START_S = 600.0
sys.exit(main())
"""
"""The program, giving up no voice before the test is over: whoever waits for one waits too long."""


def rehearsing(start: Start, code: str = "") -> Term:
    """At the first card of a rehearsal."""
    asked = ("rehearse", "peat-plain", "--mould", "long-reed-6", "--count", "6", "--speed", "1")
    term = start(*asked, code=code)
    term.see("Space start")
    term.press_for("space", "READ THIS CARD")
    return term


def said(record: Path, term: Term, count: int) -> list[str]:
    """The first words that were said."""
    end = time.monotonic() + WITHIN_S
    while len(lines(record)) < count and time.monotonic() < end:
        term.pump()
    return lines(record)


def test_steps_and_cards_are_said(start: Start, tmp_path: Path) -> None:
    record = tmp_path / "record"
    speak_with(recorder(record), tmp_path / "home")
    term = rehearsing(start)
    assert said(record, term, 1) == ["Before any heat. Read the card: air."]
    term.press_for("a", "READ THIS CARD: body")
    assert said(record, term, 2)[1:] == ["Next card: body."]
    assert b"\a" not in _TITLES.sub(b"", term.sent), "words need no bell"


def test_a_speech_program_that_prints_leaves_the_screen_alone(start: Start, tmp_path: Path) -> None:
    speak_with(grumbler("error: No such file or directory\n"), tmp_path / "home")
    term = rehearsing(start)
    term.press_for("a", "READ THIS CARD: body")
    term.rest(0.3)
    assert b"ALSA" not in term.sent
    assert b"never to the terminal" not in term.sent


def test_a_speech_program_that_hangs_does_not_hold_up_the_end(start: Start, tmp_path: Path) -> None:
    record = tmp_path / "record"
    speak_with(hanger(record, deaf=True), tmp_path / "home")
    term = rehearsing(start, PATIENT)
    assert said(record, term, 2)[1:] == ["deaf"]
    term.press("q", "q")
    term.see("Enter pour")
    term.press("ctrl+q")
    assert term.wait() == 0
    assert RESTORED in term.sent
