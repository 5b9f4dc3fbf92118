"""Signals as sounds: from a thread of their own, so that nothing waits for a loudspeaker, with the terminal's bell
in their place where they cannot be played."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from pathlib import Path

from bench.signals.bell import Bell, Signal
from bench.signals.earcons import EARCONS
from bench.signals.player import Player, sound_file

CLOSE_WITHIN_S = 0.5

ALOUD: Mapping[Signal, bool] = {Signal.STEP_OVER: False, Signal.ATTENTION: False, Signal.STOP_NOW: True}
"""Whether the bell rings beside the sound: danger goes both ways, for a loudspeaker may be turned down."""

_RANK = {signal: place for place, signal in enumerate(Signal)}


class Sounds:
    """Sounds signals through a player, by the bell where there is none or where it fails. It has a bell's face.

    A more urgent signal cuts off what plays; a less urgent one gives way to it. A player that has failed once is
    not asked again. ``folder`` is where the sound files are kept; where they cannot be written the bell rings.
    """

    def __init__(self, player: Player | None, *, bell: Bell, folder: Path) -> None:
        self._player = player
        self._bell = bell
        self._folder = folder
        self._files: dict[Signal, Path] = {}
        self._waiting: Signal | None = None
        self._playing: Signal | None = None
        self._closing = False
        self._changed = threading.Condition()
        self._thread: threading.Thread | None = None

    def sound(self, signal: Signal) -> None:
        """Sound it; returns at once."""
        if self._player is None or ALOUD[signal]:
            self._bell.sound(signal)
        if self._player is None:
            return
        with self._changed:
            if self._closing or _RANK[signal] < max(_rank(self._waiting), _rank(self._playing)):
                return
            self._waiting = signal
            if self._thread is None:
                self._thread = threading.Thread(target=self._run, name="sounds", daemon=True)
                self._thread.start()
            self._changed.notify_all()

    def wait(self, most_s: float | None = None) -> None:
        """Wait until nothing sounds, at most as long as the longest sound: words begin after it."""
        longest_s = max(earcon.length_s for earcon in EARCONS.values())
        with self._changed:
            self._changed.wait_for(self._is_quiet, longest_s if most_s is None else most_s)

    def close(self, within_s: float = CLOSE_WITHIN_S) -> None:
        """Leave off and end the thread."""
        with self._changed:
            self._closing = True
            self._waiting = None
            self._changed.notify_all()
        if self._thread is not None:
            self._thread.join(within_s)

    def _is_quiet(self) -> bool:
        return self._closing or (self._waiting is None and self._playing is None)

    def _run(self) -> None:
        while (signal := self._next()) is not None:
            problem = self._played(signal)
            with self._changed:
                unheard = [each for each in (signal, self._waiting) if each is not None and not ALOUD[each]]
                self._playing = None
                if problem:
                    # It would fail again, and the bell would come late again.
                    self._player, self._waiting = None, None
                self._changed.notify_all()
            if problem and unheard and not self._closing:
                self._bell.sound(max(unheard, key=_rank))

    def _next(self) -> Signal | None:
        with self._changed:
            self._changed.wait_for(lambda: self._waiting is not None or self._closing)
            if self._closing:
                return None
            self._playing, self._waiting = self._waiting, None
            return self._playing

    def _played(self, signal: Signal) -> str:
        assert self._player is not None, "without a player nothing waits"
        try:
            file = self._files.get(signal) or sound_file(signal, self._folder)
        except OSError as error:
            return f"{error.strerror or error}"
        self._files[signal] = file
        return self._player.play(file, cut=lambda: self._waiting is not None or self._closing)


def _rank(signal: Signal | None) -> int:
    return -1 if signal is None else _RANK[signal]
