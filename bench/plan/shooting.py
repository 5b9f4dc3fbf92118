"""One shot: how long it stays in the mould, and what it does to the mould.

The mould is one lump that takes up the heat of a shot at once and loses heat to the room all the time.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bench.errors import BenchError
from bench.model.mould import Mould
from bench.model.station import Station, WarmedBy
from bench.physics.cooling import Cooling
from bench.physics.feeding import top_off_ml
from bench.physics.mould import Block, after_rest_c, after_shot_c, rest_s, shot_heat_j
from bench.plan import pace
from bench.plan.amounts import ShotVolume, warm_up_shot_ml
from bench.plan.records import Heating, Shot, ShotPlan
from bench.plan.scope import MOST_WARM_UP_SHOTS, Scope
from bench.plan.sets import SetTimes

SET_MARGIN_K = 2.0
"""So close below the temperature of opening a mould keeps a shot two to three times as long as one at 40 degC:
plans rest it before that, whatever its window says."""

SHORTEST_REST_S = 5.0
"""Less is no rest: it would be over before it is read, and cools the mould by a few hundredths of a degree."""

AIR_FILM_W_M2K = 10.0
"""Starting value for natural convection and radiation together, from a warm bait in still air."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Shooting:
    """A shot, and the mould ``after_c`` it has been pushed and has set, its gate too, which takes ``seconds``.
    ``mean_open_c`` is the mean of the plastic just shot as the mould is opened."""

    plan: ShotPlan
    seconds: float
    mean_open_c: float
    after_c: float


@dataclass(frozen=True, kw_only=True, slots=True)
class WarmUp:
    """The warm-up shots, each left for ``set_s``: the mould before the last of them and after all, and what they
    take. Where there are none, nothing changes and nothing is taken."""

    set_s: float
    before_last_c: float
    after_c: float
    seconds: float


def window_top_c(scope: Scope) -> float:
    """The temperature above which the mould is not shot: the top of its window, or less where plastic would
    hardly set at that. Raises BenchError when nothing of the window is left."""
    low, high = scope.mould.warm_c
    top_c = min(high, scope.plastic.open_c - SET_MARGIN_K)
    if top_c <= low:
        raise BenchError(
            f"the window of {scope.mould.title} begins at {scope.temperature(low)}, too warm for "
            f"{scope.plastic.title} to set: it leaves the mould at {scope.temperature(scope.plastic.open_c)}"
        )
    return top_c


def start_c(mould: Mould, station: Station) -> float:
    """The mould before its first shot: the middle of its window, or of as much of that as what warms it reaches;
    unless only shots warm it."""
    if station.warming.by is WarmedBy.SHOTS:
        return station.room.temperature_c
    (low, high), source_c = mould.warm_c, station.warming.source_c
    return (low + (high if source_c is None else max(low, min(high, source_c)))) / 2


def top_off_of(scope: Scope, shot: ShotVolume, cooling: Cooling) -> float:
    """What that shot takes in while its gates are open, ml."""
    return top_off_ml(
        volume_ml=shot.cavities_ml,
        beta_per_k=scope.plastic.expansion_per_k,
        shot_c=scope.plastic.shot_c,
        mean_hold_c=cooling.hold_mean_c,
    )


def shell_after_air_c(scope: Scope, *, mean_open_c: float) -> float:
    """Mean temperature of a shell once it has lain out in the room while the hands do all they do with it, degC.

    Lumped: the wall is thin and air a poor coolant (Biot number about 0.2). Once back in the mould it is taken to
    stay as it is.
    """
    rods = scope.mould.rods
    assert rods is not None, "core work without rods is never settled"
    outer_m, bore_m = scope.mould.section.body_mm * 1e-3, rods.diameter_mm * 1e-3
    j_m3k = scope.plastic.density_kg_m3 * scope.plastic.heat_capacity_j_kgk
    relaxation_s = j_m3k * (outer_m**2 - bore_m**2) / (4 * outer_m * AIR_FILM_W_M2K)
    out_s = pace.shell_out_s(scope.mould, scope.cut_cavities, scope.station.pace)
    return scope.room_c + (mean_open_c - scope.room_c) * math.exp(-out_s / relaxation_s)


