"""Which program or call of the machine plays a sound file, and the files of the signals' sounds."""

from __future__ import annotations

import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path, PurePath

from bench.signals.bell import Signal
from bench.signals.earcons import EARCONS, wav
from bench.signals.program import run_program

MOST_S = 4.0
"""No earcon is half as long: a player that takes more hangs."""

_PROGRAMS: tuple[tuple[str, ...], ...] = (("pw-play",), ("paplay",), ("aplay", "-q"))
"""Newest sound system first: each of them plays through the older ones too (common practice, no source)."""

_NO_CONSOLE = "winsound"


@dataclass(frozen=True, kw_only=True, slots=True)
class Player:
    """A program that plays the file named last among its arguments; on Windows the system itself."""

    argv: tuple[str, ...]

    @property
    def name(self) -> str:
        """What people call it."""
        return PurePath(self.argv[0]).name

    def play(self, file: Path, cut: Callable[[], bool] = lambda: False) -> str:
        """Play it to its end, or until ``cut``; what went wrong in a few words, empty when nothing did."""
        if self.argv == (_NO_CONSOLE,):
            problem = _by_windows(file)
        else:
            problem = run_program((*self.argv, str(file)), given=b"", most_s=MOST_S, cut=cut)
        return f"{self.name}: {problem}" if problem else ""


def find_player(
    *, platform: str = sys.platform, which: Callable[[str], str | None] = shutil.which
) -> Player | None:
    """What the machine has; None where it has nothing. ``platform`` and ``which`` are for tests."""
    if platform == "win32":
        return Player(argv=(_NO_CONSOLE,))
    for name, *options in (("afplay",),) if platform == "darwin" else _PROGRAMS:
        program = which(name)
        if program is not None:
            return Player(argv=(program, *options))
    return None


def sound_file(signal: Signal, folder: Path) -> Path:
    """The signal's sound as a file in ``folder``, made where it is missing or not whole. Raises OSError."""
    data = wav(EARCONS[signal])
    file = folder / f"{signal.replace(' ', '-')}-{hashlib.sha256(data).hexdigest()[:12]}.wav"
    if file.is_file() and file.stat().st_size == len(data):
        return file
    folder.mkdir(parents=True, exist_ok=True)
    return _written(file, data)


def _written(file: Path, data: bytes) -> Path:
    descriptor, temporary = tempfile.mkstemp(prefix=".sound-", dir=file.parent)
    try:
        with os.fdopen(descriptor, "wb") as written:
            written.write(data)
        Path(temporary).replace(file)
    except OSError:
        with suppress(OSError):
            Path(temporary).unlink()
        raise
    return file


def _by_windows(file: Path) -> str:
    if sys.platform != "win32":
        return "only Windows has it"
    import winsound

    try:
        winsound.PlaySound(str(file), winsound.SND_FILENAME | winsound.SND_NODEFAULT)
    except RuntimeError as error:
        return str(error)
    return ""
