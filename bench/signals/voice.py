"""Which program speaks, and one utterance of it.

The words always go in by the program's input, never as an argument, so that no word can be taken for an option;
and nothing that it prints reaches the terminal.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import PurePath

from bench.model.settings import Speech

LONGEST_TEXT = 300
"""Characters of one utterance; nobody at a bench listens longer."""

POLL_S = 0.05
"""How often a speaking program is looked at: so soon it is cut off."""

KILL_AFTER = 2
GIVE_UP_AFTER = 6
"""In polls from the cut: until the program is killed, and until it is left to itself."""

START_S = 4.0
CHARACTER_S = 0.15
"""How long an utterance may take: to begin, and for each character (0.14 s at the slowest rate)."""

_TROUBLE = re.compile(rb"(?im)^(?:[\w./ -]+: )?(?:error|fatal|failed|failure|cannot|can't|could not|unable)\b.*$")
"""How programs begin the line in which they give up. Sound libraries grumble at length without meaning it."""

_READS_INPUT = "(New-Object IO.StreamReader([Console]::OpenStandardInput(), [Text.Encoding]::UTF8)).ReadToEnd()"
_WINDOWS_SCRIPT = (
    "Add-Type -AssemblyName System.Speech; "
    "$voice = New-Object System.Speech.Synthesis.SpeechSynthesizer; "
    "$voice.Rate = {rate}; "
    "try {{ $voice.SelectVoiceByHints('NotSet', 'NotSet', 0, "
    "[Globalization.CultureInfo]::GetCultureInfo('{language}')) }} catch {{ }}; "
    "$voice.Speak({input})"
)


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
    kept = "".join(each if each.isalnum() or each in " .,:;?!'%+-" else " " for each in text[: 2 * LONGEST_TEXT])
    return " ".join(kept.split()).lstrip(" .,:;?!'%+-")[:LONGEST_TEXT]


def utter(voice: Voice, text: str, *, cut: Callable[[], bool] = lambda: False) -> str:
    """Say it and wait until it is said or ``cut`` says to leave off.

    Returns what went wrong, in a few words; empty when nothing did. Failure shows in the exit code or on the error
    output: a program may end well without having found a loudspeaker.
    """
    try:
        process = subprocess.Popen(
            voice.argv,
            stdin=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            start_new_session=os.name == "posix",
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )
    except (OSError, ValueError) as error:
        return f"{voice.name}: {getattr(error, 'strerror', None) or error}"
    return _followed(process, voice, text, cut)


def _followed(process: subprocess.Popen[bytes], voice: Voice, text: str, cut: Callable[[], bool]) -> str:
    given: bytes | None = f"{text}\n".encode()
    polls, since_cut = 0, 0
    most_polls = (START_S + CHARACTER_S * len(text)) / POLL_S
    while True:
        try:
            _, said_wrong = process.communicate(given, timeout=POLL_S)
            break
        except subprocess.TimeoutExpired:
            given = None
        polls += 1
        if since_cut or polls >= most_polls or cut():
            since_cut += 1
            _end(process, since_cut)
        if since_cut > GIVE_UP_AFTER:
            break
    if polls >= most_polls:
        return f"{voice.name}: did not come to an end"
    return "" if since_cut else _trouble(voice, process.returncode, said_wrong)


def _end(process: subprocess.Popen[bytes], since_cut: int) -> None:
    """End the program and what it started; kill it where it does not listen."""
    if os.name != "posix":
        process.kill()
        return
    try:
        os.killpg(process.pid, signal.SIGTERM if since_cut <= KILL_AFTER else signal.SIGKILL)
    except (ProcessLookupError, PermissionError):
        process.kill()


def _trouble(voice: Voice, code: int, said_wrong: bytes) -> str:
    line = _TROUBLE.search(said_wrong)
    if line is not None:
        return f"{voice.name}: {speakable(line[0].decode(errors='replace'))}"
    return f"{voice.name}: ended with exit code {code}" if code else ""
