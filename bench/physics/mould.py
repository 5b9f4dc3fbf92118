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

_HALVINGS = 60
"""So often halved, a range of hundreds is far narrower than any number tells apart."""


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


@dataclass(frozen=True, kw_only=True, slots=True)
class Nearing:
    """What warms a block: the temperature that it settles at there, and the time in which the gap to that falls to
    1/e."""

    settles_c: float
    relaxation_s: float

    def after_c(self, *, start_c: float, seconds: float) -> float:
        """Temperature of the block so much later, degC: Newton's law of cooling the other way round."""
        gone = math.exp(-min(seconds / self.relaxation_s, _LARGEST_EXPONENT))
        return self.settles_c + (start_c - self.settles_c) * gone


def on_plate(block: Block, *, plate_c: float, contact_w_k: float, room_c: float) -> Nearing:
    """A block that takes heat from a plate and loses some to the room: C dT/dt = G (T_p - T) - U A (T - T_room).

    With 1344 J/K, G 4.5 W/K and U A 0.4 W/K on a plate of 80 degC in a room of 20 degC it settles at 75.1 degC,
    the gap falling to 1/e in 274 s.
    """
    loss_w_k = block.loss_w_m2k * block.area_m2
    settles_c = (contact_w_k * plate_c + loss_w_k * room_c) / (contact_w_k + loss_w_k)
    return Nearing(settles_c=settles_c, relaxation_s=block.capacity_j_k / (contact_w_k + loss_w_k))


def plate_contact_w_k(block: Block, *, plate_c: float, room_c: float, to_c: float, seconds: float) -> float:
    """The contact by which a plate warms a block from the room's temperature to another in that time, W/K. By
    bisection: the better the contact, the warmer the block.

    Raises BenchError for a plate that is no warmer than the block is to become.
    """
    if plate_c <= to_c:
        raise never_that_warm("a plate", plate_c, to_c)
    least, most = -_LARGEST_EXPONENT / 4, _LARGEST_EXPONENT / 4
    for _ in range(_HALVINGS):
        middle = (least + most) / 2
        warms = on_plate(block, plate_c=plate_c, contact_w_k=math.exp(middle), room_c=room_c)
        is_less = warms.after_c(start_c=room_c, seconds=seconds) < to_c
        least, most = (middle, most) if is_less else (least, middle)
    return math.exp(most)


def never_that_warm(what: str, source_c: float, to_c: float) -> BenchError:
    """That something is no warmer than what it is to warm a mould to."""
    return BenchError(f"{what} at {source_c:g} °C never warms a mould to {to_c:g} °C")


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
        raise never_that_warm("air", air_c, to_c)
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
