"""What a heater feeds a cup, and what the cup keeps of it.

A profile's absorbed power is what a cup keeps on the way from the room into its band, as a calibration run gives
it. The heater feeds that and what the cup loses meanwhile; close to the band the cup loses more, so it keeps less.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.physics.cup import Cup, loss_w_m2k

LEAST_KEPT = 0.1
"""Starting value: no cup is reckoned to keep less than this share of what it is fed, or no burst would end."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Power:
    """A heater at work in a room: what it feeds, and the factor on what its cups lose."""

    fed_w: float
    room_c: float
    loss_factor: float = 1.0

    def kept_w(self, cup: Cup, *, start_c: float, to_c: float) -> float:
        """What the cup keeps on average between two temperatures: its loss is taken half way, W."""
        lost_w = self.loss_factor * loss_w(cup, (start_c + to_c) / 2, self.room_c)
        return max(LEAST_KEPT * self.fed_w, self.fed_w - lost_w)


def loss_w(cup: Cup, temp_c: float, room_c: float) -> float:
    """What the cup loses to the room by side and top, W."""
    return loss_w_m2k(cup, at_c=temp_c, room_c=room_c) * (cup.side_m2 + cup.top_m2) * (temp_c - room_c)


def fed_w(cup: Cup, *, kept_w: float, start_c: float, to_c: float, room_c: float) -> float:
    """What a heater feeds when the cup keeps that much of it between two temperatures, W."""
    return kept_w + loss_w(cup, (start_c + to_c) / 2, room_c)


def heated_c(cup: Cup, power: Power, *, start_c: float, seconds: float) -> float:
    """Temperature of the cup after so long on the heat: C dT/dt = P - loss, by the midpoint method, degC.

    One step is enough for a burst: the loss is close to a straight line in the temperature.
    """
    rate = power.kept_w(cup, start_c=start_c, to_c=start_c) / cup.capacity_j_k
    middle_c = start_c + rate * seconds / 2
    return start_c + power.kept_w(cup, start_c=middle_c, to_c=middle_c) * seconds / cup.capacity_j_k
