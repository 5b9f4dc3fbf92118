"""Transient conduction through layers, from an axis or a mid-plane out to surroundings at one temperature.

Space: finite volumes, second order, cells even within a layer and shared out by each layer's diffusion length.

Time: TR-BDF2 (Bank et al., IEEE Trans. Electron Devices 32 (1985) 1992; Hosea & Shampine, Appl. Numer. Math. 20
(1996) 21). Second order, so that steps of a tenth of a cooling time are enough where backward Euler would want
a hundredth, and L-stable, so that the jump from hot plastic to cold wall at the start does not ring as it does
with Crank-Nicolson. Both its stages solve the same tridiagonal matrix, which is factored once per step length.

The step only ever doubles. That is safe because the rate of change obeys the same equation with surroundings at
zero, so by the maximum principle its largest value never grows.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import count
from operator import add, mul, sub, truediv
from typing import NamedTuple

from bench.physics.substance import Substance


class Shape(Enum):
    """A flat wall counted from its mid-plane, or a long cylinder counted from its axis."""

    SLAB = "slab"
    CYLINDER = "cylinder"


@dataclass(frozen=True, kw_only=True, slots=True)
class Layer:
    """One layer, from the inside out.

    ``contact_w_m2k`` is the conductance of the joint to the next layer outwards; None for perfect contact. The
    outermost layer's joint is the film of the body.
    """

    thickness_mm: float
    substance: Substance
    start_c: float
    contact_w_m2k: float | None = None


_CELLS = 40
_FEWEST_CELLS = 6

_GAMMA = 2 - math.sqrt(2)
_IMPLICIT = _GAMMA / 2
_MIDDLE = 1 / (_GAMMA * (2 - _GAMMA))
_OLD = (1 - _GAMMA) ** 2 / (_GAMMA * (2 - _GAMMA))

_FIRST_STEP = 0.2
"""Of the shortest time constant of any cell."""

_DOUBLE_BELOW = 0.03
"""The step doubles while no cell changes by more than this share of the largest excess over the surroundings."""

_GONE = 1e-9
"""Share of the first excess below which the body counts as cold and the step is free to grow."""

_FOUND = 1e-7
"""Share of a step at which the search for a moment stops."""


class _Cells(NamedTuple):
    """The grid, per metre of cylinder or square metre of slab; lengths in metres, ``outward`` in W/K.

    ``outward`` is the conductance from each cell to the next, the last one to the surroundings. ``inside_share``
    tells, by layer, which part of the difference across its inner joint lies outside that joint's face.
    """

    at: list[float]
    edge: float
    volume: list[float]
    capacity: list[float]
    outward: list[float]
    spans: list[tuple[int, int]]
    inside_share: list[float]


class _Factors(NamedTuple):
    """The matrix C + a K, factored for one step: the same positive numbers serve both sweeps."""

    step_s: float
    carry: list[float]
    inverse: list[float]


def _area(radius_m: float, shape: Shape) -> float:
    return 1.0 if shape is Shape.SLAB else 2 * math.pi * radius_m


def _volume(near_m: float, far_m: float, shape: Shape) -> float:
    return far_m - near_m if shape is Shape.SLAB else math.pi * (far_m**2 - near_m**2)


def _cells_per_layer(layers: Sequence[Layer]) -> list[int]:
    lengths = [layer.thickness_mm / math.sqrt(layer.substance.diffusivity_m2_s) for layer in layers]
    total = sum(lengths)
    if not 0 < total < math.inf:
        raise ArithmeticError("layers too thick or thin for floating-point numbers")
    return [max(_FEWEST_CELLS, round(_CELLS * length / total)) for length in lengths]


def _divide(layers: Sequence[Layer], shape: Shape, film_w_m2k: float) -> _Cells:
    edge = 0.0
    cells = _Cells([], 1e-3 * sum(layer.thickness_mm for layer in layers), [], [], [], [], [])
    resistance: list[float] = []
    for layer, parts in zip(layers, _cells_per_layer(layers), strict=True):
        width = layer.thickness_mm * 1e-3 / parts
        half = width / 2 / layer.substance.k_w_mk
        if resistance:
            own_half = half / _area(edge, shape)
            resistance[-1] += own_half
            cells.inside_share.append(own_half / resistance[-1])
        else:
            cells.inside_share.append(0.0)
        cells.spans.append((len(resistance), len(resistance) + parts))
        for number in range(parts):
            near, far = edge + number * width, edge + (number + 1) * width
            cells.at.append((near + far) / 2)
            cells.volume.append(_volume(near, far, shape))
            cells.capacity.append(cells.volume[-1] * layer.substance.rho_kg_m3 * layer.substance.c_j_kgk)
            resistance.append(2 * half / _area(far, shape))
        edge += parts * width
        resistance[-1] /= 2
        if layer.contact_w_m2k is not None and len(cells.spans) < len(layers):
            resistance[-1] += 1 / (layer.contact_w_m2k * _area(edge, shape))
    resistance[-1] += 1 / (film_w_m2k * _area(edge, shape))
    cells.outward.extend(1 / each for each in resistance)
    return cells


class Transient:
    """Layers that start at their own temperatures and relax towards their surroundings.

    Marches forward only as far as it has been asked and remembers the way, so that several questions about one
    shot cost one march. Layers are numbered from the inside; times are seconds from the start. Raises
    ArithmeticError for figures so far apart that numbers cannot hold them.
    """

    def __init__(self, layers: Sequence[Layer], *, shape: Shape, around_c: float, film_w_m2k: float) -> None:
        """``film_w_m2k`` is the conductance between the outer face and surroundings held at ``around_c``."""
        self._around_c = around_c
        self._cells = cells = _divide(layers, shape, film_w_m2k)
        self._film_w_k = film_w_m2k * _area(cells.edge, shape)
        start = [
            layer.start_c - around_c
            for layer, (first, end) in zip(layers, cells.spans, strict=True)
            for _ in range(first, end)
        ]
        self._neglected = _GONE * max(map(abs, start))
        both_sides = map(add, cells.outward, [0.0, *cells.outward])
        self._factors = self._factor(_FIRST_STEP * min(map(truediv, cells.capacity, both_sides)))
        self._times_s = [0.0]
        self._states = [start]

    def seconds_to(self, target_c: float, *, layer: int) -> float:
        """When the hottest point of a layer has fallen to ``target_c`` with nothing left that could reheat it.

        0 when it never was hotter. Raises ValueError when the surroundings are as hot as the target, which is
        then never reached: ask before.
        """
        if target_c <= self._around_c:
            raise ValueError(f"surroundings at {self._around_c} degC never let a body fall to {target_c} degC")
        target = target_c - self._around_c
        late = -1
        for number in count():
            if number == len(self._states):
                self._march()
            state = self._states[number]
            if self._hottest(state, layer) > target:
                late = number
            elif max(state) <= target:
                break
        return 0.0 if late < 0 else self._times_s[late] + self._wait_s(late, target, layer)

    def hottest_c(self, seconds: float, *, layer: int) -> float:
        """Temperature of the hottest point of a layer, its inner face included, degC."""
        return self._around_c + self._hottest(self._excess(seconds), layer)

    def mean_c(self, seconds: float, *, layer: int) -> float:
        """Mean temperature of a layer by volume, degC."""
        cells = slice(*self._cells.spans[layer])
        volume = self._cells.volume[cells]
        return self._around_c + math.fsum(map(mul, volume, self._excess(seconds)[cells])) / math.fsum(volume)

    def temperature_c(self, seconds: float, *, at_mm: float) -> float:
        """Temperature at a distance from the axis or mid-plane, degC; straight lines between the cells."""
        excess = self._excess(seconds)
        wall = excess[-1] * self._cells.outward[-1] / self._film_w_k
        places = [0.0, *self._cells.at, self._cells.edge]
        values = [_innermost(excess), *excess, wall]
        right = min(max(bisect_right(places, at_mm * 1e-3), 1), len(places) - 1)
        share = (at_mm * 1e-3 - places[right - 1]) / (places[right] - places[right - 1])
        return self._around_c + values[right - 1] + share * (values[right] - values[right - 1])

    def heat_flow_w(self, seconds: float) -> float:
        """Heat leaving by the outer face: W per metre of cylinder, or per m2 of one face of a slab."""
        return self._excess(seconds)[-1] * self._cells.outward[-1]

    def heat_held_j(self, seconds: float) -> float:
        """Heat held above the surroundings: J per metre of cylinder, or per m2 of one half of a slab."""
        return math.fsum(map(mul, self._cells.capacity, self._excess(seconds)))

    def _excess(self, seconds: float) -> list[float]:
        while self._times_s[-1] < seconds:
            self._march()
        before = max(bisect_right(self._times_s, seconds) - 1, 0)
        rest_s = seconds - self._times_s[before]
        state = self._states[before]
        return self._stepped(state, self._factor(rest_s)) if rest_s > 0 else state

    def _hottest(self, excess: list[float], layer: int) -> float:
        first, end = self._cells.spans[layer]
        if first == 0:
            face = _innermost(excess)
        else:
            face = excess[first] + self._cells.inside_share[layer] * (excess[first - 1] - excess[first])
        return max(face, max(excess[first:end]))

    def _march(self) -> None:
        state = self._states[-1]
        after = self._stepped(state, self._factors)
        self._times_s.append(self._times_s[-1] + self._factors.step_s)
        self._states.append(after)
        change = max(map(abs, map(sub, after, state)))
        if not (change < math.inf and self._times_s[-2] < self._times_s[-1] < math.inf):
            raise ArithmeticError("layers too thick, thin or slow for floating-point numbers")
        if change <= max(_DOUBLE_BELOW * max(map(abs, after)), self._neglected):
            self._factors = self._factor(2 * self._factors.step_s)

    def _wait_s(self, number: int, target: float, layer: int) -> float:
        """How long after a remembered state the target is crossed: false position on the logarithm (Illinois)."""
        state = self._states[number]
        low_s, high_s = 0.0, self._times_s[number + 1] - self._times_s[number]
        low = math.log(self._hottest(state, layer) / target)
        high = _log_ratio(self._hottest(self._states[number + 1], layer), target)
        width_s = _FOUND * high_s
        moment_s = high_s
        while high_s - low_s > width_s and high < 0:
            previous_s, moment_s = moment_s, high_s - high * (high_s - low_s) / (high - low)
            here = _log_ratio(self._hottest(self._stepped(state, self._factor(moment_s)), layer), target)
            if abs(moment_s - previous_s) < width_s:
                break
            if here > 0:
                low_s, low, high = moment_s, here, high / 2
            else:
                high_s, high, low = moment_s, here, low / 2
        return moment_s

    def _factor(self, step_s: float) -> _Factors:
        scale = _IMPLICIT * step_s
        carry: list[float] = []
        inverse: list[float] = []
        inward = past = 0.0
        for capacity, outward in zip(self._cells.capacity, self._cells.outward, strict=True):
            carry.append(scale * inward * past)
            past = 1 / (capacity + scale * (inward + outward) - scale * inward * carry[-1])
            inverse.append(past)
            inward = outward
        return _Factors(step_s, carry, inverse)

    def _stepped(self, state: list[float], factors: _Factors) -> list[float]:
        """One step of TR-BDF2; its trapezoidal stage is 2 w - T, with w from the same matrix."""
        capacity = self._cells.capacity
        half = _solved(list(map(mul, capacity, state)), factors)
        new, old = 2 * _MIDDLE, _MIDDLE + _OLD
        return _solved([c * (new * w - old * t) for c, w, t in zip(capacity, half, state, strict=True)], factors)


def _solved(right: list[float], factors: _Factors) -> list[float]:
    swept: list[float] = []
    value = 0.0
    for each, carry in zip(right, factors.carry, strict=True):
        value = each + carry * value
        swept.append(value)
    value = carry = 0.0
    solution: list[float] = []
    for each, inverse, inner_carry in zip(
        reversed(swept), reversed(factors.inverse), reversed(factors.carry), strict=True
    ):
        value = each * inverse + carry * value
        solution.append(value)
        carry = inner_carry
    solution.reverse()
    return solution


def _innermost(excess: list[float]) -> float:
    """At the axis or mid-plane, by the parabola through the two innermost cells."""
    return (9 * excess[0] - excess[1]) / 8


def _log_ratio(value: float, target: float) -> float:
    return math.log(max(value, _GONE * target) / target)
