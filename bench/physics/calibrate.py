"""What a heater's power is, from runs in which a weighed cup was heated for a counted time and read.

A run gives what the cup kept between its two readings. The number that is kept in a profile is what a cup keeps on
the way from the room into its band; the cup's loss, as reckoned, leads from one to the other.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bench.errors import BenchError
from bench.physics.cup import Cup, loss_w_m2k
from bench.physics.fitting import kept_power_w
from bench.physics.melting import absorbed_power_w

THERMOMETER_K = 1.0
"""Starting value: one sigma of one reading in a stirred cup, K. Common practice, no source."""

CLOCK_S = 1.0
"""Starting value: one sigma of a time between two presses of a key or a switch, s."""

LEAST_S = 10.0
LEAST_RISE_K = 15.0
"""Below it the two readings alone leave a tenth of the power open."""

LEAST_ABSORBED_W, MOST_ABSORBED_W = 50.0, 2000.0
"""Starting values: what a cup takes up from a kitchen heater lies between. Common practice, no source."""

FAR_APART = 2.0
"""Runs that scatter so many times more than their readings explain do not measure the same thing."""


@dataclass(frozen=True, kw_only=True, slots=True)
class HeatingRun:
    """One weighed cup, stirred and read before and after so many seconds on the heat."""

    cup: Cup
    start_c: float
    end_c: float
    seconds: float

    @property
    def kept_w(self) -> float:
        """m c dT / t: what the cup kept between the readings, W."""
        return absorbed_power_w(self.cup, start_c=self.start_c, end_c=self.end_c, seconds=self.seconds)

    @property
    def spread(self) -> float:
        """One sigma of the power as a share of it, from two readings and one time."""
        return math.hypot(math.sqrt(2) * THERMOMETER_K / (self.end_c - self.start_c), CLOCK_S / self.seconds)


@dataclass(frozen=True, kw_only=True, slots=True)
class Power:
    """A power in W with one sigma of it. ``agree`` is False for runs that scatter more than they may."""

    power_w: float
    spread_w: float
    agree: bool = True


def check_time(seconds: float) -> None:
    """Raises BenchError for a time too short to be told."""
    if seconds < LEAST_S:
        raise BenchError(
            f"{seconds:.0f} s is too short to tell a power from: heat for at least {LEAST_S:.0f} s, "
            f"better for a minute or two"
        )


def check_rise(*, start_c: float, end_c: float) -> None:
    """Raises BenchError for readings that do not rise, or hardly more than a thermometer errs."""
    if end_c <= start_c:
        raise BenchError(
            f"the cup did not get warmer: it was {_both(start_c)} and reads {_both(end_c)}, and the end must be "
            f"above the start; stir and read again"
        )
    if end_c - start_c < LEAST_RISE_K:
        raise BenchError(
            f"from {_both(start_c)} to {_both(end_c)} is too small a rise to tell from a thermometer's error: "
            f"heat on to {_both(start_c + LEAST_RISE_K)} or more"
        )


def check_run(run: HeatingRun) -> None:
    """Raises BenchError for a run that says nothing, or what no kitchen heater does to a cup."""
    check_time(run.seconds)
    check_rise(start_c=run.start_c, end_c=run.end_c)
    check_power(run.kept_w)


def check_power(power_w: float) -> None:
    """Raises BenchError for a power that no cup takes up from a kitchen heater."""
    if not LEAST_ABSORBED_W <= power_w <= MOST_ABSORBED_W:
        more = power_w > MOST_ABSORBED_W
        bound = f"more than {MOST_ABSORBED_W:.0f}" if more else f"less than {LEAST_ABSORBED_W:.0f}"
        raise BenchError(
            f"by these figures the cup took up {power_w:.0f} W, {bound} W, which no kitchen heater does to it: "
            f"look at the mass, the seconds on the heat and both readings"
        )


def fed_power_w(run: HeatingRun, *, room_c: float) -> float:
    """What the heater fed the cup: what it kept and what it lost on the way, W.

    The power with which ``kept_power_w`` gives the run's own, by halving the interval between none kept and none
    lost.
    """
    lost_w = _loss_w(run.cup, run.end_c, room_c)
    low, high = max(0.0, lost_w), run.kept_w + max(0.0, lost_w)
    for _ in range(40):
        middle = (low + high) / 2
        if middle <= lost_w or _kept_w(run, middle, room_c) < run.kept_w:
            low = middle
        else:
            high = middle
    return high


def absorbed_on_the_way_w(run: HeatingRun, *, room_c: float, band_c: float) -> Power:
    """What the cup keeps on the way from the room to ``band_c`` by this run: the number of a profile.

    Raises BenchError where the heater never brings the cup there.
    """
    fed_w = fed_power_w(run, room_c=room_c)
    if fed_w <= _loss_w(run.cup, band_c, room_c):
        raise BenchError(
            f"about {fed_w:.0f} W never bring this cup to {_both(band_c)}: it loses as much to the room"
        )
    power_w = kept_power_w(run.cup, absorbed_w=fed_w, start_c=room_c, to_c=band_c, room_c=room_c)
    return Power(power_w=power_w, spread_w=run.spread * run.kept_w)


def combined(powers: Sequence[Power]) -> Power:
    """Runs together: the mean weighted by their spreads, W.

    Where they scatter more than their spreads say the spread of the mean grows by the root of chi squared over its
    degrees of freedom (Birge's ratio; Particle Data Group, Review of Particle Physics, introduction; from memory).
    Raises ValueError without a run.
    """
    if not powers:
        raise ValueError("no run to combine")
    weights = [1 / each.spread_w**2 for each in powers]
    mean_w = sum(weight * each.power_w for weight, each in zip(weights, powers, strict=True)) / sum(weights)
    chi2 = sum(((each.power_w - mean_w) / each.spread_w) ** 2 for each in powers)
    ratio = math.sqrt(chi2 / (len(powers) - 1)) if len(powers) > 1 else 0.0
    return Power(power_w=mean_w, spread_w=max(1.0, ratio) / math.sqrt(sum(weights)), agree=ratio <= FAR_APART)


def _kept_w(run: HeatingRun, fed_w: float, room_c: float) -> float:
    return kept_power_w(run.cup, absorbed_w=fed_w, start_c=run.start_c, to_c=run.end_c, room_c=room_c)


def _both(temp_c: float) -> str:
    return f"{temp_c:.0f} °C ({temp_c * 1.8 + 32:.0f} °F)"


def _loss_w(cup: Cup, temp_c: float, room_c: float) -> float:
    return loss_w_m2k(cup, at_c=temp_c, room_c=room_c) * (cup.side_m2 + cup.top_m2) * (temp_c - room_c)
