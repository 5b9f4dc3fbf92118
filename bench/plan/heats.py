"""Which cups are heated before each shot, in which order, and for how long.

A part's melt is heated from cold in the first round that it serves and reheated in its later ones. The two sides
of a shared shot must be hot together: side A is heated, then side B, and side A, which has cooled meanwhile, is
brought back to its band. Warm-up shots come from the first shot's cups of round 1, after their heating.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.model.recipe import Part
from bench.plan.records import Melt


@dataclass(frozen=True, kw_only=True, slots=True)
class Heating:
    """One heating of one cup; ``from_cold`` for the first of its melt."""

    part: Part
    melt: int
    from_cold: bool
    seconds: float


def heatings(serving: Sequence[Melt], round_number: int) -> tuple[Heating, ...]:
    """The heatings before one shot of that round, in their order; ``serving`` are the melts that it is shot from,
    in the order of its parts."""
    once = tuple(_heating(melt, from_cold=melt.first_round == round_number) for melt in serving)
    return once if len(once) == 1 else (*once, _heating(serving[0], from_cold=False))


def _heating(melt: Melt, *, from_cold: bool) -> Heating:
    return Heating(
        part=melt.part,
        melt=melt.number,
        from_cold=from_cold,
        seconds=melt.heat_s if from_cold else melt.reheat_s,
    )
