"""The signals' sounds, written to files and measured: pulses, pauses, pitch, harmonics, loudness.

Sources. Counts of pulses, pulse lengths, spacings and rise times: IEC 60601-1-8, Tables 3 and 4, from memory.
Fundamental 150 to 1000 Hz and at least four harmonics within 15 dB in 300 to 4000 Hz: the same standard's Table 4,
confirmed. Dominant parts of the sound in 300 to 3000 Hz: ISO 7731, from memory.
"""

from __future__ import annotations

import wave
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.signal import find_peaks, hilbert

from bench.signals.attention import ALARM_EVERY_S
from bench.signals.bell import PATTERNS, Signal
from bench.signals.earcons import EARCONS, RATE_HZ
from bench.signals.player import sound_file

Samples = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Pulse:
    """One pulse as measured: where its sound stands above half its height."""

    begins_s: float
    ends_s: float
    samples: Samples

    @property
    def length_s(self) -> float:
        return self.ends_s - self.begins_s

    def spectrum(self) -> tuple[Samples, Samples]:
        """Frequencies and levels in dB below the strongest part."""
        levels = np.abs(np.fft.rfft(self.samples * np.hanning(len(self.samples)), n=RATE_HZ))
        level_db: Samples = 20 * np.log10(levels / levels.max() + 1e-9)
        return np.fft.rfftfreq(RATE_HZ, 1 / RATE_HZ).astype(np.float64), level_db

    def partials_hz(self) -> Samples:
        """The parts of the sound that stand out, within 15 dB of the strongest."""
        hz, level_db = self.spectrum()
        peaks, _ = find_peaks(level_db, height=-15.0, distance=100)
        return np.asarray(hz[peaks])


def heard(signal: Signal, folder: Path) -> Samples:
    """The samples of the signal's file, 1 for full scale."""
    with wave.open(str(sound_file(signal, folder)), "rb") as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE_HZ)
        raw = file.readframes(file.getnframes())
    return np.frombuffer(raw, dtype="<i2").astype(np.float64) / 32_768


def pulses(samples: Samples) -> list[Pulse]:
    """Where the envelope, smoothed over 5 ms, stands above half its height."""
    envelope = np.convolve(np.abs(np.asarray(hilbert(samples))), np.full(110, 1 / 110), mode="same")
    edges = np.flatnonzero(np.diff(np.concatenate(([False], envelope > 0.5 * envelope.max(), [False]))))
    found: list[Pulse] = []
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        if found and begin / RATE_HZ - found[-1].ends_s < 0.02:
            begin, found = round(found[-1].begins_s * RATE_HZ), found[:-1]
        found.append(Pulse(begins_s=begin / RATE_HZ, ends_s=end / RATE_HZ, samples=samples[begin:end]))
    return found


def gaps_s(signal: Signal, folder: Path) -> list[float]:
    return [after.begins_s - before.ends_s for before, after in pairwise(pulses(heard(signal, folder)))]


@pytest.mark.parametrize(
    ("signal", "count", "least_s", "most_s"),
    [(Signal.STEP_OVER, 2, 0.125, 0.25), (Signal.ATTENTION, 3, 0.125, 0.25), (Signal.STOP_NOW, 5, 0.075, 0.2)],
)
def test_pulses_are_as_many_and_as_long_as_their_urgency_asks(
    signal: Signal, count: int, least_s: float, most_s: float, tmp_path: Path
) -> None:
    """Low priority 1 or 2 pulses, medium 3, high 3 and 2: 125 to 250 ms each, high ones 75 to 200 ms."""
    found = pulses(heard(signal, tmp_path))
    assert len(found) == count
    for pulse in found:
        # The envelope is cut at half its height, a rise away from where the pulse begins.
        assert least_s * 0.8 <= pulse.length_s <= most_s
        assert pulse.length_s == pytest.approx(EARCONS[signal].pulse_s * 0.85, abs=0.012)


