"""Weigh, heat, read: runs that measure the heater's power, as a value that changes by legal moves only.

Words of harm come first: no weighing before every opening card is read, and a reading over the scorch limit stands
until it is acknowledged, whatever it was.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from bench.errors import BenchError, IllegalMove
from bench.model.caution import Caution
from bench.model.library import Library
from bench.model.plastic import Plastic
from bench.model.settings import UnitSystem
from bench.model.station import POWER_KEY, Heater, Station
from bench.model.step_kind import StepKind
from bench.physics.calibrate import (
    LEAST_RISE_K,
    HeatingRun,
    Power,
    absorbed_on_the_way_w,
    check_power,
    check_rise,
    check_run,
    check_time,
)
from bench.physics.cup import Cup
from bench.physics.melting import bursts_s, melt_s
from bench.physics.misreading import Misreading
from bench.plan.vessel import vessel_room_g
from bench.session.misreadings import likely_as_typed
from bench.session.stamp import Stamp, span
from bench.units import both_scales

COLDEST_START_C, HOTTEST_START_C = 0.0, 45.0
"""A run begins with what stood in the room, not with what was heated before: a profile's power counts so."""

HOTTEST_READING_C = 400.0
"""Starting value: above it no cup of plastic is read, and the figure is a slip."""


class At(StrEnum):
    """Where a calibration stands."""

    CAUTIONS = "reading cautions"
    WEIGH = "weighing"
    START = "reading the start"
    READY = "ready to heat"
    HEATING = "heating"
    END = "reading the end"
    ALARM = "over the scorch limit"
    DONE = "done"


