"""The scope of a job: what is asked for, settled against the recipe, the mould and the station."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from bench.errors import BenchError
from bench.model.figures import temperature, volume
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import PARTS, Build, Part, Recipe, Tail
from bench.model.settings import UnitSystem
from bench.model.station import Station
from bench.physics.feeding import density_kg_m3
from bench.plan.spares import rounds_for, spare_baits
from bench.units import Celsius, Millilitres, Percent

if TYPE_CHECKING:
    from bench.plan.records import Ask

MOST_BAITS = 10_000
"""A count beyond this is taken for a slip of the finger."""

MOST_WARM_UP_SHOTS = 20

MOST_MOULDS = 4


@dataclass(frozen=True, kw_only=True, slots=True)
class Scope:
    """Everything that is decided before anything is reckoned.

    ``tail`` is what is planned for every round; it says nothing where there is no core. Amounts and times are
    reckoned for ``rounds`` full rounds, spares included, dealt over ``moulds`` identical moulds.
    ``chooses_warm_up`` says that nobody asked for a number of warm-up shots. ``units`` are those of sentences.
    """

    recipe: Recipe
    mould: Mould
    plastic: Plastic
    station: Station
    tail: Tail
    count: int
    rounds: int
    warm_up_shots: int
    moulds: int = 1
    spares_pct: Percent = 0.0
    chooses_warm_up: bool = False
    units: UnitSystem = UnitSystem.METRIC

    @property
    def build(self) -> Build:
        """How the bait is made."""
        return self.recipe.build

    @property
    def cuts_tails(self) -> bool:
        """Whether shells lose their tails to the core's colour."""
        return self.build.has_core and self.tail is Tail.CUT

    @property
    def cut_cavities(self) -> int:
        """How many shells of a round are trimmed."""
        return self.mould.cavities if self.cuts_tails else 0

    @property
    def room_c(self) -> float:
        """Where everything starts from and cools to."""
        return self.station.room.temperature_c

    @property
    def shot_g_per_ml(self) -> float:
        """Density of the plastic as it stands in the cup, at the temperature of the shot."""
        plastic = self.plastic
        hot_kg_m3 = density_kg_m3(
            rho_20_kg_m3=plastic.density_kg_m3, beta_per_k=plastic.expansion_per_k, at_c=plastic.shot_c
        )
        return hot_kg_m3 / 1000

    def temperature(self, temp_c: Celsius) -> str:
        """A temperature as a sentence says it."""
        return temperature(temp_c, self.units)

    def volume(self, ml: Millilitres) -> str:
        """A volume as a sentence says it."""
        return volume(ml, self.units)

    def share(self, part: Part) -> float:
        """Which part of its shot this colour fills, 0 to 1. The core's shot is always all its own."""
        return 1.0 if part is Part.CORE else self.recipe.parts[part].share_pct / 100


def settle(*, recipe: Recipe, mould: Mould, plastic: Plastic, station: Station, ask: Ask) -> Scope:
    """The scope of what ``ask`` describes. Raises BenchError when these do not go together."""
    _check_count(ask.count)
    tail = recipe.tail if ask.tail is None else ask.tail
    check_mould(recipe, mould, tail)
    _check_shares(recipe)
    low, high = mould.warm_c
    room_c = station.room.temperature_c
    if room_c >= low:
        raise BenchError(
            f"the room at {temperature(room_c, ask.units)} is not below the window of {mould.title}, "
            f"{temperature(low, ask.units)} to {temperature(high, ask.units)}: "
            "the mould would never cool into it"
        )
    spares_pct = station.spares_pct if ask.spares_pct is None else ask.spares_pct
    if not 0 <= spares_pct <= 100:
        raise BenchError(f"spares of {spares_pct:g} % were asked for; 0 to 100 % can be planned")
    warm_up_shots = station.warm_up_shots if ask.warm_up_shots is None else ask.warm_up_shots
    if not 0 <= warm_up_shots <= MOST_WARM_UP_SHOTS:
        raise BenchError(f"{warm_up_shots} warm-up shots were asked for; 0 to {MOST_WARM_UP_SHOTS} can be planned")
    if not 1 <= ask.moulds <= MOST_MOULDS:
        raise BenchError(f"{ask.moulds} moulds were asked for; 1 to {MOST_MOULDS} can be planned")
    return Scope(
        recipe=recipe,
        mould=mould,
        plastic=plastic,
        station=station,
        tail=tail,
        count=ask.count,
        rounds=rounds_for(ask.count + spare_baits(ask.count, spares_pct), mould.cavities),
        warm_up_shots=warm_up_shots,
        moulds=ask.moulds,
        spares_pct=spares_pct,
        chooses_warm_up=ask.warm_up_shots is None,
        units=ask.units,
    )


def _check_count(count: int) -> None:
    if count < 1:
        raise BenchError(f"{count} baits were asked for; a plan needs at least 1")
    if count > MOST_BAITS:
        raise BenchError(f"{count} baits were asked for; at most {MOST_BAITS} can be planned at once")


def check_mould(recipe: Recipe, mould: Mould, tail: Tail) -> None:
    if recipe.build.has_core and mould.rods is None:
        raise BenchError(f"{recipe.title} is {recipe.build} work, and {mould.title} has no core rods")
    if tail is not Tail.CUT:
        return
    if not recipe.build.has_core:
        raise BenchError(f"{recipe.title} is {recipe.build} work: only core work cuts the shell's tail")
    if mould.volumes.tail_ml <= 0:
        raise BenchError(
            f"the tail was to be cut, and the baits of {mould.title} have no tail: "
            "ask for it kept (--tail kept, or T on the bench)"
        )


def _check_shares(recipe: Recipe) -> None:
    for part in PARTS[recipe.build]:
        if part is not Part.CORE and recipe.parts[part].share_pct <= 0:
            raise BenchError(f"{recipe.title} gives {part.words} a share of 0 %: nothing of it can be planned")
