"""What goes into the cup, as light sees it: K and S of the base plus those of each colourant by its load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from operator import add

from bench.colour.bands import BAND_COUNT, Spectrum
from bench.colour.layers import Medium
from bench.errors import BenchError

MOST_LOAD_PCT = 100.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Strength:
    """A colourant's absorption and scattering per mm of film and % of its mass in the cup, by band."""

    k_per_mm_pct: Spectrum
    s_per_mm_pct: Spectrum


@dataclass(frozen=True, kw_only=True, slots=True)
class Loaded:
    """A colourant in a cup: what it does to light, and how much of the cup's mass it is, %."""

    strength: Strength
    load_pct: float


def checked_loads(loads_pct: Sequence[float], *, field: str = "loads") -> None:
    """Raise BenchError, naming the field, for a load below 0 % or loads of more than 100 % together."""
    for load_pct in loads_pct:
        if not load_pct >= 0:
            raise BenchError(f"{field}: a load of {load_pct:g} % is less than nothing; give 0 % or more")
    total_pct = sum(loads_pct)
    if total_pct > MOST_LOAD_PCT:
        raise BenchError(f"{field}: {total_pct:g} % together is more than the whole cup; give 100 % at most")


def added(doses: Sequence[Loaded]) -> Medium:
    """What the colourants add to the base: the sums of load times strength."""
    checked_loads([dose.load_pct for dose in doses])
    k = s = (0.0,) * BAND_COUNT
    for dose in doses:
        load = dose.load_pct
        k = tuple(so_far + load * each for so_far, each in zip(k, dose.strength.k_per_mm_pct, strict=True))
        s = tuple(so_far + load * each for so_far, each in zip(s, dose.strength.s_per_mm_pct, strict=True))
    return Medium(k_per_mm=k, s_per_mm=s)


def scaled(base: Medium, extra: Medium, factor: float = 1.0) -> Medium:
    """The base with ``factor`` times what the colourants add."""
    if factor == 1.0:
        return Medium(
            k_per_mm=tuple(map(add, base.k_per_mm, extra.k_per_mm)),
            s_per_mm=tuple(map(add, base.s_per_mm, extra.s_per_mm)),
        )
    return Medium(
        k_per_mm=tuple(b + factor * e for b, e in zip(base.k_per_mm, extra.k_per_mm, strict=True)),
        s_per_mm=tuple(b + factor * e for b, e in zip(base.s_per_mm, extra.s_per_mm, strict=True)),
    )


def mix(base: Medium, doses: Sequence[Loaded] = ()) -> Medium:
    """The coloured plastic: K = K_base + sum(load k), S likewise (Duncan's additivity, cited from memory).

    The base is not reckoned as thinned by what is added: true within a few % of load, which is where colour lies.
    Raises BenchError for loads below 0 % or above 100 % together.
    """
    return scaled(base, added(doses))
