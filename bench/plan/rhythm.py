"""The rhythm: the lengths that follow from when things are done.

A plan's lengths are those of one thing after another. In a timeline moulds are filled sooner, so they are warmer
and set longer or must cool first, and cups stand shorter or longer between two heatings. So a timeline is made
with the plan's lengths, walked through mould by mould and cup by cup, and made again with the lengths of its own
rhythm.

What a shot leaves in the mould, and how its times change with the mould's temperature, are read off the plan: no
cooling is solved anew.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Part, Tail
from bench.model.station import Station
from bench.physics.mould import Block, after_rest_c, after_shot_c, rest_s, shot_heat_j
from bench.plan import pace
from bench.plan.cups import HeatLengths, WorkingCup
from bench.plan.records import Plan, Shot, ShotPlan
from bench.plan.shooting import SET_MARGIN_K, start_c
from bench.units import Seconds

MEAN_SHARE = 0.43
"""Mean excess over the mould of a whole bait when its axis is firm enough to open, as a share of the axis's:
2 J1(b) / b with b = 2.405, the first term of a cylinder's series at a cold wall (Carslaw and Jaeger, Conduction of
Heat in Solids, ch. 7, from memory). A tenth more or less changes the heat of a shot by 1 %. It is for warm-up
shots in core work, of which a plan says nothing; for others it is read off the plan."""

FIRST_TERM = 0.47
"""ln 1.602, the first coefficient of a cylinder's series at a cold wall: a cooling time is in proportion to
ln((T_shot - T_mould) / (T_open - T_mould)) and this together. Used where a plan shows a shot at one temperature
only."""

_LEAST_SPREAD = 0.05
"""In the logarithm above: a plan whose shots lie closer together is taken to show one temperature."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Setting:
    """From the end of a push: until its gate has gelled, and until the mould may be opened."""

    hold_s: Seconds
    set_s: Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class Rhythm:
    """Lengths by round and shot and by heating, and by round and shot how long its mould must have cooled since
    the end of the shot before. A heating that is not named takes as long as in the plan."""

    settings: Mapping[tuple[int, Shot], Setting]
    heats: Mapping[str, HeatLengths] = field(default_factory=dict)
    cooling_s: Mapping[tuple[int, Shot], Seconds] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class Beat:
    """A shot into one mould, hold included. Warm-up shots have no round."""

    start_s: Seconds
    end_s: Seconds
    round: int
    shot: Shot


@dataclass(frozen=True, kw_only=True, slots=True)
class Fire:
    """One heating of a cup, from when it is put on the heat to the last stir. ``waits_s`` is how long it stands
    between its first burst and the rest."""

    id: str
    part: Part
    melt: int
    from_cold: bool
    start_s: Seconds
    end_s: Seconds
    waits_s: Seconds = 0.0


def planned(plan: Plan) -> Rhythm:
    """The plan's own lengths. Its rests are left out: the walk finds what this rhythm needs."""
    return Rhythm(
        settings={
            (each.round, shot.shot): Setting(hold_s=shot.hold_s, set_s=max(shot.set_s, shot.hold_s))
            for each in plan.rounds_table
            for shot in each.shots
        }
    )


def heat_lengths(
    fires: Iterable[Fire],
    cups: Mapping[tuple[Part, int], WorkingCup],
    before: Mapping[str, HeatLengths] | None = None,
) -> dict[str, HeatLengths]:
    """What each heating takes when its cup has stood since the last one, and waits after its first burst. What
    left the hands free ``before`` is not quickly changed."""
    known = before or {}
    hot_since: dict[tuple[Part, int], float] = {}
    lengths = {}
    for fire in sorted(fires, key=lambda each: each.start_s):
        cup = (fire.part, fire.melt)
        if fire.from_cold:
            lengths[fire.id] = cups[cup].from_cold(waits_s=fire.waits_s)
        else:
            lengths[fire.id] = cups[cup].again(
                fire.start_s - hot_since[cup], waits_s=fire.waits_s, before=known.get(fire.id)
            )
        hot_since[cup] = fire.end_s
    return lengths


