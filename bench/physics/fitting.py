"""What readings at the bench say about a cup, a heater and a mould.

Every fit comes down to one slope shared by several straight lines, each with its own start: seconds on the
reckoned cooling curve over seconds of the clock for what cools, heat taken up over seconds of heating for what is
heated. The lines are laid by least squares in temperature, so a reading close to the room, where a kelvin stands
for minutes, weighs little. What was believed before weighs in: two readings a few seconds apart change next to
nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple, Protocol

from bench.errors import BenchError
from bench.physics.cup import Cup, loss_w_m2k, seconds_until, temperature_after
from bench.physics.mould import Block
from bench.physics.shared_slope import Point, Slope, believed, shared_slope

READING_NOISE_C = 1.5
"""Starting value: one sigma of a hand-held thermometer in a stirred cup, K. Common practice, no source."""

CUP_PRIOR_SPREAD = 0.3
"""Starting value: how far a cup's loss may be from the reckoned one. Draughts, a lid, what it stands on."""

POWER_PRIOR_SPREAD = 0.4
"""Starting value: how far the absorbed power may be from the profile's. Small loads take up much less."""

MOULD_PRIOR_SPREAD = 0.35
"""Starting value: bright metal loses some 5 W/m2/K in still air and dark metal some 11, around the starting 8."""

LEAST_EXCESS_K = 5.0
"""Readings this close to the room or closer say nothing of how fast a thing cools, and are left out."""

Reading = tuple[float, float]
"""Seconds, and the temperature read then in degC."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """A fitted value: a factor, or a power in W. ``spread`` is one sigma of it as a share of it.

    ``readings`` counts those that carried weight. While ``spread`` is close to the prior's, hardly more is known
    than before.
    """

    value: float
    spread: float
    readings: int


@dataclass(frozen=True, kw_only=True, slots=True)
class CupStretch:
    """A cup left alone with what it held meanwhile, and what was read, in order.

    Off the heat the seconds are the clock's. On it they are those the heater was on, so that pauses to stir do not
    count.
    """

    cup: Cup
    readings: tuple[Reading, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class MouldStretch:
    """A mould left to cool without a shot, and what was read, in order."""

    block: Block
    readings: tuple[Reading, ...]


def fit_cup_loss(
    stretches: Sequence[CupStretch], *, room_c: float, noise_c: float = READING_NOISE_C
) -> Fit | None:
    """Factor on the loss of a cup off the heat, the ``loss_factor`` of the cup's cooling.

    None without two readings at different times in any stretch, or when they do not fall.
    """
    cooling = [_Cooling(_CupCourse(each.cup, room_c), _above_room(each.readings, room_c)) for each in stretches]
    return _cooling_fit(cooling, room_c=room_c, prior_spread=CUP_PRIOR_SPREAD, noise_c=noise_c)


def fit_mould_loss(
    stretches: Sequence[MouldStretch], *, room_c: float, noise_c: float = READING_NOISE_C
) -> Fit | None:
    """Factor on ``loss_w_m2k`` of the blocks given.

    None without two readings at different times in any stretch, or when they do not fall. A mould cools slowly:
    readings a quarter of an hour apart over an hour say something, those between two shots next to nothing.
    """
    cooling = [
        _Cooling(_BlockCourse(each.block, room_c), _above_room(each.readings, room_c)) for each in stretches
    ]
    return _cooling_fit(cooling, room_c=room_c, prior_spread=MOULD_PRIOR_SPREAD, noise_c=noise_c)


def fit_absorbed_power(
    stretches: Sequence[CupStretch],
    *,
    prior_w: float,
    room_c: float | None = None,
    loss_factor: float = 1.0,
    noise_c: float = READING_NOISE_C,
) -> Fit | None:
    """Power a cup takes up on the heat, W; None when nothing got warmer or no two times differ.

    Without ``room_c`` it is m c dT / t as it stands, the power that ``melt_s`` and ``bursts_s`` reckon with: what
    the cup loses meanwhile is already off it. With ``room_c`` the cup's loss is added, which gives what the heater
    feeds it, hot or cold; ``kept_power_w`` turns that into the other.

    A cup that stands off the heat between two readings loses heat that no heating second tells of: read right
    before and right after a burst, or give each burst as its own stretch.
    """
    lines = [_heating_line(each, prior_w, room_c, loss_factor) for each in stretches if _tells(each.readings)]
    return _fit(shared_slope(lines), lines, prior=prior_w, prior_spread=POWER_PRIOR_SPREAD, noise_c=noise_c)


def kept_power_w(
    cup: Cup, *, absorbed_w: float, start_c: float, to_c: float, room_c: float, loss_factor: float = 1.0
) -> float:
    """What is left on average of a heater's power, once the cup's loss on the way is off it, W.

    Simpson's rule over the time each degree takes. Raises BenchError when the loss eats the power up on the way.
    """
    if to_c <= start_c:
        return absorbed_w - loss_factor * _loss_w(cup, start_c, room_c)
    if absorbed_w <= loss_factor * _loss_w(cup, to_c, room_c):
        raise BenchError(f"{absorbed_w:g} W never bring this cup to {to_c:g} °C: it loses as much to the room")
    parts = 32
    s_per_j = [
        1 / (absorbed_w - loss_factor * _loss_w(cup, start_c + (to_c - start_c) * number / parts, room_c))
        for number in range(parts + 1)
    ]
    return 3 * parts / (s_per_j[0] + s_per_j[-1] + 4 * sum(s_per_j[1::2]) + 2 * sum(s_per_j[2:-1:2]))


class _Course(Protocol):
    """A reckoned cooling curve, read both ways; seconds count from somewhere hotter than any reading."""

    def seconds_at(self, temp_c: float) -> float: ...

    def temp_c(self, seconds: float) -> float: ...

    def s_per_k(self, temp_c: float) -> float: ...


_HOTTEST_EXCESS_K = 2000.0


class _CupCourse:
    def __init__(self, cup: Cup, room_c: float) -> None:
        self._cup = cup
        self._room_c = room_c
        self._hottest_c = room_c + _HOTTEST_EXCESS_K

    def seconds_at(self, temp_c: float) -> float:
        return seconds_until(self._cup, start_c=self._hottest_c, until_c=temp_c, room_c=self._room_c)

    def temp_c(self, seconds: float) -> float:
        return temperature_after(self._cup, start_c=self._hottest_c, seconds=seconds, room_c=self._room_c)

    def s_per_k(self, temp_c: float) -> float:
        return self._cup.capacity_j_k / _loss_w(self._cup, temp_c, self._room_c)


class _BlockCourse:
    """Newton's law of cooling."""

    def __init__(self, block: Block, room_c: float) -> None:
        self._relaxation_s = block.relaxation_s
        self._room_c = room_c

    def seconds_at(self, temp_c: float) -> float:
        return self._relaxation_s * math.log(_HOTTEST_EXCESS_K / (temp_c - self._room_c))

    def temp_c(self, seconds: float) -> float:
        return self._room_c + _HOTTEST_EXCESS_K * math.exp(-seconds / self._relaxation_s)

    def s_per_k(self, temp_c: float) -> float:
        return self._relaxation_s / (temp_c - self._room_c)


