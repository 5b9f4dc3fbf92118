"""What espeak-ng makes of our words, written to a sound file and measured: long enough, fast enough, loud enough.

Only where espeak-ng is installed; another speech program has no such option that all of them share.
"""

from __future__ import annotations

import shutil
import subprocess
import wave
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from bench.cli.sound_check import WORDS
from bench.model.settings import FASTEST, SLOWEST, Speech
from bench.signals.bell import Signal
from bench.signals.voice import CHARACTER_S, START_S, find_voice, speakable

pytestmark = pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed here")

PHRASES = (
    *WORDS.values(),
    "Shell shot. About thirty eight millilitres.",
    "Heat the core cup. One hundred sixty five to one hundred seventy five degrees.",
    "Stop. Too hot. The shell cup reads two hundred degrees. Off the heat. Ventilate. Leave if it smokes.",
)


@dataclass(frozen=True, kw_only=True)
class Spoken:
    """A phrase as it sounded: from the first to the last audible moment, and how loud that was."""

    length_s: float
    peak: float
    level_db: float


def spoken(text: str, folder: Path, speech: Speech | None = None) -> Spoken:
    """The phrase said into a file by the very command that says it aloud."""
    voice = find_voice(speech or Speech(), platform="linux")
    assert voice is not None
    file = folder / "said.wav"
    subprocess.run([*voice.argv, "-w", str(file)], input=f"{speakable(text)}\n".encode(), check=True, timeout=30)
    with wave.open(str(file), "rb") as said:
        rate_hz = said.getframerate()
        samples = np.frombuffer(said.readframes(said.getnframes()), dtype="<i2").astype(np.float64) / 32_768
    audible = np.flatnonzero(np.abs(samples) > 0.01)
    assert audible.size, "silence"
    voiced = samples[audible[0] : audible[-1] + 1]
    return Spoken(
        length_s=len(voiced) / rate_hz,
        peak=float(np.abs(samples).max()),
        level_db=float(20 * np.log10(np.sqrt(np.mean(voiced**2)))),
    )


@pytest.mark.parametrize("text", PHRASES)
def test_a_phrase_takes_as_long_as_its_words_at_that_rate(text: str, tmp_path: Path) -> None:
    """A rate in words a minute is one of usual words, five letters and a space (common practice, no source);
    pauses between sentences come on top."""
    length_s = spoken(text, tmp_path).length_s
    reckoned_s = 60 / Speech().rate * len(text) / 6
    assert 0.5 * reckoned_s < length_s < 1.6 * reckoned_s + 0.4 * text.count(".")


@pytest.mark.parametrize("text", PHRASES)
def test_a_phrase_is_loud_and_not_clipped(text: str, tmp_path: Path) -> None:
    said = spoken(text, tmp_path)
    assert 0.2 < said.peak < 1.0
    assert said.level_db > -26.0


def test_a_slower_rate_takes_longer_and_none_is_taken_for_hanging(tmp_path: Path) -> None:
    text = PHRASES[-1]
    lengths_s = [spoken(text, tmp_path, Speech(rate=rate)).length_s for rate in (SLOWEST, Speech().rate, FASTEST)]
    assert lengths_s == sorted(lengths_s, reverse=True)
    assert lengths_s[0] > 1.5 * lengths_s[-1]
    assert lengths_s[0] < START_S + CHARACTER_S * len(text)


def test_stop_is_the_first_thing_heard(tmp_path: Path) -> None:
    """The word alone fits between two calls of an alarm."""
    assert spoken(WORDS[Signal.STOP_NOW].split(".")[0], tmp_path).length_s < 1.0