@dataclass(frozen=True, kw_only=True, slots=True)
class Walked:
    """What a mould's walk asks of its shots: their settings, and the cooling before each."""

    settings: Mapping[tuple[int, Shot], Setting]
    cooling_s: Mapping[tuple[int, Shot], Seconds]


class MouldWalk:
    """The walk of one mould through its shots: warmed by each, cooling all the time."""

    def __init__(self, plan: Plan, *, mould: Mould, plastic: Plastic, station: Station) -> None:
        self._plan = plan
        self._mould = mould
        self._plastic = plastic
        self._start_c = start_c(mould, station)
        self._room_c = station.room.temperature_c
        self._block = Block(
            mass_g=mould.mass_g,
            area_m2=mould.area_m2,
            c_j_kgk=mould.heat_capacity_j_kgk,
            loss_w_m2k=mould.loss_w_m2k,
        )
        self._top_c = min(mould.warm_c[1], plastic.open_c - SET_MARGIN_K)
        self._shot_g_per_ml = plan.parts[0].melts[0].mass_g / plan.parts[0].melts[0].volume_ml
        cut = plan.cavities if plan.tail is Tail.CUT else 0
        self._between_s = pace.shot_s(station.pace) + pace.shell_out_s(mould, cut, station.pace)
        self._shares = {
            shot.shot: (shot.mean_open_c - shot.mould_c) / (plastic.open_c - shot.mould_c)
            for shot in plan.rounds_table[0].shots
        }
        self._shell_limits_c = {
            each.round: self._shell_limit_c(*each.shots) for each in plan.rounds_table if len(each.shots) > 1
        }
        """The warmest mould for each round's shell, by the plan: the same whatever a timeline does."""
        self._ends = {shot.shot: self._extremes(shot.shot) for shot in plan.rounds_table[0].shots}

    def temperatures(self, beats: Sequence[Beat]) -> dict[tuple[int, Shot], float]:
        """The mould at every shot of a round, shot exactly when the beats say, degC."""
        now_s, mould_c = 0.0, self._start_c
        at_c = {}
        for beat in beats:
            mould_c = self._cooled_c(mould_c, beat.start_s - now_s)
            at_c[beat.round, beat.shot] = mould_c
            hot_c = self._warmed_c(mould_c, beat.shot, self._shot_ml(beat))
            mould_c, now_s = self._cooled_c(hot_c, beat.end_s - beat.start_s), beat.end_s
        return {key: each for key, each in at_c.items() if key[0] > 0}

    def walk(self, beats: Sequence[Beat], used: Mapping[tuple[int, Shot], Setting]) -> Walked:
        """What these beats ask for, made with the settings ``used``: every shot waits until the mould is cool
        enough and sets as long as it then must, and all that follows is so much later."""
        now_s, mould_c, late_s = 0.0, self._start_c, 0.0
        settings: dict[tuple[int, Shot], Setting] = {}
        cooling_s: dict[tuple[int, Shot], float] = {}
        for beat in beats:
            key = (beat.round, beat.shot)
            start_s = beat.start_s + late_s
            if beat.round > 0:
                cooling_s[key] = self._cooling_s(beat, mould_c)
                start_s = max(start_s, now_s + cooling_s[key])
            mould_c = self._cooled_c(mould_c, start_s - now_s)
            longer_s = 0.0
            if beat.round > 0:
                settings[key] = self.setting(beat.shot, mould_c)
                longer_s = settings[key].set_s - used[key].set_s
            late_s = start_s - beat.start_s + longer_s
            now_s = beat.end_s + late_s
            mould_c = self._cooled_c(self._warmed_c(mould_c, beat.shot, self._shot_ml(beat)), now_s - start_s)
        return Walked(settings=settings, cooling_s=cooling_s)

    def setting(self, shot: Shot, mould_c: float) -> Setting:
        """That shot's in a mould at ``mould_c``: on the line through the coldest and the hottest of the plan."""
        (cold, cold_at), (hot, hot_at) = self._ends[shot]
        at = self._at(mould_c)
        if hot_at - cold_at < _LEAST_SPREAD:
            factor = (at + FIRST_TERM) / (hot_at + FIRST_TERM)
            return _setting(hot.hold_s * factor, hot.set_s * factor)
        share = (at - cold_at) / (hot_at - cold_at)
        return _setting(
            cold.hold_s + share * (hot.hold_s - cold.hold_s), cold.set_s + share * (hot.set_s - cold.set_s)
        )

    def _shot_ml(self, beat: Beat) -> float:
        if beat.round == 0:
            return self._plan.cavities * self._plan.volumes.bait_ml + self._plan.volumes.runner_ml
        shot = self._plan.rounds_table[beat.round - 1].shot(beat.shot)
        return shot.volume_ml + shot.top_off_ml

    def _extremes(self, shot: Shot) -> tuple[tuple[ShotPlan, float], tuple[ShotPlan, float]]:
        shots = [each.shot(shot) for each in self._plan.rounds_table]
        cold, hot = min(shots, key=_mould_c), max(shots, key=_mould_c)
        return (cold, self._at(cold.mould_c)), (hot, self._at(hot.mould_c))

    def _at(self, mould_c: float) -> float:
        """A mould that would never let a shot set is read at the margin."""
        mould_c = min(mould_c, self._plastic.open_c - SET_MARGIN_K / 2)
        return math.log((self._plastic.shot_c - mould_c) / (self._plastic.open_c - mould_c))

    def _cooling_s(self, beat: Beat, mould_c: float) -> float:
        """How long from ``mould_c`` until it is cool enough for that shot."""
        limit_c = self._top_c
        if beat.shot is Shot.SHELL:
            limit_c = self._shell_limits_c[beat.round]
        elif beat.shot is Shot.CORE and self._shell_limits_c[beat.round] <= self._mould.warm_c[0]:
            return 0.0
        return rest_s(self._block, mould_c=mould_c, until_c=limit_c, room_c=self._room_c)

    def _shell_limit_c(self, shell: ShotPlan, core: ShotPlan) -> float:
        """The warmest mould for a shell: its core, as soon after it as in the plan, is to find the mould inside
        the window. Where the window is too narrow for both, its low end."""
        heats_s = sum(heating.total_s for heating in core.heats)
        between_s = self._between_s + max(shell.hold_s, shell.set_s) + heats_s
        hot_c = self._cooled_c(self._top_c, -between_s)
        rise_k = self._warmed_c(self._top_c, Shot.SHELL, shell.volume_ml + shell.top_off_ml) - self._top_c
        return min(self._top_c, max(self._mould.warm_c[0], hot_c - rise_k))

    def _warmed_c(self, mould_c: float, shot: Shot, shot_ml: float) -> float:
        heat_j = shot_heat_j(
            shot_mass_g=shot_ml * self._shot_g_per_ml,
            c_j_kgk=self._plastic.heat_capacity_j_kgk,
            shot_c=self._plastic.shot_c,
            mean_open_c=mould_c + self._shares.get(shot, MEAN_SHARE) * (self._plastic.open_c - mould_c),
        )
        return after_shot_c(self._block, mould_c=mould_c, heat_j=heat_j)

    def _cooled_c(self, mould_c: float, seconds: float) -> float:
        return after_rest_c(self._block, mould_c=mould_c, seconds=seconds, room_c=self._room_c)


def _mould_c(shot: ShotPlan) -> float:
    return shot.mould_c


def _setting(hold_s: float, set_s: float) -> Setting:
    return Setting(hold_s=hold_s, set_s=max(hold_s, set_s))
