"""``pourbench sound-check``: every signal rung and spoken, with its words on the screen, and what failed."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from bench.cli.output import emit_lines
from bench.errors import BenchError
from bench.model.settings import Speech
from bench.signals.bell import PATTERNS, Signal

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs
    from bench.model.settings import Settings
    from bench.signals.voice import Voice

APART_S = 1.0
"""Between two signals, so that nobody takes them for one."""

WORDS: Mapping[Signal, str] = {
    Signal.STEP_OVER: "Time. Open the mould.",
    Signal.ATTENTION: "Look at the fan: is it running, and does it draw outward?",
    Signal.STOP_NOW: "Stop. Too hot. This is a test.",
}
"""What is said with each signal."""

NO_PROGRAM = "no speech program"
LISTEN = "A program cannot hear. If a bell was missing, look whether the terminal's bell is switched on."


@dataclass(kw_only=True, slots=True)
class Check:
    """One run: what it sounds through, and what went wrong. ``ring`` is None without a terminal, ``say`` None
    where speech is off; ``say`` gives what went wrong in words, empty when nothing did."""

    ring: Callable[[], None] | None
    say: Callable[[str], str] | None
    wait: Callable[[float], None] = time.sleep
    problems: list[str] = field(default_factory=list)

    def lines(self) -> Iterator[str]:
        """Sound the signals one after the other, saying what is done."""
        for number, signal in enumerate(Signal, start=1):
            yield f"{number} of {len(Signal)}  {signal}: {_pattern(signal)}"
            yield f"    bell   {self._rung(signal)}"
            yield f"    words  {self._said(WORDS[signal])}"
            self.wait(APART_S)
        yield LISTEN

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


def add_sound_check_parser(verbs: Verbs, *, settings: Callable[[], Settings]) -> None:
    """The verb ``sound-check``."""
    parser = verbs.add_parser(
        "sound-check",
        help="ring and say every signal, to hear whether they come through",
        description="Rings each signal on this terminal and says it with your speech program, its words on the "
        "screen, and tells what failed. Do it before a session, from where you will stand.",
        allow_abbrev=False,
    )
    parser.set_defaults(run=lambda _arguments: _run(settings()))


def _run(settings: Settings) -> int:
    from bench.signals.terminal import BELL, TerminalBell

    ring: Callable[[], None] | None
    try:
        ring = TerminalBell(sys.stderr).ring
    except (OSError, ValueError):
        ring = (lambda: _write(BELL.decode())) if sys.stderr.isatty() else None
    check = Check(ring=ring, say=_say(settings.speech))
    for line in check.lines():
        emit_lines([line])
        sys.stdout.flush()
    if check.problems:
        problem = check.problems[0]
        remedy = _remedy(settings.speech, problem)
        raise BenchError(f"Speech does not work here ({problem}): the bell stands in. {remedy}")
    return 0


def _say(speech: Speech) -> Callable[[str], str] | None:
    from bench.signals.voice import find_voice, speakable, utter

    if not speech.on:
        return None
    voice: Voice | None = find_voice(speech)

    def say(text: str) -> str:
        return utter(voice, speakable(text, speech.words)) if voice else NO_PROGRAM

    return say


def _remedy(speech: Speech, problem: str) -> str:
    if speech.command:
        return "See to speech.command in settings.toml."
    if problem == NO_PROGRAM:
        return "Install espeak-ng, or name a program of yours as speech.command in settings.toml."
    return "Look whether a loudspeaker is connected and on, and whether speech.language is right."


def _pattern(signal: Signal) -> str:
    rings = PATTERNS[signal].rings
    return "one ring" if rings == 1 else f"{rings} rings"


def _write(text: str) -> None:
    sys.stderr.write(text)
    sys.stderr.flush()
