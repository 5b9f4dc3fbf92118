"""The skin that grows on the wall while the plastic still flows, and whether a passage stays open.

Taken as a half-space that starts at the shot's temperature and meets the wall at their contact temperature; the
skin is what has fallen below the gel point. Fresh hot plastic that keeps arriving thins the skin, so a real one is
thinner: the estimate errs towards a warmer mould.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bench.errors import BenchError
from bench.physics.cooling import GEL_C
from bench.physics.substance import ALUMINIUM_6061, Substance, contact_c

SHORT_BELOW = 0.5
"""Open fraction below which short tails are to be expected: starting value."""

_ABSOLUTE_ZERO_C = -273.15


@dataclass(frozen=True, kw_only=True, slots=True)
class Filling:
    """What is left open of the thinnest passage when the shot ends.

    ``skin_mm`` grows on each face. ``coldest_mould_c`` and ``coldest_shot_c`` still leave half of the passage
    open with all else as it is; the mould's is None when no mould is too cold for this passage.
    """

    skin_mm: float
    open_fraction: float
    contact_c: float
    coldest_mould_c: float | None
    coldest_shot_c: float

    @property
    def fills(self) -> bool:
        """Whether enough stays open to expect whole tails."""
        return self.open_fraction >= SHORT_BELOW


def will_fill(
    plastic: Substance,
    *,
    passage_mm: float,
    fill_s: float,
    shot_c: float,
    mould_c: float,
    gel_c: float = GEL_C,
    mould: Substance = ALUMINIUM_6061,
) -> Filling:
    """Skin and open fraction of a passage between two faces that takes ``fill_s`` to fill.

    Raises BenchError for plastic that has gelled before it is shot, ArithmeticError for figures that numbers
    cannot hold.
    """
    if shot_c <= gel_c:
        raise BenchError(f"plastic at {shot_c:g} °C does not flow: it gels at {gel_c:g} °C")
    met_c = contact_c(one=plastic, one_c=shot_c, other=mould, other_c=mould_c)
    if not math.isfinite(met_c):
        raise ArithmeticError("properties too far apart for floating-point numbers")
    skin = skin_mm(plastic, seconds=fill_s, shot_c=shot_c, wall_c=met_c, gel_c=gel_c)
    # the share (gel - contact) / (shot - contact) at which the skins just leave the passage half open
    allowed_m = 1e-3 * passage_mm * (1 - SHORT_BELOW) / 2
    share = math.erf(allowed_m / (2 * math.sqrt(plastic.diffusivity_m2_s * fill_s))) if fill_s > 0 else 1.0
    return Filling(
        skin_mm=skin,
        open_fraction=max(0.0, 1 - 2 * skin / passage_mm),
        contact_c=met_c,
        coldest_mould_c=_coldest_mould_c(plastic, mould, share=share, shot_c=shot_c, gel_c=gel_c),
        coldest_shot_c=_coldest_shot_c(plastic, mould, share=share, mould_c=mould_c, gel_c=gel_c),
    )


def skin_mm(plastic: Substance, *, seconds: float, shot_c: float, wall_c: float, gel_c: float = GEL_C) -> float:
    """Depth to which a half-space at ``shot_c`` has fallen below ``gel_c`` with its face held at ``wall_c``, mm.

    2 sqrt(a t) erfinv((T_gel - T_wall) / (T_shot - T_wall)): Incropera, Fundamentals of Heat and Mass Transfer,
    6th ed., section 5.7; its example 5.6 (20 degC, face at -15, 0 degC after 60 days): 0.68 m. 0 against a wall
    warmer than the gel point. Raises BenchError for what has gelled before.
    """
    if wall_c >= gel_c:
        return 0.0
    if shot_c <= gel_c:
        raise BenchError(f"plastic at {shot_c:g} °C does not flow: it gels at {gel_c:g} °C")
    depth_m = 2 * math.sqrt(plastic.diffusivity_m2_s * seconds) * erfinv((gel_c - wall_c) / (shot_c - wall_c))
    return 1e3 * depth_m


def erfinv(share: float) -> float:
    """Inverse of the error function for 0 <= share < 1, by Newton's method.

    From 0 it only ever comes closer from below, because the error function is concave there.
    """
    if not 0 <= share < 1:
        raise ValueError(f"the error function has no inverse here for {share}")
    value = 0.0
    for _ in range(100):
        better = value + (share - math.erf(value)) * math.exp(value * value) * math.sqrt(math.pi) / 2
        if better <= value:
            break
        value = better
    return value


def _coldest_mould_c(
    plastic: Substance, mould: Substance, *, share: float, shot_c: float, gel_c: float
) -> float | None:
    if share >= 1:
        return None
    met_c = (gel_c - share * shot_c) / (1 - share)
    mould_c = met_c + (met_c - shot_c) * plastic.effusivity_w_s05_m2k / mould.effusivity_w_s05_m2k
    return mould_c if mould_c > _ABSOLUTE_ZERO_C else None


def _coldest_shot_c(plastic: Substance, mould: Substance, *, share: float, mould_c: float, gel_c: float) -> float:
    """Below its gel point plastic does not flow at all, however warm the mould."""
    own = plastic.effusivity_w_s05_m2k
    weight = own / (own + mould.effusivity_w_s05_m2k)
    return max(gel_c, mould_c + (gel_c - mould_c) / (weight + share * (1 - weight)))
