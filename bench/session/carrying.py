"""A cup carried on through bursts and stirs: its temperature, how well it is known, what heat uses up of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from bench.physics.cup import Cup, temperature_after
from bench.physics.heat_spent import ramp_minutes_at_160
from bench.session.bursts import Leg
from bench.session.heater import Power, heated_c
from bench.session.session import Warmth

LONGEST_PIECE_S = 60.0
MOST_PIECES = 30
"""Heat spent is summed over pieces of a cooling this long, each taken as an even fall."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Course:
    """What a cup goes through: the heater and the room around it, and how far the loss of the cup and the power of
    the heater may be from what they are taken to be, as shares (one sigma)."""

    cup: Cup
    power: Power
    loss_spread: float
    power_spread: float

    def through(self, warmth: Warmth, leg: Leg) -> Warmth:
        """The cup after that leg."""
        return self._heated(warmth, leg.seconds) if leg.heating else self._cooled(warmth, leg.seconds)

    def _heated(self, warmth: Warmth, seconds: float) -> Warmth:
        temp_c = heated_c(self.cup, self.power, start_c=warmth.temp_c, seconds=seconds)
        spent_min = ramp_minutes_at_160(from_c=warmth.temp_c, to_c=temp_c, minutes=seconds / 60)
        return replace(
            warmth,
            temp_c=temp_c,
            drift_k=warmth.drift_k + self.power_spread * abs(temp_c - warmth.temp_c),
            on_s=warmth.on_s + seconds,
            spent_min=warmth.spent_min + spent_min,
        )

    def _cooled(self, warmth: Warmth, seconds: float) -> Warmth:
        pieces = min(MOST_PIECES, math.ceil(seconds / LONGEST_PIECE_S))
        temp_c, spent_min = warmth.temp_c, warmth.spent_min
        for _ in range(pieces):
            earlier_c = temp_c
            temp_c = temperature_after(
                self.cup,
                start_c=earlier_c,
                seconds=seconds / pieces,
                room_c=self.power.room_c,
                loss_factor=self.power.loss_factor,
            )
            spent_min += ramp_minutes_at_160(from_c=earlier_c, to_c=temp_c, minutes=seconds / pieces / 60)
        fallen_k = warmth.temp_c - temp_c
        return replace(
            warmth,
            temp_c=temp_c,
            drift_k=warmth.drift_k + self.loss_spread * abs(fallen_k),
            stood_k=warmth.stood_k + fallen_k,
            spent_min=spent_min,
        )