class Shooter:
    """The shots of one job into its mould."""

    def __init__(self, scope: Scope, sets: SetTimes) -> None:
        mould = scope.mould
        self._scope = scope
        self._sets = sets
        self._block = Block(
            mass_g=mould.mass_g,
            area_m2=mould.area_m2,
            c_j_kgk=mould.heat_capacity_j_kgk,
            loss_w_m2k=mould.loss_w_m2k,
        )

    def cooled_c(self, mould_c: float, seconds: float) -> float:
        """The mould after standing for a while, degC. A negative time looks back."""
        return after_rest_c(self._block, mould_c=mould_c, seconds=seconds, room_c=self._scope.room_c)

    def rest_s(self, mould_c: float, *, ahead_s: float, until_c: float) -> float:
        """How long to rest so that the mould is at ``until_c`` or less when ``ahead_s`` more have passed."""
        enough_c = self.cooled_c(until_c, -ahead_s)
        seconds = rest_s(self._block, mould_c=mould_c, until_c=enough_c, room_c=self._scope.room_c)
        return seconds if seconds >= SHORTEST_REST_S else 0.0

    def shoot(
        self, shot: ShotVolume, *, mould_c: float, shell_c: float | None = None, heats: tuple[Heating, ...] = ()
    ) -> Shooting:
        """That shot in a mould at ``mould_c``, after those heatings; a core needs the temperature of its shell.

        Raises BenchError when it would never set.
        """
        cooling = self._sets.of(shot.shot, mould_c=mould_c, shell_c=shell_c)
        fed_ml = top_off_of(self._scope, shot, cooling)
        seconds = pace.shot_s(self._scope.station.pace) + max(cooling.set_s, cooling.hold_s)
        hot_c = self._warmed_c(mould_c, shot.volume_ml + fed_ml, cooling.mean_c)
        return Shooting(
            plan=ShotPlan(
                shot=shot.shot,
                parts=shot.parts,
                mould_c=mould_c,
                volume_ml=shot.volume_ml,
                hold_s=cooling.hold_s,
                set_s=cooling.set_s,
                top_off_ml=fed_ml,
                mean_open_c=cooling.mean_c,
                heats=heats,
            ),
            seconds=seconds,
            mean_open_c=cooling.mean_c,
            after_c=self.cooled_c(hot_c, seconds),
        )

    def warm_up(self, mould_c: float) -> WarmUp:
        """The warm-up shots into a mould at ``mould_c``. All are left as long as the slowest of them takes."""
        shots = self._scope.warm_up_shots
        if shots == 0:
            return WarmUp(set_s=0.0, before_last_c=mould_c, after_c=mould_c, seconds=0.0)
        set_s, before_c = 0.0, mould_c
        for _ in range(shots):
            cooling = self._sets.of(Shot.WHOLE, mould_c=before_c)
            own_s = max(cooling.set_s, cooling.hold_s)
            set_s = max(set_s, own_s)
            before_c = self._after_warm_up_c(before_c, own_s)
        before_c = after_c = mould_c
        for _ in range(shots):
            before_c, after_c = after_c, self._after_warm_up_c(after_c, set_s)
        each_s = self._warm_up_s(set_s)
        return WarmUp(set_s=set_s, before_last_c=before_c, after_c=after_c, seconds=shots * each_s)

    def shots_to_warm(self, mould_c: float) -> int:
        """How many warm-up shots bring a mould at ``mould_c`` into its window; the most that can be planned where
        none of them does."""
        low_c, shots = self._scope.mould.warm_c[0], 0
        while mould_c < low_c and shots < MOST_WARM_UP_SHOTS:
            cooling = self._sets.of(Shot.WHOLE, mould_c=mould_c)
            mould_c = self._after_warm_up_c(mould_c, max(cooling.set_s, cooling.hold_s))
            shots += 1
        return shots

    def _after_warm_up_c(self, mould_c: float, set_s: float) -> float:
        mean_c = self._sets.of(Shot.WHOLE, mould_c=mould_c).mean_c
        hot_c = self._warmed_c(mould_c, warm_up_shot_ml(self._scope), mean_c)
        return self.cooled_c(hot_c, self._warm_up_s(set_s))

    def _warm_up_s(self, set_s: float) -> float:
        hands = self._scope.station.pace
        return pace.shot_s(hands) + set_s + pace.open_s(self._scope.mould, hands)

    def _warmed_c(self, mould_c: float, volume_ml: float, mean_c: float) -> float:
        heat_j = shot_heat_j(
            shot_mass_g=volume_ml * self._scope.shot_g_per_ml,
            c_j_kgk=self._scope.plastic.heat_capacity_j_kgk,
            shot_c=self._scope.plastic.shot_c,
            mean_open_c=mean_c,
        )
        return after_shot_c(self._block, mould_c=mould_c, heat_j=heat_j)
