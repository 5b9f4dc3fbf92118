"""``pourbench sound-check``: what the machine has to be heard by, and every signal played, rung and spoken."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from bench.cli.output import emit_lines
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
LISTEN = (
    "A program cannot hear. If a sound or a bell was missing, look whether the loudspeaker is on and the "
    "terminal's bell switched on."
)


@dataclass(kw_only=True, slots=True)
class Check:
    """One run: what it sounds through, and what went wrong.

    ``ring`` is None without a terminal, ``play`` None where sounds are off or nothing plays them, ``say`` None
    where speech is off. ``play`` and ``say`` give what went wrong in words, empty when nothing did. ``has`` are
    lines on what the machine has.
    """

    ring: Callable[[], None] | None
    play: Callable[[Signal], str] | None
    say: Callable[[str], str] | None
    has: tuple[str, ...] = ()
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
        return f"not played ({problem}): the bell rings in its place"

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
        return f"not said ({problem}): {text}"


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
        has=(
            f"sounds   {_sounds_words(settings, player)}",
            f"bell     {'this terminal' if ring else 'none: this is no terminal'}",
            f"words    {_words_words(settings.speech, voice)}",
            f"screen   {_screen_words(settings)}",
        ),
    )
    for line in check.lines():
        emit_lines([line])
        sys.stdout.flush()
    if check.problems:
        problem = check.problems[0]
        remedy = _remedy(settings.speech, problem)
        raise BenchError(f"Speech does not work here ({problem}): the bell stands in. {remedy}")
    if check.silences:
        raise BenchError(
            f"Sounds do not play here ({check.silences[0]}): the bell stands in. "
            "Look whether a loudspeaker is connected and on."
        )
    return 0


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


def _remedy(speech: Speech, problem: str) -> str:
    if speech.command:
        return "See to speech.command in settings.toml."
    if problem == NO_PROGRAM:
        return "Install espeak-ng, or name a program of yours as speech.command in settings.toml."
    return "Look whether a loudspeaker is connected and on, and whether speech.language is right."


def _pattern(signal: Signal) -> str:
    pulses, rings = len(EARCONS[signal].pitches_hz), PATTERNS[signal].rings
    return f"{pulses} pulses, or {'one ring' if rings == 1 else f'{rings} rings'} of the bell"


def _write(text: str) -> None:
    sys.stderr.write(text)
    sys.stderr.flush()
