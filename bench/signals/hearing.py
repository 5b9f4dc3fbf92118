"""What one session is heard by: its voice, its sounds and bell, and the watch that uses them; and what keeps its
screen lit."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from bench.clock import Clock
from bench.model.key_names import keys_for
from bench.model.settings import Settings
from bench.signals.alarms import Alarms
from bench.signals.awake import Awake
from bench.signals.bell import Bell
from bench.signals.phrases import Phrase
from bench.signals.player import find_player
from bench.signals.sounds import Sounds
from bench.signals.speech import Speaker
from bench.signals.terminal import TerminalBell, ring_later
from bench.signals.voice import find_voice


@dataclass(frozen=True, kw_only=True, slots=True)
class Hearing:
    """The watch of a session, and what it sounds through."""

    alarms: Alarms
    speaker: Speaker
    sounds: Sounds
    device: TerminalBell | None
    awake: Awake | None

    def rest(self) -> None:
        """The session is over, though it is still looked at: its screen may go dark. Returns at once."""
        if self.awake is not None:
            self.awake.release()

    def close(self) -> None:
        """End the watch, the words and the sounds, and let the screen go dark; in about a second at worst."""
        self.alarms.close()
        self.sounds.close()
        self.speaker.close()
        if self.awake is not None:
            self.awake.close()
        if self.device is not None:
            self.device.close()


def open_hearing(
    settings: Settings,
    *,
    clock: Clock,
    real: Clock,
    pace: float,
    folder: Path,
    ring: Callable[[], None],
    silent: bool,
) -> Hearing:
    """Begin to watch.

    ``clock`` is the session's and ``real`` the maker's, ``pace`` how many seconds of the one pass in one of the
    other. Sound files are kept in ``folder``. ``ring`` is the bell where there is no terminal to open. ``silent``
    is for screens that nobody sits at.
    """
    device = None if silent else _device()
    sounds = Sounds(
        find_player() if settings.sound.on and not silent else None,
        bell=Bell(ring=device.ring if device else ring, later=ring_later),
        folder=folder,
    )

    def ended(phrase: Phrase, problem: str) -> None:
        if problem and phrase.instead is not None:
            sounds.sound(phrase.instead)

    speaker = Speaker(
        None if silent else find_voice(settings.speech),
        clock=lambda: real.now().elapsed_s,
        words=settings.speech.words,
        ended=ended,
        before=sounds.wait,
    )
    awake = Awake() if settings.keep_awake and not silent else None
    if awake is not None:
        awake.start()
    keys = keys_for(settings.keys)
    alarms = Alarms(clock=clock, bell=sounds, speak=speaker.say, units=settings.units, keys=keys, pace=pace)
    alarms.start()
    return Hearing(alarms=alarms, speaker=speaker, sounds=sounds, device=device, awake=awake)


def _device() -> TerminalBell | None:
    if sys.__stderr__ is None:
        return None
    try:
        return TerminalBell(sys.__stderr__)
    except OSError:
        return None
