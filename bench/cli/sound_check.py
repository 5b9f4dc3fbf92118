"""``pourbench sound-check``: what the machine has to be heard by, and every signal played, rung and spoken."""

from __future__ import annotations

import re
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from bench.cli.output import columns, emit_lines, hung
from bench.errors import BenchError
from bench.model.settings import Speech
from bench.signals.bell import PATTERNS, Signal
from bench.signals.earcons import EARCONS

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs
    from bench.model.settings import Settings
    from bench.signals.player import Player
    from bench.signals.voice import Voice

APART_S = 1.0
"""Between two signals, so that nobody takes them for one."""

WORDS: Mapping[Signal, str] = {
    Signal.STEP_OVER: "Time. Open the mould.",
    Signal.ATTENTION: "Look at the fan: is it running, and does it draw outward?",
    Signal.STOP_NOW: "Stop. Too hot. This is a test.",
}
"""What is said with each signal."""

LIT_WITHIN_S = 3.0
"""How long the desktop is given to say whether it leaves the screen lit."""

NO_PROGRAM = "no speech program"
NO_PLAYER = "no program that plays sounds"
NO_LOUDSPEAKER = "no loudspeaker answered"
LISTEN = (
    "A program cannot hear. If a sound or a bell was missing, look whether the loudspeaker is on and the "
    "terminal's bell switched on."
)


@dataclass(kw_only=True, slots=True)
class Check:
    """One run: what it sounds through, and what went wrong.

    ``ring`` is None without a terminal, ``play`` None where sounds are off or nothing plays them, ``say`` None
    where speech is off. ``play`` and ``say`` give what went wrong in words, empty when nothing did. ``has`` are
    lines on what the machine has, ``reason`` what a maker understands of what a speech program says.
    """

    ring: Callable[[], None] | None
    play: Callable[[Signal], str] | None
    say: Callable[[str], str] | None
    has: tuple[str, ...] = ()
    reason: Callable[[str], str] = lambda problem: problem
    wait: Callable[[float], None] = time.sleep
    problems: list[str] = field(default_factory=list)
    silences: list[str] = field(default_factory=list)

    def lines(self) -> Iterator[str]:
        """Sound the signals one after the other, saying what is done."""
        yield from self.has
        for number, signal in enumerate(Signal, start=1):
            yield f"{number} of {len(Signal)}  {signal}: {_pattern(signal)}"
            if self.play is not None:
                yield f"    sound  {self._played(self.play, signal)}"
                self.wait(APART_S)
            yield f"    bell   {self._rung(signal)}"
            yield f"    words  {self._said(WORDS[signal])}"
            self.wait(APART_S)
        yield LISTEN

    def _played(self, play: Callable[[Signal], str], signal: Signal) -> str:
        problem = play(signal)
        if not problem:
            return "played"
        self.silences.append(problem)
        return f"not played ({NO_LOUDSPEAKER}): the bell rings in its place"

    def _rung(self, signal: Signal) -> str:
        if self.ring is None:
            return "not rung: this is no terminal"
        pattern = PATTERNS[signal]
        for _ in range(pattern.rings):
            self.ring()
            self.wait(pattern.gap_s)
        return "rung"

    def _said(self, text: str) -> str:
        if self.say is None:
            return f"not said, speech is off: {text}"
        problem = self.say(text)
        if not problem:
            return text
        self.problems.append(problem)
        return f"not said ({self.reason(problem)}): {text}"


def add_sound_check_parser(verbs: Verbs, *, settings: Callable[[], Settings], sounds: Callable[[], Path]) -> None:
    """The verb ``sound-check``. ``sounds`` finds the folder where sound files are kept."""
    parser = verbs.add_parser(
        "sound-check",
        help="play, ring and say every signal, to hear whether they come through",
        description="Tells what this machine has to be heard by and whether its screen stays lit, plays each "
        "signal, rings it on this terminal and says it with your speech program, and tells what failed. Do it "
        "before a session, from where you will stand.",
        allow_abbrev=False,
    )
    parser.set_defaults(run=lambda _arguments: _run(settings(), sounds()))


