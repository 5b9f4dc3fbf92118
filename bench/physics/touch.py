"""When a bait out of its mould can be handled, judged by its hottest point and not by its skin.

A bait lifted from the bath warms up again in the hand, so the skin says little. These are estimates from published
burn thresholds, never a safe limit: test before you trust.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.errors import BenchError
from bench.physics.conduction import Layer, Shape, Transient
from bench.physics.substance import Substance

BRIEF_C = 48.0
BARE_C = 43.0
"""Burn thresholds of ISO 13732-1:2006 for any material: 48 degC for 10 min, 43 degC for 8 h (from memory).

Moritz & Henriques, Am. J. Pathol. 23 (1947) 695: lowest 44 degC, after 6 h.
"""

AIR_FILM_W_M2K = 10.0
WATER_FILM_W_M2K = 500.0
"""Starting values: still air with radiation, and a still water bath."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Touch:
    """Seconds until the hottest point is at 48 degC (brief handling) and at 43 degC (bare hands)."""

    brief_s: float
    bare_s: float


def time_to_touch(
    plastic: Substance, *, body_mm: float, start_c: float, around_c: float, film_w_m2k: float
) -> Touch:
    """How long a body, evenly at ``start_c``, must cool in air or water before it may be touched.

    Raises BenchError when the surroundings are too warm for it ever to get there.
    """
    if around_c >= BARE_C:
        raise BenchError(
            f"surroundings at {around_c:g} °C never let a bait fall to {BARE_C:g} °C: use cooler air or water"
        )
    layer = Layer(thickness_mm=body_mm / 2, substance=plastic, start_c=start_c)
    body = Transient([layer], shape=Shape.CYLINDER, around_c=around_c, film_w_m2k=film_w_m2k)
    return Touch(brief_s=body.seconds_to(BRIEF_C, layer=0), bare_s=body.seconds_to(BARE_C, layer=0))


def left_hottest_c(
    plastic: Substance,
    *,
    body_mm: float,
    start_c: float,
    mould_c: float,
    seconds: float,
    film_w_m2k: float,
    rod: Layer | None = None,
) -> float:
    """An upper bound of the hottest point of a body after ``seconds`` in a closed mould, degC.

    The body was nowhere hotter than ``start_c`` at first, the mould never hotter than ``mould_c`` meanwhile. Both
    are taken to be so hot everywhere and all the time: by the maximum principle nothing that begins cooler, or
    cools against a cooler mould, ends hotter. ``rod`` is the one inside, half its diameter thick.
    """
    if mould_c >= start_c or seconds <= 0:
        return start_c
    inside_mm = rod.thickness_mm if rod is not None else 0.0
    layers = [
        *([rod] if rod is not None else []),
        Layer(thickness_mm=body_mm / 2 - inside_mm, substance=plastic, start_c=start_c),
    ]
    body = Transient(layers, shape=Shape.CYLINDER, around_c=mould_c, film_w_m2k=film_w_m2k)
    return min(start_c, body.hottest_c(seconds, layer=len(layers) - 1))
