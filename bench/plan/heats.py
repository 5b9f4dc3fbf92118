"""Which cups are heated before each shot, in which order, and for how long.

A part's melt is heated from cold in the first round that it serves and reheated in its later ones, after a round's
cooling. The two sides of a shared shot must be hot together: side A is heated, then side B, then side A, which has
cooled meanwhile, is brought back to its band; and side B too, where it would fall out of its own before the shot.
Every heating goes in bursts with a stir and a reading after each. Warm-up shots come from the first shot's cups of
round 1; those cups stand while the warm-up shots set, so they are reheated for the round's own shot. No heating is
shorter than a burst worth a stir.
"""

from __future__ import annotations

from collections.abc import Sequence

from bench.model.recipe import Part
from bench.plan import pace
from bench.plan.amounts import PartAmount
from bench.plan.melts import bursts_of_s, in_band_s, reheat_s
from bench.plan.records import Heating, Melt
from bench.plan.scope import Scope
from bench.plan.work import LEAST_HEAT_S


class Heats:
    """The heatings of one job's melts."""

    def __init__(self, scope: Scope, amounts: Sequence[PartAmount], melts: Sequence[Melt]) -> None:
        self._scope = scope
        self._amounts = {amount.part: amount for amount in amounts}
        self._melts = {(melt.part, melt.number): melt for melt in melts}
        self._serving = {
            (melt.part, number): melt for melt in melts for number in range(melt.first_round, melt.last_round + 1)
        }

    def of_round(self, parts: Sequence[Part], number: int) -> tuple[Heating, ...]:
        """What is heated for a shot of those parts in that round."""
        return self._together([self._once(self._serving[part, number], number) for part in parts])

    def after_warm_up(self, parts: Sequence[Part], *, stood_s: float) -> tuple[Heating, ...]:
        """What is heated for round 1's own shot, once its cups have all stood for that long. Each has also stood
        while the other was heated after it for the warm-up shots, or before it for this one."""
        before = self.of_round(parts, 1)
        again: list[Heating] = []
        for part in parts:
            last = max(place for place, heating in enumerate(before) if heating.part is part)
            others_s = sum(heating.total_s for heating in (*before[last + 1 :], *again))
            again.append(self._again(self._serving[part, 1], others_s + stood_s))
        return self._together(again)

    def _together(self, once: Sequence[Heating]) -> tuple[Heating, ...]:
        if len(once) == 1:
            return tuple(once)
        side_a, side_b = once
        again_a = self._again(self._melt(side_a), side_b.total_s)
        waits_s = again_a.total_s + pace.shot_s(self._scope.station.pace)
        if waits_s <= in_band_s(self._scope, self._amounts[side_b.part], self._melt(side_b)):
            return (side_a, side_b, again_a)
        return (side_a, side_b, again_a, self._again(self._melt(side_b), again_a.total_s))

    def _melt(self, heating: Heating) -> Melt:
        return self._melts[heating.part, heating.melt]

    def _once(self, melt: Melt, number: int) -> Heating:
        from_cold = melt.first_round == number
        return self._heating(melt, melt.heat_s if from_cold else melt.reheat_s, from_cold=from_cold)

    def _again(self, melt: Melt, stood_s: float) -> Heating:
        seconds = reheat_s(self._scope, self._amounts[melt.part], melt, stood_s=stood_s)
        return self._heating(melt, seconds, from_cold=False)

    def _heating(self, melt: Melt, heat_s: float, *, from_cold: bool) -> Heating:
        heat_s = max(heat_s, LEAST_HEAT_S)
        bursts_s = bursts_of_s(self._scope, self._amounts[melt.part], melt, heat_s=heat_s, from_cold=from_cold)
        return Heating(
            part=melt.part,
            melt=melt.number,
            from_cold=from_cold,
            heat_s=heat_s,
            bursts_s=bursts_s,
            stir_s=pace.stir_s(self._scope.station.pace),
        )