class Scorched(BenchError):
    """A cup reads over the scorch limit. ``temp_c`` is the reading."""

    def __init__(self, temp_c: float, scorch_c: float) -> None:
        self.temp_c = temp_c
        super().__init__(
            f"the cup reads {both_scales(temp_c)}, and its plastic scorches above {both_scales(scorch_c)}"
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Rig:
    """What is calibrated: the station with its vessel, and the plastic in it."""

    station: Station
    plastic: Plastic

    @property
    def most_g(self) -> float:
        """What the vessel takes, in whole grams: hot, the plastic takes more room than cold."""
        return float(math.floor(vessel_room_g(self.station.vessel, self.plastic)))

    def cup(self, mass_g: float) -> Cup:
        """The vessel with so much plastic, BenchError for more than it may hold."""
        vessel = self.station.vessel
        if mass_g <= 0:
            raise BenchError("weigh the plastic: there must be some in the cup")
        if mass_g > self.most_g:
            raise BenchError(
                f"{mass_g:.0f} g is more than this vessel may hold: {vessel.fill_pct:.0f} % of "
                f"{vessel.volume_ml:.0f} ml, {self.most_g:.0f} g, for it grows as it heats"
            )
        volume_ml = mass_g * 1e3 / self.plastic.density_kg_m3
        return Cup(
            mass_g=mass_g,
            c_j_kgk=self.plastic.heat_capacity_j_kgk,
            diameter_mm=vessel.diameter_mm,
            height_mm=volume_ml * 1e3 / (math.pi / 4 * vessel.diameter_mm**2),
            vessel_mass_g=vessel.mass_g,
            vessel_c_j_kgk=vessel.heat_capacity_j_kgk,
        )

    def check_start(self, start_c: float) -> None:
        """Raises BenchError for a start that is not about the room's."""
        check_possible(start_c)
        if not COLDEST_START_C <= start_c <= HOTTEST_START_C:
            raise BenchError(
                f"a run begins with a cup as cold as the room, and {both_scales(start_c)} is not: let it cool, or "
                "look at the figure and its unit"
            )

    def check_end(self, start_c: float, end_c: float) -> None:
        """Raises Scorched over the scorch limit, BenchError for a reading that cannot be or does not rise
        enough."""
        check_possible(end_c)
        if end_c > self.plastic.scorch_c:
            raise Scorched(end_c, self.plastic.scorch_c)
        check_rise(start_c=start_c, end_c=end_c)

    def run(self, *, mass_g: float, start_c: float, end_c: float, seconds: float) -> HeatingRun:
        """The run that these figures say; BenchError for one that cannot be meant."""
        run = HeatingRun(cup=self.cup(mass_g), start_c=start_c, end_c=end_c, seconds=seconds)
        self.check_start(start_c)
        self.check_end(start_c, end_c)
        check_run(run)
        check_power(self.power(run).power_w)
        return run

    def power(self, run: HeatingRun) -> Power:
        """The profile's power by that run."""
        return absorbed_on_the_way_w(run, room_c=self.station.room.temperature_c, band_c=self.plastic.shot_c)


def cards_of(cautions: Iterable[Caution]) -> tuple[tuple[Caution, ...], ...]:
    """What is read before any heat, as cards, in the order of their file."""
    cards: dict[str, list[Caution]] = {}
    for caution in cautions:
        if caution.at_start:
            cards.setdefault(caution.group, []).append(caution)
    return tuple(tuple(card) for card in cards.values())


def heating_cautions(library: Library) -> tuple[Caution, ...]:
    """What stays in sight while a cup is hot: the air first, then hot plastic on skin, then the rest."""
    heating = [caution for caution in library.cautions if StepKind.HEAT in caution.steps]
    handling = [
        caution for caution in library.cautions if StepKind.HOLD in caution.steps and caution not in heating
    ]
    return (*heating[:1], *handling, *heating[1:])


def scorch_cautions(library: Library) -> tuple[Caution, ...]:
    """What to do at a reading over the scorch limit."""
    return tuple(caution for caution in library.cautions if caution.above_scorch)


def rig_for(library: Library, *, station: str | None = None, plastic: str | None = None) -> Rig:
    """The rig of these names, the first plastic of the shelf where none is named. Raises BenchError for a name
    that is not on it."""
    if plastic is None and not library.plastics:
        raise BenchError("there is no plastic on the shelf; pourbench check says why")
    named = plastic or min(library.plastics)
    return Rig(station=library.station(station), plastic=library.plastic(named))


def check_possible(temp_c: float) -> None:
    """Raises BenchError for what no cup of plastic reads, scorched or not."""
    if temp_c > HOTTEST_READING_C:
        raise BenchError(f"no cup of plastic reads {both_scales(temp_c)}: look at the figure and its unit")


def meant_start(start_c: float, units: UnitSystem) -> Misreading | None:
    """What a start that cannot be was probably meant to be."""
    return likely_as_typed(start_c, (COLDEST_START_C, HOTTEST_START_C), units)


def meant_end(rig: Rig, start_c: float, end_c: float, units: UnitSystem) -> Misreading | None:
    """What an end that cannot be was probably meant to be."""
    return likely_as_typed(end_c, (start_c + LEAST_RISE_K, rig.plastic.scorch_c), units)


@dataclass(frozen=True, kw_only=True, slots=True)
class Calibration:
    """One calibration, a run at a time. ``read`` counts the opening cards acknowledged, ``over_c`` is a reading
    over the scorch limit."""

    rig: Rig
    cards: tuple[tuple[Caution, ...], ...]
    at: At = At.CAUTIONS
    read: int = 0
    cup: Cup | None = None
    start_c: float | None = None
    began: Stamp | None = None
    seconds: float | None = None
    over_c: float | None = None
    runs: tuple[HeatingRun, ...] = ()

    @property
    def card(self) -> tuple[Caution, ...]:
        """The card to read now; empty once all are."""
        return self.cards[self.read] if self.at is At.CAUTIONS else ()

    def acknowledged(self) -> Calibration:
        """The card, or the alarm, was read."""
        self._only("an acknowledgement", At.CAUTIONS, At.ALARM)
        if self.at is At.ALARM:
            return replace(self, at=At.START if self.start_c is None else At.END, over_c=None)
        read = self.read + 1
        return replace(self, read=read, at=At.CAUTIONS if read < len(self.cards) else At.WEIGH)

    def weighed(self, mass_g: float) -> Calibration:
        """So much plastic is in the cup."""
        self._only("a mass", At.WEIGH)
        return replace(self, cup=self.rig.cup(mass_g), at=At.START)

    def start_read(self, temp_c: float) -> Calibration:
        """The cup reads so much before it is heated."""
        self._only("a start reading", At.START)
        check_possible(temp_c)
        if temp_c > self.rig.plastic.scorch_c:
            return replace(self, over_c=temp_c, at=At.ALARM, start_c=None)
        self.rig.check_start(temp_c)
        return replace(self, start_c=temp_c, at=At.READY)

    def heated(self, now: Stamp) -> Calibration:
        """The heat went on."""
        self._only("heat", At.READY)
        return replace(self, began=now, at=At.HEATING)

    def stopped(self, now: Stamp) -> Calibration:
        """The heat went off. Raises BenchError for a time too short, and the clock runs on."""
        self._only("the end of the heat", At.HEATING)
        seconds = self.heating_s(now)
        check_time(seconds)
        return replace(self, seconds=seconds, at=At.END)

    def end_read(self, temp_c: float) -> Calibration:
        """The stirred cup reads so much: the run is done, or the alarm stands."""
        self._only("an end reading", At.END)
        if self.cup is None or self.start_c is None or self.seconds is None:
            raise IllegalMove(state=self.at, event="an end reading", why="the run has no beginning")
        try:
            run = self.rig.run(mass_g=self.cup.mass_g, start_c=self.start_c, end_c=temp_c, seconds=self.seconds)
        except Scorched:
            return replace(self, over_c=temp_c, at=At.ALARM)
        return replace(self, runs=(*self.runs, run), at=At.DONE)

    def likelier(self, temp_c: float, units: UnitSystem) -> Misreading | None:
        """What a reading over the scorch limit was more likely meant to be than what it says; None where it must
        be believed.

        A cold cup does not scorch by itself. After the heat the likelier of two readings is the one whose rise is
        nearer to what the profile's power gives in that time.
        """
        if not self.rig.plastic.scorch_c < temp_c <= HOTTEST_READING_C:
            return None
        if self.at is At.START:
            return meant_start(temp_c, units)
        if self.at is not At.END or self.cup is None or self.start_c is None or self.seconds is None:
            return None
        meant = meant_end(self.rig, self.start_c, temp_c, units)
        expected_k = self.rig.station.heater.absorbed_w * self.seconds / self.cup.capacity_j_k
        if meant is None or expected_k <= 0:
            return None
        meant_off = abs(math.log((meant.value_c - self.start_c) / expected_k))
        return meant if meant_off < abs(math.log((temp_c - self.start_c) / expected_k)) else None

    def saved(self, power_w: float, source: str) -> Calibration:
        """That power, in whole watts, is the profile's from now on."""
        sources = {**self.rig.station.sources, POWER_KEY: source}
        return self.by_profile(Heater(absorbed_w=float(round(power_w))), sources)

    def by_profile(self, heater: Heater, sources: Mapping[str, str]) -> Calibration:
        """The same, with what the station's profile says of its heater."""
        station = replace(self.rig.station, heater=heater, sources=sources)
        return replace(self, rig=replace(self.rig, station=station))

    def again(self) -> Calibration:
        """One more run, with a fresh cup."""
        self._only("another run", At.DONE)
        return replace(self, cup=None, start_c=None, began=None, seconds=None, at=At.WEIGH)

    def back(self) -> Calibration:
        """The step before. A cup that was on the heat is not what it was: its start is read anew."""
        self._only("going back", *_BACK)
        runs = self.runs[:-1] if self.at is At.DONE else self.runs
        return replace(self, at=_BACK[self.at], runs=runs)

    def heating_s(self, now: Stamp) -> float:
        """How long the cup has been on the heat, s."""
        return 0.0 if self.began is None else span(self.began, now).seconds

    def first_burst_s(self) -> float:
        """How long to heat by the profile's power: one first burst and no more, s; 0 before the start is read."""
        if self.cup is None or self.start_c is None:
            return 0.0
        shot_c, power_w = self.rig.plastic.shot_c, self.rig.station.heater.absorbed_w
        return bursts_s(self.cup, start_c=self.start_c, to_c=shot_c, power_w=power_w)[0]

    def band_s(self) -> float:
        """When the cup would be in its band by the profile's power, s; 0 before the start is read."""
        if self.cup is None or self.start_c is None:
            return 0.0
        shot_c, power_w = self.rig.plastic.shot_c, self.rig.station.heater.absorbed_w
        return melt_s(self.cup, start_c=self.start_c, to_c=shot_c, power_w=power_w)

    def _only(self, event: str, *places: At) -> None:
        if self.at not in places:
            raise IllegalMove(state=self.at, event=event)


_BACK = {
    At.START: At.WEIGH,
    At.READY: At.START,
    At.HEATING: At.START,
    At.END: At.START,
    At.DONE: At.END,
}


def begin(rig: Rig, cautions: Iterable[Caution]) -> Calibration:
    """A calibration before its first card."""
    cards = cards_of(cautions)
    return Calibration(rig=rig, cards=cards, at=At.CAUTIONS if cards else At.WEIGH)
