"""How a cup of hot plastic cools in still air: natural convection from side and top, and radiation.

The cup is lumped: one temperature, as it has when it is stirred. Its bottom loses nothing. The loss falls with the
temperature, so there is no single time constant; the cooling curve of a cup in a room is computed once and read
from then on, forwards and backwards, which keeps both directions consistent and a look at it cheap.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from bench.errors import BenchError

EMISSIVITY = 0.9
"""Of plastic, glass and painted ware; handbook tables give 0.85 to 0.95 for non-metals."""

STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8
"""CODATA 2018, exact by definition of the SI."""

_GRAVITY_M_S2 = 9.80665
_KELVIN = 273.15


class Air(NamedTuple):
    """Dry air at one atmosphere: conductivity, kinematic viscosity, Prandtl number, expansion."""

    k_w_mk: float
    nu_m2_s: float
    prandtl: float
    beta_per_k: float


def air_at(film_c: float) -> Air:
    """Properties of air at a film temperature, by Sutherland's law and the ideal gas.

    Constants: White, Viscous Fluid Flow, tables 1-2 and 1-3 (viscosity 1.716e-5 Pa s and 110.4 K, conductivity
    0.0241 W/m/K and 194 K, at 273.15 K), from memory; c_p 1007 J/kg/K.
    """
    kelvin = film_c + _KELVIN
    ratio = (kelvin / 273.15) ** 1.5
    viscosity = 1.716e-5 * ratio * (273.15 + 110.4) / (kelvin + 110.4)
    k_w_mk = 0.0241 * ratio * (273.15 + 194.0) / (kelvin + 194.0)
    density = 101325.0 / (287.05 * kelvin)
    return Air(k_w_mk, viscosity / density, 1007.0 * viscosity / k_w_mk, 1 / kelvin)


def nusselt_vertical(*, rayleigh: float, prandtl: float) -> float:
    """Mean Nusselt number of a vertical plate, on its height; any Rayleigh number to 1e12.

    Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1323. Ra 7.649e8, Pr 0.7202: 113.3.
    """
    spread = (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27)
    return float((0.825 + 0.387 * rayleigh ** (1 / 6) / spread) ** 2)


def nusselt_hot_top(*, rayleigh: float) -> float:
    """Mean Nusselt number of a hot face looking up, on its area over its perimeter.

    McAdams, Heat Transmission, 3rd ed. (1954): 0.54 Ra^(1/4) up to 1e7, 0.15 Ra^(1/3) above.
    """
    return float(0.54 * rayleigh**0.25 if rayleigh <= 1e7 else 0.15 * rayleigh ** (1 / 3))


def rayleigh(*, length_mm: float, surface_c: float, room_c: float) -> float:
    """Rayleigh number g beta |T_s - T_room| L^3 Pr / nu^2, with air taken at the mean of both temperatures."""
    air = air_at((surface_c + room_c) / 2)
    drive = _GRAVITY_M_S2 * air.beta_per_k * abs(surface_c - room_c) * (length_mm * 1e-3) ** 3
    return drive * air.prandtl / air.nu_m2_s**2


def radiation_w_m2k(*, surface_c: float, room_c: float, emissivity: float = EMISSIVITY) -> float:
    """Radiative coefficient e s (Ts^2 + Tr^2)(Ts + Tr) towards a room all round, W/m2/K."""
    surface_k, room_k = surface_c + _KELVIN, room_c + _KELVIN
    return emissivity * STEFAN_BOLTZMANN_W_M2K4 * (surface_k**2 + room_k**2) * (surface_k + room_k)


@dataclass(frozen=True, kw_only=True, slots=True)
class Cup:
    """A cup and what is in it; ``height_mm`` is the height of the plastic, ``diameter_mm`` the cup's.

    The vessel counts with its heat only; 0 for one that weighs nothing.
    """

    mass_g: float
    c_j_kgk: float
    diameter_mm: float
    height_mm: float
    vessel_mass_g: float = 0.0
    vessel_c_j_kgk: float = 0.0

    @property
    def capacity_j_k(self) -> float:
        """Heat it takes to warm cup and plastic by one kelvin, J/K."""
        return 1e-3 * (self.mass_g * self.c_j_kgk + self.vessel_mass_g * self.vessel_c_j_kgk)

    @property
    def top_m2(self) -> float:
        return math.pi * (self.diameter_mm * 1e-3) ** 2 / 4

    @property
    def side_m2(self) -> float:
        return math.pi * self.diameter_mm * self.height_mm * 1e-6


def side_loss_w_m2k(cup: Cup, *, at_c: float, room_c: float) -> float:
    """Convection and radiation from the side, W/m2/K."""
    air = air_at((at_c + room_c) / 2)
    ra = rayleigh(length_mm=cup.height_mm, surface_c=at_c, room_c=room_c)
    convection = nusselt_vertical(rayleigh=ra, prandtl=air.prandtl) * air.k_w_mk / (cup.height_mm * 1e-3)
    return convection + radiation_w_m2k(surface_c=at_c, room_c=room_c)


def top_loss_w_m2k(cup: Cup, *, at_c: float, room_c: float) -> float:
    """Convection and radiation from the open top, W/m2/K."""
    air = air_at((at_c + room_c) / 2)
    length_mm = cup.diameter_mm / 4
    ra = rayleigh(length_mm=length_mm, surface_c=at_c, room_c=room_c)
    convection = nusselt_hot_top(rayleigh=ra) * air.k_w_mk / (length_mm * 1e-3)
    return convection + radiation_w_m2k(surface_c=at_c, room_c=room_c)


def loss_w_m2k(cup: Cup, *, at_c: float, room_c: float) -> float:
    """Loss of the cup by side and top together, weighted by their areas, W/m2/K."""
    side = cup.side_m2 * side_loss_w_m2k(cup, at_c=at_c, room_c=room_c)
    top = cup.top_m2 * top_loss_w_m2k(cup, at_c=at_c, room_c=room_c)
    return (side + top) / (cup.side_m2 + cup.top_m2)


def seconds_until(cup: Cup, *, start_c: float, until_c: float, room_c: float, loss_factor: float = 1.0) -> float:
    """Time the cup takes to fall from one temperature to another, s; 0 when it is there already.

    ``loss_factor`` scales the loss to what this cup has shown at the bench. Raises BenchError for a temperature
    at or below the room's, which a cup never falls to.
    """
    if until_c <= room_c:
        raise BenchError(f"a cup in a room at {room_c:g} °C never cools to {until_c:g} °C")
    if start_c <= until_c:
        return 0.0
    curve = _curve(cup, room_c)
    return (curve.seconds_at(until_c - room_c) - curve.seconds_at(start_c - room_c)) / loss_factor


def temperature_after(
    cup: Cup, *, start_c: float, seconds: float, room_c: float, loss_factor: float = 1.0
) -> float:
    """Temperature of the cup some time after it was at ``start_c``, degC.

    A cup that starts colder than the room warms up by the same curve, mirrored: an estimate.
    """
    excess_k = abs(start_c - room_c)
    if excess_k <= _LEAST_EXCESS_K or seconds <= 0:
        return start_c
    curve = _curve(cup, room_c)
    left_k = curve.excess_at(curve.seconds_at(excess_k) + seconds * loss_factor)
    return room_c + math.copysign(min(left_k, excess_k), start_c - room_c)


def fit_loss_factor(cup: Cup, *, first_c: float, second_c: float, seconds_between: float, room_c: float) -> float:
    """Factor on the loss that two readings of a cup left alone ask for; 1 when it cools as reckoned.

    Raises BenchError when the readings do not fall or no time lies between them.
    """
    if second_c >= first_c or seconds_between <= 0:
        raise BenchError(
            f"two readings fit a cup's cooling only when the later one is lower: "
            f"found {first_c:g} °C, then {second_c:g} °C after {seconds_between:g} s"
        )
    return seconds_until(cup, start_c=first_c, until_c=second_c, room_c=room_c) / seconds_between


_LEAST_EXCESS_K = 0.01
_MOST_EXCESS_K = 2500.0
_POINTS = 81


class _Curve(NamedTuple):
    """A cooling curve over the logarithm of the excess above the room, from hot to cold.

    Between two points runs the cubic that has their times and slopes, past the coldest a straight line. Times
    count from the hottest point.
    """

    logs: list[float]
    times_s: list[float]
    slopes_s: list[float]

    def seconds_at(self, excess_k: float) -> float:
        """Time at which the excess is reached, s."""
        log = math.log(excess_k)
        if log < self.logs[-1]:
            return self.times_s[-1] + (log - self.logs[-1]) * self.slopes_s[-1]
        number = min(max(bisect_right(self.logs, -log, key=lambda each: -each) - 1, 0), len(self.logs) - 2)
        return self._cubic(number, log)

    def excess_at(self, seconds: float) -> float:
        """Excess left at a time, K: the cubic solved by Newton's method kept in its interval."""
        number = max(bisect_right(self.times_s, seconds) - 1, 0)
        if number >= len(self.times_s) - 1:
            return math.exp(self.logs[-1] + (seconds - self.times_s[-1]) / self.slopes_s[-1])
        cold, hot = self.logs[number + 1], self.logs[number]
        log = (cold + hot) / 2
        for _ in range(40):
            miss_s = self._cubic(number, log) - seconds
            cold, hot = (log, hot) if miss_s > 0 else (cold, log)
            better = log - miss_s / self.slopes_s[number]
            better = better if cold < better < hot else (cold + hot) / 2
            if abs(better - log) < 1e-12:
                break
            log = better
        return math.exp(log)

    def _cubic(self, number: int, log: float) -> float:
        width = self.logs[number + 1] - self.logs[number]
        share = (log - self.logs[number]) / width
        near, far = self.times_s[number], self.times_s[number + 1]
        near_slope, far_slope = self.slopes_s[number] * width, self.slopes_s[number + 1] * width
        rest = 1 - share
        return rest**2 * ((1 + 2 * share) * near + share * near_slope) + share**2 * (
            (1 + 2 * rest) * far - rest * far_slope
        )


@lru_cache(maxsize=64)
def _curve(cup: Cup, room_c: float) -> _Curve:
    """dt = -C / (h A) d ln(T - T_room), summed by Simpson's rule."""
    area_m2 = cup.side_m2 + cup.top_m2

    def slope_s(log: float) -> float:
        return -cup.capacity_j_k / (area_m2 * loss_w_m2k(cup, at_c=room_c + math.exp(log), room_c=room_c))

    hottest, coldest = math.log(_MOST_EXCESS_K), math.log(_LEAST_EXCESS_K)
    step = (coldest - hottest) / (_POINTS - 1)
    logs = [hottest + number * step for number in range(_POINTS)]
    slopes = [slope_s(log) for log in logs]
    times = [0.0]
    for number in range(_POINTS - 1):
        middle = slope_s(logs[number] + step / 2)
        times.append(times[-1] + step / 6 * (slopes[number] + 4 * middle + slopes[number + 1]))
    return _Curve(logs, times, slopes)
