"""Which program speaks, and one utterance of it.

The words always go in by the program's input, never as an argument, so that no word can be taken for an option;
and nothing that it prints reaches the terminal.
"""

from __future__ import annotations

import re
import shutil
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import PurePath

from bench.model.settings import Speech
from bench.signals.program import run_program

LONGEST_TEXT = 300
"""Characters of one utterance; nobody at a bench listens longer."""

START_S = 4.0
CHARACTER_S = 0.15
"""How long an utterance may take: to begin, and for each character (0.14 s at the slowest rate)."""

_READS_INPUT = "(New-Object IO.StreamReader([Console]::OpenStandardInput(), [Text.Encoding]::UTF8)).ReadToEnd()"
_WINDOWS_SCRIPT = (
    "Add-Type -AssemblyName System.Speech; "
    "$voice = New-Object System.Speech.Synthesis.SpeechSynthesizer; "
    "$voice.Rate = {rate}; "
    "try {{ $voice.SelectVoiceByHints('NotSet', 'NotSet', 0, "
    "[Globalization.CultureInfo]::GetCultureInfo('{language}')) }} catch {{ }}; "
    "$voice.Speak({input})"
)

_A_LETTER = re.compile(r"(?<=\w )A (?=\w)")
"""A capital that begins no sentence is a letter, of a cup or of a key; a voice would take it for the article."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Voice:
    """A program that says what it reads from its input: its name and its options."""

    argv: tuple[str, ...]

    @property
    def name(self) -> str:
        """What people call it."""
        return PurePath(self.argv[0]).name


def find_voice(
    speech: Speech, *, platform: str = sys.platform, which: Callable[[str], str | None] = shutil.which
) -> Voice | None:
    """The user's own program or the one that the machine has; None where speech is off or there is none.

    ``platform`` and ``which`` are for tests.
    """
    if not speech.on:
        return None
    if speech.command:
        return Voice(argv=speech.command)
    if platform == "darwin":
        return _say(speech, which)
    if platform == "win32":
        return _system_speech(speech, which)
    return _espeak(speech, which) or _dispatcher(speech, which)


def _say(speech: Speech, which: Callable[[str], str | None]) -> Voice | None:
    program = which("say")
    return Voice(argv=(program, "-r", str(speech.rate), "-f", "-")) if program else None


def _system_speech(speech: Speech, which: Callable[[str], str | None]) -> Voice | None:
    """System.Speech counts its rate from -10 to 10, about 200 words a minute at 0 (from memory)."""
    program = which("powershell")
    if program is None:
        return None
    rate = max(-10, min(10, (speech.rate - 200) // 20))
    script = _WINDOWS_SCRIPT.format(rate=rate, language=speech.language, input=_READS_INPUT)
    return Voice(argv=(program, "-NoProfile", "-NonInteractive", "-Command", script))


def _espeak(speech: Speech, which: Callable[[str], str | None]) -> Voice | None:
    program = which("espeak-ng") or which("espeak")
    if program is None:
        return None
    return Voice(argv=(program, "--stdin", "-v", speech.language, "-s", str(speech.rate)))


def _dispatcher(speech: Speech, which: Callable[[str], str | None]) -> Voice | None:
    """Speech Dispatcher counts its rate from -100 to 100, about 175 words a minute at 0 (from memory)."""
    program = which("spd-say")
    if program is None:
        return None
    rate = max(-100, min(100, speech.rate - 175))
    return Voice(argv=(program, "--wait", "--pipe-mode", "-l", speech.language, "-r", str(rate)))


def speakable(text: str, words: Mapping[str, str] | None = None) -> str:
    """The text as a voice should get it: on one line, without marks that a program could take for a command, and
    with ``words`` spelt as the user wants them said."""
    for word, spelt in (words or {}).items():
        literal = spelt.replace("\\", r"\\")
        text = re.sub(rf"(?<!\w){re.escape(word)}(?!\w)", literal, text, flags=re.IGNORECASE)
    text = _A_LETTER.sub("A-", text)
    kept = "".join(each if each.isalnum() or each in " .,:;?!'%+-" else " " for each in text[: 2 * LONGEST_TEXT])
    return " ".join(kept.split()).lstrip(" .,:;?!'%+-")[:LONGEST_TEXT]


def utter(voice: Voice, text: str, *, cut: Callable[[], bool] = lambda: False) -> str:
    """Say it and wait until it is said or ``cut`` says to leave off.

    Returns what went wrong, in a few words; empty when nothing did.
    """
    most_s = START_S + CHARACTER_S * len(text)
    problem = run_program(voice.argv, given=f"{text}\n".encode(), most_s=most_s, cut=cut)
    return f"{voice.name}: {speakable(problem)}" if problem else ""