class _Cooling(NamedTuple):
    course: _Course
    readings: list[Reading]


_PASSES = 3
"""Of Gauss and Newton's method. The first already is within a percent: the curve bends little within the noise."""


def _above_room(readings: Sequence[Reading], room_c: float) -> list[Reading]:
    """The readings from which a fall can still be told."""
    return [(s, c) for s, c in readings if LEAST_EXCESS_K < c - room_c < _HOTTEST_EXCESS_K]


def _tells(readings: Sequence[Reading]) -> bool:
    return len({seconds for seconds, _ in readings}) > 1


def _cooling_fit(
    stretches: Sequence[_Cooling], *, room_c: float, prior_spread: float, noise_c: float
) -> Fit | None:
    """The slope is how many seconds of the reckoned course go by in a second of the clock."""
    told = [each for each in stretches if _tells(each.readings)]
    lines = [
        [Point(s, each.course.seconds_at(c), each.course.s_per_k(c)) for s, c in each.readings] for each in told
    ]
    slope = shared_slope(lines)
    for _ in range(_PASSES):
        if slope is None or slope.value <= 0:
            return None
        lines = [
            [_laid(each.course, s, c, start + slope.value * s, room_c) for s, c in each.readings]
            for each, start in zip(told, slope.starts, strict=True)
        ]
        slope = shared_slope(lines)
    return _fit(slope, lines, prior=1.0, prior_spread=prior_spread, noise_c=noise_c)


def _laid(course: _Course, seconds: float, read_c: float, course_s: float, room_c: float) -> Point:
    """The reading seen from where the fit so far expects it, on the tangent of the course there."""
    expected_c = max(course.temp_c(course_s), room_c + LEAST_EXCESS_K / 2)
    s_per_k = course.s_per_k(expected_c)
    return Point(seconds, course.seconds_at(expected_c) + (expected_c - read_c) * s_per_k, s_per_k)


def _fit(
    slope: Slope | None, lines: Sequence[Sequence[Point]], *, prior: float, prior_spread: float, noise_c: float
) -> Fit | None:
    if slope is None or slope.value <= 0:
        return None
    belief = believed(slope, prior_spread=prior_spread, noise_c=noise_c)
    return Fit(value=prior * belief.factor, spread=belief.spread, readings=sum(map(len, lines)))


def _heating_line(stretch: CupStretch, prior_w: float, room_c: float | None, loss_factor: float) -> list[Point]:
    """Heat taken up over the heat the prior power would have given; losses by Simpson's rule."""
    capacity_j_k = stretch.cup.capacity_j_k
    lost_j = [0.0]
    for (s, c), (later_s, later_c) in pairwise(stretch.readings):
        mean_w = 0.0 if room_c is None else _mean_loss_w(stretch.cup, c, later_c, room_c)
        lost_j.append(lost_j[-1] + loss_factor * mean_w * (later_s - s))
    return [
        Point(prior_w * s, capacity_j_k * c + lost, capacity_j_k)
        for (s, c), lost in zip(stretch.readings, lost_j, strict=True)
    ]


def _mean_loss_w(cup: Cup, one_c: float, other_c: float, room_c: float) -> float:
    ends = _loss_w(cup, one_c, room_c) + _loss_w(cup, other_c, room_c)
    return (ends + 4 * _loss_w(cup, (one_c + other_c) / 2, room_c)) / 6


def _loss_w(cup: Cup, temp_c: float, room_c: float) -> float:
    return loss_w_m2k(cup, at_c=temp_c, room_c=room_c) * (cup.side_m2 + cup.top_m2) * (temp_c - room_c)
