"""How the mould warms from shot to shot and cools between them.

One temperature for the whole block, which aluminium comes close to; the heat of a shot is given at once.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bench.errors import BenchError
from bench.physics.substance import ALUMINIUM_6061

BARE_LOSS_W_M2K = 8.0
"""Starting value for bare aluminium standing in still air. To be corrected at the bench."""

_LARGEST_EXPONENT = 709.0
"""What e may be raised to before it is beyond all numbers."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Block:
    """A mould as a lump: its mass and heat, the outer area it loses heat by, and how well it does."""

    mass_g: float
    area_m2: float
    c_j_kgk: float = ALUMINIUM_6061.c_j_kgk
    loss_w_m2k: float = BARE_LOSS_W_M2K

    @property
    def capacity_j_k(self) -> float:
        """Heat it takes to warm the block by one kelvin, J/K."""
        return 1e-3 * self.mass_g * self.c_j_kgk

    @property
    def relaxation_s(self) -> float:
        """Time in which its excess over the room falls to 1/e, s."""
        return self.capacity_j_k / (self.loss_w_m2k * self.area_m2)


def shot_heat_j(*, shot_mass_g: float, c_j_kgk: float, shot_c: float, mean_open_c: float) -> float:
    """Heat that a shot leaves in the mould: what it holds at the shot less what it takes out on opening, J.

    Raises BenchError when the plastic would come out hotter than it went in.
    """
    if mean_open_c > shot_c:
        raise BenchError(f"plastic shot at {shot_c:g} °C cannot come out at {mean_open_c:g} °C on average")
    return 1e-3 * shot_mass_g * c_j_kgk * (shot_c - mean_open_c)


def after_shot_c(block: Block, *, mould_c: float, heat_j: float) -> float:
    """Temperature of the mould once it has taken up the heat of a shot, degC."""
    return mould_c + heat_j / block.capacity_j_k


def after_rest_c(block: Block, *, mould_c: float, seconds: float, room_c: float) -> float:
    """Temperature after standing in the room for a time, degC: Newton's law of cooling.

    A time below 0 asks what it was before; long before, that is hotter than any number, and infinite.
    """
    return room_c + (mould_c - room_c) * math.exp(min(-seconds / block.relaxation_s, _LARGEST_EXPONENT))


def rest_s(block: Block, *, mould_c: float, until_c: float, room_c: float) -> float:
    """How long to let the mould stand until it has fallen to a temperature, s; 0 when it is there already.

    Raises BenchError for a temperature at or below the room's.
    """
    if mould_c <= until_c:
        return 0.0
    if until_c <= room_c:
        raise BenchError(f"a mould in a room at {room_c:g} °C never cools to {until_c:g} °C by itself")
    return block.relaxation_s * math.log((mould_c - room_c) / (until_c - room_c))


def warm_in_air_s(block: Block, *, start_c: float, to_c: float, air_c: float, film_w_m2k: float) -> float:
    """How long a blast of warm air over the whole block takes to warm it, s; 0 when it is there already. Newton's
    law of cooling the other way round: the block nears the air's temperature.

    Raises BenchError for air that is no warmer than what the block is to reach.
    """
    if start_c >= to_c:
        return 0.0
    if air_c <= to_c:
        raise BenchError(f"air at {air_c:g} °C never warms a mould to {to_c:g} °C")
    return block.capacity_j_k / (film_w_m2k * block.area_m2) * math.log((air_c - start_c) / (air_c - to_c))


def rounds_c(
    block: Block, *, start_c: float, room_c: float, heat_j: float, cycle_s: float, rounds: int
) -> list[float]:
    """Temperatures just before each shot of a steady rhythm, degC; the first is the start."""
    before_c = [start_c]
    for _ in range(rounds - 1):
        hot_c = after_shot_c(block, mould_c=before_c[-1], heat_j=heat_j)
        before_c.append(after_rest_c(block, mould_c=hot_c, seconds=cycle_s, room_c=room_c))
    return before_c[:rounds]


def beat_s(block: Block, *, room_c: float, heat_j: float, most_c: float) -> float:
    """The shortest time from shot to shot whose rhythm settles at or below a temperature, s: ``steady_c`` solved
    for its beat.

    Raises BenchError for a temperature at or below the room's.
    """
    if most_c <= room_c:
        raise BenchError(f"a mould in a room at {room_c:g} °C never cools to {most_c:g} °C by itself")
    return block.relaxation_s * math.log1p(heat_j / block.capacity_j_k / (most_c - room_c))


def steady_c(block: Block, *, room_c: float, heat_j: float, cycle_s: float) -> float:
    """Temperature just before a shot that a rhythm settles to after many rounds, degC."""
    lulls = min(cycle_s / block.relaxation_s, _LARGEST_EXPONENT)
    return room_c + heat_j / block.capacity_j_k / math.expm1(lulls)
