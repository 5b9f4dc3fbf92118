"""How long a cup takes to heat, and how to do it in bursts with a stir and a reading between them.

The power is what the cup absorbs, found by heating a weighed amount once. What is printed on an oven is more, and
much more for a small load, because it is measured with a litre of water (IEC 60705).
"""

from __future__ import annotations

import math

from bench.errors import BenchError
from bench.physics.cup import Cup

FIRST_BURST_SHARE = 0.6
"""Of the rise: common practice, no source, is one long burst and then short ones."""

LAST_RISE_K = 10.0
LONGEST_LAST_BURST_S = 10.0
SHORTEST_BURST_S = 5.0
"""The last ten degrees in bursts of 5 to 10 s: common practice, no source."""

LONGEST_MIDDLE_BURST_S = 30.0
SHORTEST_MIDDLE_BURST_S = 10.0
"""Between the first burst and the last degrees half a minute at most: common practice, no source."""

LONGEST_HEATING_S = 86_400.0


def heat_j(cup: Cup, *, start_c: float, to_c: float) -> float:
    """Heat to bring cup and plastic from one temperature to another, J; 0 when they are there already."""
    return cup.capacity_j_k * max(0.0, to_c - start_c)


def melt_s(cup: Cup, *, start_c: float, to_c: float, power_w: float) -> float:
    """Heating time at an absorbed power, s. Losses to the room are part of what the calibration run measures.

    Raises BenchError for a power that would take more than a day.
    """
    seconds = heat_j(cup, start_c=start_c, to_c=to_c) / power_w
    if seconds > LONGEST_HEATING_S:
        raise BenchError(f"{power_w:g} W would take more than a day to heat {cup.mass_g:g} g")
    return seconds


def absorbed_power_w(cup: Cup, *, start_c: float, end_c: float, seconds: float) -> float:
    """Power the cup took up in a calibration run, W. Raises BenchError when it did not get warmer."""
    if end_c <= start_c or seconds <= 0:
        raise BenchError(
            f"a calibration run needs a rise: found {start_c:g} °C, then {end_c:g} °C after {seconds:g} s"
        )
    return heat_j(cup, start_c=start_c, to_c=end_c) / seconds


def bursts_s(cup: Cup, *, start_c: float, to_c: float, power_w: float) -> list[float]:
    """The heating time in bursts that add up to it, s; take a reading after each and reckon the rest anew.

    One first burst for 60 % of the rise, then halves of what remains, then the last ten degrees in bursts of
    10 s at most. A shorter one than 5 s is put together with the next, because a cup loses in the stir after it as
    much as it gained. Never all the way in one burst. Empty when there is nothing to heat.
    """
    rise_k = to_c - start_c
    if rise_k <= 0:
        return []
    s_per_k = melt_s(cup, start_c=start_c, to_c=to_c, power_w=power_w) / rise_k
    last_k = min(rise_k, LAST_RISE_K)
    first_k = min(FIRST_BURST_SHARE * rise_k, rise_k - last_k)
    first = [s_per_k * first_k] if first_k > 0 else []
    middle = _halves(s_per_k * (rise_k - last_k - first_k))
    last_s = s_per_k * last_k
    parts = math.ceil(last_s / LONGEST_LAST_BURST_S)
    return _none_short([*first, *middle, *[last_s / parts] * parts])


def _halves(left_s: float) -> list[float]:
    """Each burst half of what is left, within bounds; what would leave less than a short one is taken whole."""
    bursts: list[float] = []
    while left_s >= 2 * SHORTEST_MIDDLE_BURST_S:
        bursts.append(min(left_s / 2, LONGEST_MIDDLE_BURST_S))
        left_s -= bursts[-1]
    return [*bursts, left_s] if left_s > 0 else bursts


def _none_short(bursts: list[float]) -> list[float]:
    """A short burst and the next as one, or evened out where that would be a long one; the last stays as it is."""
    for place in range(len(bursts) - 2, -1, -1):
        if bursts[place] >= SHORTEST_BURST_S:
            continue
        both_s = bursts[place] + bursts[place + 1]
        together = [both_s] if both_s <= LONGEST_LAST_BURST_S else [both_s / 2] * 2
        bursts = [*bursts[:place], *together, *bursts[place + 2 :]]
    return bursts