def test_pauses_are_those_of_their_urgency(tmp_path: Path) -> None:
    """Medium 125 to 250 ms between pulses, high 50 to 125 ms and the double and a pulse between three and two."""
    rises_s = {signal: EARCONS[signal].pulse_s * 0.15 for signal in Signal}
    for gap_s in gaps_s(Signal.ATTENTION, tmp_path):
        assert gap_s - rises_s[Signal.ATTENTION] + 0.012 >= 0.125
        assert gap_s <= 0.25
    first, second, between, last = gaps_s(Signal.STOP_NOW, tmp_path)
    for gap_s in (first, second, last):
        assert 0.05 <= gap_s <= 0.125
    pause, pulse_s = EARCONS[Signal.STOP_NOW].gaps_s[0], EARCONS[Signal.STOP_NOW].pulse_s
    assert between == pytest.approx(2 * pause + pulse_s + rises_s[Signal.STOP_NOW], abs=0.012)


@pytest.mark.parametrize("signal", Signal)
def test_each_pulse_is_a_tone_with_harmonics_where_ears_are_keen(signal: Signal, tmp_path: Path) -> None:
    for pulse, pitch_hz in zip(pulses(heard(signal, tmp_path)), EARCONS[signal].pitches_hz, strict=True):
        partials_hz = pulse.partials_hz()
        assert partials_hz[0] == pytest.approx(pitch_hz, abs=8.0)
        assert 150 <= partials_hz[0] <= 1000
        assert np.sum((partials_hz >= 300) & (partials_hz <= 4000)) >= 4
        assert np.allclose(partials_hz / partials_hz[0], np.arange(1, len(partials_hz) + 1), atol=0.08)
        hz, level_db = pulse.spectrum()
        assert 300 <= hz[np.argmax(level_db)] <= 3000, "the strongest part"


def test_figures_rise_for_heat_and_fall_when_a_step_is_over() -> None:
    pitches = {signal: EARCONS[signal].pitches_hz for signal in Signal}
    assert list(pitches[Signal.ATTENTION]) == sorted(pitches[Signal.ATTENTION])
    assert list(pitches[Signal.STOP_NOW]) == sorted(pitches[Signal.STOP_NOW])
    assert list(pitches[Signal.STEP_OVER]) == sorted(pitches[Signal.STEP_OVER], reverse=True)


def test_all_are_loud_alike_and_none_is_clipped(tmp_path: Path) -> None:
    """Within 3 dB of each other while they sound, well above half of full scale, none at its end."""
    levels_db = []
    for signal in Signal:
        samples = heard(signal, tmp_path)
        assert 0.8 <= np.abs(samples).max() <= 0.95
        sounding = np.concatenate([pulse.samples for pulse in pulses(samples)])
        levels_db.append(20 * np.log10(np.sqrt(np.mean(sounding**2))))
        assert np.abs(samples[: RATE_HZ // 50]).max() == 0.0, "it begins in silence"
    assert max(levels_db) - min(levels_db) < 3.0
    assert min(levels_db) > -14.0


def test_pulses_swell_rather_than_click(tmp_path: Path) -> None:
    """No step between two samples beyond what the tone itself makes, and a rise of 10 % of the pulse at least."""
    for signal in Signal:
        samples = heard(signal, tmp_path)
        steepest = max(np.abs(np.diff(pulse.samples)).max() for pulse in pulses(samples))
        assert np.abs(np.diff(samples)).max() <= steepest + 1e-6
        begin = np.flatnonzero(samples)[0]
        early = samples[begin : begin + round(0.05 * EARCONS[signal].pulse_s * RATE_HZ)]
        assert np.abs(early).max() < 0.5 * np.abs(samples).max()


def test_between_two_alarms_there_is_room_for_words() -> None:
    """High priority: 2.5 to 15 s from the end of one burst to the beginning of the next (IEC 60601-1-8, from
    memory)."""
    assert 2.5 <= ALARM_EVERY_S - EARCONS[Signal.STOP_NOW].length_s <= 15.0


def test_sounds_and_bells_are_told_apart_by_the_same_order() -> None:
    counts = [len(EARCONS[signal].pitches_hz) for signal in Signal]
    assert counts == sorted(set(counts))
    assert [PATTERNS[signal].rings for signal in Signal] == sorted(PATTERNS[signal].rings for signal in Signal)
