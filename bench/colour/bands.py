"""The wavelength bands that every spectrum of this package is given in: 380 to 730 nm in steps of 10 nm."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

Spectrum: TypeAlias = tuple[float, ...]
"""One number a band, shortest wavelength first: a reflectance (0 to 1), or a K or an S per mm."""

BANDS_NM: tuple[int, ...] = tuple(range(380, 740, 10))
"""The middle of each band, nm."""

BAND_COUNT = len(BANDS_NM)


def flat(value: float) -> Spectrum:
    """The same number in every band: a neutral."""
    return (value,) * BAND_COUNT


def by_wavelength(curve: Callable[[float], float]) -> Spectrum:
    """A curve over wavelength in nm, read at each band."""
    return tuple(curve(float(nm)) for nm in BANDS_NM)
