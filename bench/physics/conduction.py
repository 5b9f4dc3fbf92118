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
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
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
    outermost layer's joint is the film of the body. ``start_c`` matters to a ``Transient`` only.
    """

    thickness_mm: float
    substance: Substance
    start_c: float = 0.0
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

_FOUND = 1e-6
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


class _March:
    """Starts of one body, stepped side by side through the same moments, as far as anyone has asked.

    ``states`` are excesses over the surroundings: by moment, by start, by cell.
    """

    def __init__(self, cells: _Cells, starts: Sequence[list[float]]) -> None:
        self.cells = cells
        self.times_s = [0.0]
        self.states = [list(starts)]
        self._neglected = [_GONE * max(map(abs, start)) for start in starts]
        both_sides = map(add, cells.outward, [0.0, *cells.outward])
        self._factors = self.factor(_FIRST_STEP * min(map(truediv, cells.capacity, both_sides)))

    def advance(self) -> None:
        """One step more. Raises ArithmeticError where numbers cannot hold it."""
        before = self.states[-1]
        after = [self.stepped(state, self._factors) for state in before]
        self.times_s.append(self.times_s[-1] + self._factors.step_s)
        self.states.append(after)
        changes = [max(map(abs, map(sub, new, old))) for new, old in zip(after, before, strict=True)]
        if not (max(changes) < math.inf and self.times_s[-2] < self.times_s[-1] < math.inf):
            raise ArithmeticError("layers too thick, thin or slow for floating-point numbers")
        if all(
            change <= max(_DOUBLE_BELOW * max(map(abs, state)), neglected)
            for change, state, neglected in zip(changes, after, self._neglected, strict=True)
        ):
            self._factors = self.factor(2 * self._factors.step_s)

    def factor(self, step_s: float) -> _Factors:
        """The matrix of one step, ready for any state."""
        scale = _IMPLICIT * step_s
        carry: list[float] = []
        inverse: list[float] = []
        inward = past = 0.0
        for capacity, outward in zip(self.cells.capacity, self.cells.outward, strict=True):
            carry.append(scale * inward * past)
            past = 1 / (capacity + scale * (inward + outward) - scale * inward * carry[-1])
            inverse.append(past)
            inward = outward
        return _Factors(step_s, carry, inverse)

    def stepped(self, state: list[float], factors: _Factors) -> list[float]:
        """One step of TR-BDF2; its trapezoidal stage is 2 w - T, with w from the same matrix."""
        capacity = self.cells.capacity
        half = _solved(list(map(mul, capacity, state)), factors)
        new, old = 2 * _MIDDLE, _MIDDLE + _OLD
        return _solved([c * (new * w - old * t) for c, w, t in zip(capacity, half, state, strict=True)], factors)


class Relaxation:
    """A layered body on its way to the temperature of its surroundings.

    Marches forward only as far as it has been asked and remembers the way, so that several questions about one
    shot cost one march. Layers are numbered from the inside; times are seconds from the start. Raises
    ArithmeticError for figures so far apart that numbers cannot hold them.
    """

    def __init__(self, march: _March, weights: Sequence[float], *, around_c: float, film_w_k: float) -> None:
        """The sum of the march's starts, each times its weight."""
        self._march, self._weights = march, tuple(weights)
        self._cells = march.cells
        self._around_c, self._film_w_k = around_c, film_w_k

    def seconds_to(self, target_c: float, *, layer: int) -> float:
        """When the hottest point of a layer has fallen to ``target_c`` with nothing left that could reheat it.

        0 when it never was hotter. Raises ValueError when the surroundings are as hot as the target, which is
        then never reached: ask before.
        """
        if target_c <= self._around_c:
            raise ValueError(f"surroundings at {self._around_c} degC never let a body fall to {target_c} degC")
        target = target_c - self._around_c

        def is_cold(number: int) -> bool:
            state = self._state(number)
            return max(state) <= target and self._hottest(state, layer) <= target

        moments = self._march.times_s
        while not is_cold(len(moments) - 1):
            self._march.advance()
        # By the maximum principle no later moment is hotter than an earlier one.
        late = bisect_left(range(len(moments)), x=True, key=is_cold) - 1
        while late >= 0 and self._hottest(self._state(late), layer) <= target:
            late -= 1
        return 0.0 if late < 0 else moments[late] + self._wait_s(late, target, layer)

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

    def _state(self, number: int) -> list[float]:
        """The excess over the surroundings at a remembered moment, by cell."""
        states = self._march.states[number]
        if self._weights == (1.0,):
            return states[0]
        weight, *others = self._weights
        total = [weight * each for each in states[0]]
        for other, state in zip(others, states[1:], strict=True):
            total = [one + other * each for one, each in zip(total, state, strict=True)]
        return total

    def _excess(self, seconds: float) -> list[float]:
        moments = self._march.times_s
        while moments[-1] < seconds:
            self._march.advance()
        before = max(bisect_right(moments, seconds) - 1, 0)
        rest_s = seconds - moments[before]
        state = self._state(before)
        return self._march.stepped(state, self._march.factor(rest_s)) if rest_s > 0 else state

    def _hottest(self, excess: list[float], layer: int) -> float:
        first, end = self._cells.spans[layer]
        if first == 0:
            face = _innermost(excess)
        else:
            face = excess[first] + self._cells.inside_share[layer] * (excess[first - 1] - excess[first])
        return max(face, max(excess[first:end]))

    def _wait_s(self, number: int, target: float, layer: int) -> float:
        """How long after a remembered state the target is crossed: false position on the logarithm (Illinois)."""
        march, state = self._march, self._state(number)
        low_s, high_s = 0.0, march.times_s[number + 1] - march.times_s[number]
        low = math.log(self._hottest(state, layer) / target)
        high = _log_ratio(self._hottest(self._state(number + 1), layer), target)
        width_s = _FOUND * high_s
        moment_s = high_s
        was_late = was_early = False
        while high_s - low_s > width_s and high < 0:
            previous_s, moment_s = moment_s, high_s - high * (high_s - low_s) / (high - low)
            here = _log_ratio(self._hottest(march.stepped(state, march.factor(moment_s)), layer), target)
            if abs(moment_s - previous_s) < width_s:
                break
            # An end that stays twice counts half, so that the other one does not creep.
            if here > 0:
                low_s, low, high = moment_s, here, high / 2 if was_early else high
            else:
                high_s, high, low = moment_s, here, low / 2 if was_late else low
            was_early, was_late = here > 0, here <= 0
        return moment_s