def _run(settings: Settings, sounds: Path) -> int:
    from bench.signals.player import find_player
    from bench.signals.voice import find_voice

    ring = _ring()
    player, voice = find_player(), find_voice(settings.speech)
    check = Check(
        ring=ring,
        play=_play(player, sounds) if player is not None and settings.sound.on else None,
        say=_say(settings.speech, voice) if settings.speech.on else None,
        reason=partial(_reason, settings.speech),
        has=(
            f"sounds   {_sounds_words(settings, player)}",
            f"bell     {'this terminal' if ring else 'none: this is no terminal'}",
            f"words    {_words_words(settings.speech, voice)}",
            f"screen   {_screen_words(settings)}",
        ),
    )
    for line in check.lines():
        emit_lines(hung(line, columns(sys.stdout)))
        sys.stdout.flush()
    failed = check.problems or check.silences
    if not failed:
        return 0
    stands_in = "the terminal's bell stands in" if ring else "nothing stands in, for this is no terminal"
    if check.problems:
        raise BenchError(_speech_sentence(settings.speech, failed[0], stands_in))
    raise BenchError(f"{_sentence(NO_LOUDSPEAKER, 'sounds', stands_in)} {CONNECT}. {_quoted(failed[0])}")


def _ring() -> Callable[[], None] | None:
    from bench.signals.terminal import BELL, TerminalBell

    try:
        return TerminalBell(sys.stderr).ring
    except (OSError, ValueError):
        return (lambda: _write(BELL.decode())) if sys.stderr.isatty() else None


def _play(player: Player, folder: Path) -> Callable[[Signal], str]:
    from bench.signals.player import sound_file

    def play(signal: Signal) -> str:
        try:
            return player.play(sound_file(signal, folder))
        except OSError as error:
            return f"{error.strerror or error}"

    return play


def _say(speech: Speech, voice: Voice | None) -> Callable[[str], str]:
    from bench.signals.voice import speakable, utter

    return lambda text: utter(voice, speakable(text, speech.words)) if voice else NO_PROGRAM


def _sounds_words(settings: Settings, player: Player | None) -> str:
    if not settings.sound.on:
        return "off in your settings: the bell rings in their place"
    if player is None:
        return f"{NO_PLAYER} (pw-play, paplay, aplay): the bell rings in their place"
    return f"played by {player.name}"


def _words_words(speech: Speech, voice: Voice | None) -> str:
    if not speech.on:
        return "off in your settings"
    return f"said by {voice.name}" if voice is not None else f"{NO_PROGRAM} (espeak-ng)"


def _screen_words(settings: Settings) -> str:
    from bench.signals.awake import Awake

    if not settings.keep_awake:
        return "may go dark during a session: keep_awake is off in your settings"
    awake = Awake()
    awake.start()
    granted = awake.granted(LIT_WITHIN_S)
    awake.close()
    if granted:
        return "stays lit during a session"
    return "may go dark during a session: nothing here takes the request to leave it lit"


CONNECT = "Connect one or switch it on, then check again"
_VOICE = re.compile(r"\b(?:voices?|languages?)\b", re.IGNORECASE)
"""In what a program says that knows no voice for a language."""


def _reason(speech: Speech, problem: str) -> str:
    """What a maker understands of it: a program that finds no loudspeaker calls that a missing file."""
    if problem == NO_PROGRAM:
        return problem
    if speech.command:
        return "your speech program failed"
    if _VOICE.search(problem.partition(": ")[2]):
        return f'no voice for the language "{speech.language}"'
    return NO_LOUDSPEAKER


def _speech_sentence(speech: Speech, problem: str, stands_in: str) -> str:
    reason = _reason(speech, problem)
    said = _sentence(reason, "words", stands_in)
    if problem == NO_PROGRAM:
        return f"{said} Install espeak-ng, or name a program of yours as speech.command in settings.toml."
    if speech.command:
        remedy = "See to speech.command in settings.toml"
    else:
        remedy = CONNECT if reason == NO_LOUDSPEAKER else "See to speech.language in settings.toml"
    return f"{said} {remedy}. {_quoted(problem)}"


def _sentence(reason: str, lacking: str, stands_in: str) -> str:
    return f"{reason[:1].upper()}{reason[1:]}, so no {lacking} are heard: {stands_in}."


def _quoted(problem: str) -> str:
    program, _, words = problem.partition(": ")
    return f'({program} said: "{words}")' if words else f"({problem})"


def _pattern(signal: Signal) -> str:
    pulses, rings = len(EARCONS[signal].pitches_hz), PATTERNS[signal].rings
    return f"{pulses} pulses, or {'one ring' if rings == 1 else f'{rings} rings'} of the bell"


def _write(text: str) -> None:
    sys.stderr.write(text)
    sys.stderr.flush()
