"""Melts: how a part's plastic is shared out over cupfuls, and what each takes to heat.

Each melt serves consecutive rounds and fits the vessel with its warm-up shots, margin and residues. There are as
few as will do, and those are about equally full: not two brimming cups and a spoonful.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from bench.errors import BenchError
from bench.model.colourant import Colourant
from bench.model.figures import volume
from bench.model.settings import UnitSystem
from bench.physics.cup import Cup, seconds_until, temperature_after
from bench.physics.melting import bursts_s, melt_s
from bench.plan.amounts import PartAmount, doses
from bench.plan.records import Melt
from bench.plan.scope import Scope

_ROUNDING = 1e-9


def split_rounds(
    amount: PartAmount, *, rounds: int, usable_ml: float, units: UnitSystem = UnitSystem.METRIC
) -> tuple[int, ...]:
    """How many rounds each melt serves, in order, when a cup takes ``usable_ml``.

    Raises BenchError when not even one round fits.
    """
    _check_fit(amount, usable_ml, units)
    most_first = _rounds_in(amount, usable_ml, first=True)
    if rounds <= most_first:
        return (rounds,)
    most = _rounds_in(amount, usable_ml, first=False)
    later = math.ceil((rounds - most_first) / most)
    even = (rounds + amount.warm_up_ml / amount.per_round_ml) / (later + 1)
    wanted = round(even - amount.warm_up_ml / amount.per_round_ml)
    first = min(max(wanted, rounds - later * most, 1), most_first, rounds - later)
    each, extra = divmod(rounds - first, later)
    return (first, *(each + (place < extra) for place in range(later)))


def make_melts(scope: Scope, amount: PartAmount, *, colourants: Mapping[str, Colourant]) -> tuple[Melt, ...]:
    """The part's melts, weighed and with their heating times; ``reheat_s`` is 0 until the rounds are known.

    Raises BenchError when a round does not fit the vessel, and for a colourant that is not known.
    """
    return tuple(_melts(scope, amount, colourants))


def _melts(scope: Scope, amount: PartAmount, colourants: Mapping[str, Colourant]) -> Iterator[Melt]:
    served = 0
    counts = split_rounds(amount, rounds=scope.rounds, usable_ml=scope.station.vessel.usable_ml, units=scope.units)
    for number, count in enumerate(counts, start=1):
        volume_ml = amount.melt_ml(count, first=number == 1)
        mass_g = volume_ml * scope.shot_g_per_ml
        colours = doses(scope.recipe.parts[amount.part], mass_g=mass_g, colourants=colourants)
        yield Melt(
            part=amount.part,
            number=number,
            volume_ml=volume_ml,
            mass_g=mass_g,
            base_g=mass_g - sum(dose.mass_g for dose in colours),
            doses=colours,
            first_round=served + 1,
            last_round=served + count,
            heat_s=_heat_s(scope, _cup(scope, mass_g), scope.room_c),
            reheat_s=0.0,
        )
        served += count


def with_reheats(scope: Scope, amount: PartAmount, melts: Sequence[Melt], *, cycle_s: float) -> tuple[Melt, ...]:
    """The melts with what it takes to bring each back to the middle of the band once it has stood for
    ``cycle_s``, the time from one of its shots to its next heating, filled as it is on average."""
    return tuple(replace(melt, reheat_s=reheat_s(scope, amount, melt, stood_s=cycle_s)) for melt in melts)


def reheat_s(scope: Scope, amount: PartAmount, melt: Melt, *, stood_s: float) -> float:
    """What brings the cup, filled as it is on average, back to the middle of the band once it has stood."""
    cup = _mean_cup(scope, amount, melt)
    fallen_c = temperature_after(cup, start_c=scope.plastic.shot_c, seconds=stood_s, room_c=scope.room_c)
    return _heat_s(scope, cup, fallen_c)


def bursts_of_s(
    scope: Scope, amount: PartAmount, melt: Melt, *, heat_s: float, from_cold: bool
) -> tuple[float, ...]:
    """A heating of the melt that ends in the middle of the band, shared out over bursts that add up to it."""
    if heat_s <= 0:
        return ()
    cup = _cup(scope, melt.mass_g) if from_cold else _mean_cup(scope, amount, melt)
    power_w = scope.station.heater.absorbed_w
    to_c = scope.plastic.shot_c
    rise_k = heat_s * power_w / cup.capacity_j_k
    return tuple(bursts_s(cup, start_c=to_c - rise_k, to_c=to_c, power_w=power_w))


def in_band_s(scope: Scope, amount: PartAmount, melt: Melt) -> float:
    """How long the cup, filled as it is on average, takes from the middle of the band to its low end."""
    plastic = scope.plastic
    cup = _mean_cup(scope, amount, melt)
    return seconds_until(cup, start_c=plastic.shot_c, until_c=plastic.band_c[0], room_c=scope.room_c)


def _rounds_in(amount: PartAmount, usable_ml: float, *, first: bool) -> int:
    shots_ml = (usable_ml - amount.residue_ml) / (1 + amount.margin) - (amount.warm_up_ml if first else 0.0)
    return math.floor(shots_ml / amount.per_round_ml + _ROUNDING)


def _check_fit(amount: PartAmount, usable_ml: float, units: UnitSystem) -> None:
    takes = volume(usable_ml, units)
    if _rounds_in(amount, usable_ml, first=False) < 1:
        raise BenchError(
            f"one round of {amount.part.words} needs a melt of {volume(amount.melt_ml(1, first=False), units)}, "
            f"margin and residues included, and the vessel takes {takes}: use a larger vessel or a smaller mould"
        )
    if _rounds_in(amount, usable_ml, first=True) < 1:
        raise BenchError(
            f"the warm-up shots and one round of {amount.part.words} need a melt of "
            f"{volume(amount.melt_ml(1, first=True), units)}, and the vessel takes {takes}: "
            "plan fewer warm-up shots or use a larger vessel"
        )


def _cup(scope: Scope, mass_g: float) -> Cup:
    vessel = scope.station.vessel
    base_mm2 = math.pi / 4 * vessel.diameter_mm**2
    return Cup(
        mass_g=mass_g,
        c_j_kgk=scope.plastic.heat_capacity_j_kgk,
        diameter_mm=vessel.diameter_mm,
        height_mm=mass_g / scope.shot_g_per_ml * 1000 / base_mm2,
        vessel_mass_g=vessel.mass_g,
        vessel_c_j_kgk=vessel.heat_capacity_j_kgk,
    )


def _mean_cup(scope: Scope, amount: PartAmount, melt: Melt) -> Cup:
    """Filled as before the middle one of the melt's rounds, once the warm-up shots are out."""
    gone_ml = amount.per_round_ml * (melt.last_round - melt.first_round) / 2
    if melt.number == 1:
        gone_ml += amount.warm_up_ml
    return _cup(scope, melt.mass_g - gone_ml * scope.shot_g_per_ml)


def _heat_s(scope: Scope, cup: Cup, start_c: float) -> float:
    return melt_s(cup, start_c=start_c, to_c=scope.plastic.shot_c, power_w=scope.station.heater.absorbed_w)