class Transient(Relaxation):
    """Layers that start at their own temperatures, marched for themselves."""

    def __init__(self, layers: Sequence[Layer], *, shape: Shape, around_c: float, film_w_m2k: float) -> None:
        """``film_w_m2k`` is the conductance between the outer face and surroundings held at ``around_c``."""
        cells = _divide(layers, shape, film_w_m2k)
        start = _start(cells, [layer.start_c - around_c for layer in layers])
        march = _March(cells, [start])
        super().__init__(march, (1.0,), around_c=around_c, film_w_k=film_w_m2k * _area(cells.edge, shape))


class Response:
    """What a body answers to any start at all, for the price of one.

    Conduction is linear where properties do not change with temperature: a body that starts with so many kelvin
    above its surroundings passes through the sum, in these proportions, of what one kelvin in each layer leaves.
    So a march for each layer that is ever warmer than the surroundings holds all their starts.
    """

    def __init__(self, layers: Sequence[Layer], *, shape: Shape, film_w_m2k: float, warm: Sequence[int]) -> None:
        """``warm`` are the numbers of the layers with a start of their own; others always start at the temperature
        of the surroundings."""
        cells = _divide(layers, shape, film_w_m2k)
        units = [[float(number == each) for number in range(len(layers))] for each in warm]
        self._march = _March(cells, [_start(cells, unit) for unit in units])
        self._film_w_k = film_w_m2k * _area(cells.edge, shape)

    def from_start(self, *start_c: float, around_c: float) -> Relaxation:
        """The body whose warm layers start at these temperatures, in surroundings at ``around_c``."""
        excess = [each - around_c for each in start_c]
        return Relaxation(self._march, excess, around_c=around_c, film_w_k=self._film_w_k)


def _start(cells: _Cells, excess: Sequence[float]) -> list[float]:
    return [each for each, (first, end) in zip(excess, cells.spans, strict=True) for _ in range(first, end)]


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
