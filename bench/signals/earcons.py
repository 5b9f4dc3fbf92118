"""The sounds of the three signals, made here: bursts of short pulses that get faster and more with urgency.

The structure is that of the alarm bursts of IEC 60601-1-8: two pulses for what is routine, three for what wants
attention, three and two quicker ones for danger, here the first half of the standard's burst of ten, so that words
have room between two calls. Lengths, spacings and rise times are its Table 3 and 4 (from memory); fundamentals
between 150 and 1000 Hz with at least four harmonics up to 4000 Hz, and the rising figure of notes that it gives to
temperature, here an octave higher for small loudspeakers.

How loud a bench hears them is up to its loudspeaker: ISO 7731 asks for 15 dB above the noise (from memory).
"""

from __future__ import annotations

import io
import math
import wave
from array import array
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import accumulate

from bench.signals.bell import Signal

RATE_HZ = 22_050
"""Samples a second: room for harmonics up to 4000 Hz, in small files."""

HARMONICS = (1.0, 0.7, 0.5, 0.4, 0.3)
"""How strong each is beside the fundamental, within the standard's 15 dB."""

RISE = 0.15
"""Of a pulse's length, at each end: less clicks, more blurs (IEC 60601-1-8 allows 10 to 40 %, from memory)."""

PEAK = 0.9
"""Of full scale, of every earcon alike: the machine's own volume decides, and urgency is told by speed."""

LEAD_S = 0.05
"""Silence before and after: some sound cards swallow the first moments."""

C5, D5, E5, F5, G5 = 523.25, 587.33, 659.26, 698.46, 783.99
"""Hz, equal temperament on A4 = 440 Hz (ISO 16)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Earcon:
    """Pulses of one length at these pitches, with these silences between them."""

    pulse_s: float
    pitches_hz: tuple[float, ...]
    gaps_s: tuple[float, ...]

    @property
    def length_s(self) -> float:
        """From the first pulse's beginning to the last one's end."""
        return self.pulse_s * len(self.pitches_hz) + sum(self.gaps_s)

    @property
    def begins_s(self) -> tuple[float, ...]:
        """When each pulse begins, counted from the first."""
        return tuple(accumulate((self.pulse_s + gap_s for gap_s in self.gaps_s), initial=0.0))


EARCONS: Mapping[Signal, Earcon] = {
    Signal.STEP_OVER: Earcon(pulse_s=0.16, pitches_hz=(E5, C5), gaps_s=(0.14,)),
    Signal.ATTENTION: Earcon(pulse_s=0.16, pitches_hz=(C5, D5, E5), gaps_s=(0.14, 0.14)),
    Signal.STOP_NOW: Earcon(pulse_s=0.12, pitches_hz=(C5, D5, E5, F5, G5), gaps_s=(0.08, 0.08, 0.28, 0.08)),
}


def wav(earcon: Earcon) -> bytes:
    """The earcon as a WAV file: one channel, 16 bits."""
    samples = array("h", (round(32_767 * value) for value in _samples(earcon)))
    if samples.itemsize != 2:
        raise RuntimeError("a sample is 16 bits")
    file = io.BytesIO()
    with wave.open(file, "wb") as written:
        written.setnchannels(1)
        written.setsampwidth(2)
        written.setframerate(RATE_HZ)
        written.writeframes(samples.tobytes())
    return file.getvalue()


def _samples(earcon: Earcon) -> Iterator[float]:
    silences = (LEAD_S, *earcon.gaps_s, LEAD_S)
    yield from _silence(silences[0])
    for pitch_hz, silence_s in zip(earcon.pitches_hz, silences[1:], strict=True):
        yield from _pulse(pitch_hz, earcon.pulse_s)
        yield from _silence(silence_s)


def _silence(seconds: float) -> Iterator[float]:
    return iter([0.0] * round(seconds * RATE_HZ))


def _pulse(pitch_hz: float, seconds: float) -> Iterator[float]:
    count = round(seconds * RATE_HZ)
    waves = [_wave(pitch_hz, place / RATE_HZ) for place in range(count)]
    loudest = max(map(abs, waves))
    rise = RISE * count
    for place, value in enumerate(waves):
        edge = min(1.0, place / rise, (count - 1 - place) / rise)
        yield PEAK / loudest * value * math.sin(math.pi / 2 * edge) ** 2


def _wave(pitch_hz: float, at_s: float) -> float:
    turn = math.tau * pitch_hz * at_s
    return sum(strength * math.sin(number * turn) for number, strength in enumerate(HARMONICS, start=1))
