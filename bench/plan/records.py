"""What a plan is: frozen records, ready to be shown, saved and followed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeVar

from bench.model.mould import Volumes
from bench.model.recipe import Build, Part, Tail
from bench.model.settings import UnitSystem
from bench.model.station import WarmedBy
from bench.plan.spares import rounds_for, spare_baits
from bench.units import Celsius, Grams, Millilitres, Percent, Seconds

_T = TypeVar("_T")


class Shot(StrEnum):
    """A shot into the mould. Plain and laminate rounds have one, core rounds two."""

    WHOLE = "shot"
    SHELL = "shell"
    CORE = "core"


@dataclass(frozen=True, kw_only=True, slots=True)
class Ask:
    """What the maker wants, beyond the profiles. ``None`` leaves the choice to the recipe or the station.
    ``moulds`` is how many identical moulds there are, of which a job may use fewer. ``units`` are those of the
    plan's sentences."""

    count: int
    tail: Tail | None = None
    spares_pct: Percent | None = None
    warm_up_shots: int | None = None
    moulds: int = 1
    units: UnitSystem = UnitSystem.METRIC


@dataclass(frozen=True, kw_only=True, slots=True)
class DosePlan:
    """One colourant to weigh. ``drops`` is a hint beside the mass; None where it has no drops."""

    colourant: str
    title: str
    load_pct: Percent
    mass_g: Grams
    drops: float | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Melt:
    """One cupful of one part: what goes in, the rounds it serves, and the heat it takes.

    ``mass_g`` is everything together, ``base_g`` the plastic before colour. ``heat_s`` is from room temperature
    to the middle of the band, ``reheat_s`` what bringing it back takes in each later round that it serves.
    """

    part: Part
    number: int
    volume_ml: Millilitres
    mass_g: Grams
    base_g: Grams
    doses: tuple[DosePlan, ...]
    first_round: int
    last_round: int
    heat_s: Seconds
    reheat_s: Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class Taken:
    """Where all of a part's plastic goes, ml when hot: into cavities and runners of the rounds, through the sprue
    while gates gel, into the warm-up shots of all moulds together, into the recipe's margin, and left behind in
    cup and injector, once for every melt. All nought in a session that was saved before plans itemised it."""

    rounds_ml: Millilitres = 0.0
    top_off_ml: Millilitres = 0.0
    warm_up_ml: Millilitres = 0.0
    margin_ml: Millilitres = 0.0
    left_ml: Millilitres = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class PartPlan:
    """One part over the whole job. ``per_round_ml`` has the top-off in it, ``taken`` adds up to ``total_ml``, and
    ``trimmed_g`` is what is cut off as shell-coloured tails."""

    part: Part
    per_round_ml: Millilitres
    total_ml: Millilitres
    total_g: Grams
    trimmed_g: float
    doses: tuple[DosePlan, ...]
    melts: tuple[Melt, ...]
    taken: Taken = Taken()

    @property
    def melt_by_round(self) -> Mapping[int, Melt]:
        """From which melt each round is shot: where all rounds are asked for, looking through the melts for each
        would take the square of their number."""
        return {number: melt for melt in self.melts for number in range(melt.first_round, melt.last_round + 1)}


@dataclass(frozen=True, kw_only=True, slots=True)
class Heating:
    """One heating of one cup; ``from_cold`` for the first of its melt.

    ``heat_s`` is how long the heater is on, shared out over ``bursts_s``. After each burst the cup is stirred and
    read off the heat, which takes ``stir_s``.
    """

    part: Part
    melt: int
    from_cold: bool
    heat_s: Seconds
    bursts_s: tuple[Seconds, ...]
    stir_s: Seconds

    @property
    def total_s(self) -> float:
        """From the first burst to the end of the last stir."""
        return self.heat_s + len(self.bursts_s) * self.stir_s


@dataclass(frozen=True, kw_only=True, slots=True)
class ShotPlan:
    """One shot of one round. ``heats`` are the heatings right before it, in their order. Both times count from the
    end of the push: ``hold_s`` until the gate has gelled, ``set_s`` until the mould may be opened. ``top_off_ml``
    is what the sprue takes meanwhile, ``mean_open_c`` the mean of what was just shot when the mould is opened."""

    shot: Shot
    parts: tuple[Part, ...]
    mould_c: Celsius
    volume_ml: Millilitres
    hold_s: Seconds
    set_s: Seconds
    top_off_ml: Millilitres
    mean_open_c: Celsius
    heats: tuple[Heating, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class RoundPlan:
    """One round. ``mould_c`` is the mould just before its first shot, ``rest_s`` how long it cools for that."""

    round: int
    mould_c: Celsius
    rest_s: Seconds
    shots: tuple[ShotPlan, ...]

    def shot(self, shot: Shot) -> ShotPlan:
        """The round's shot of that sort; LookupError where the build has none."""
        return _first(plan for plan in self.shots if plan.shot is shot)


@dataclass(frozen=True, kw_only=True, slots=True)
class Plan:
    """A job worked out. ``moulds`` is how many identical moulds its amounts serve, each with its own
    ``warm_up_shots``; ``warm_up_heats`` are the heatings before the warm-up shots of one. ``total_s`` is from the
    first step to the last tray laid out, cure not counted. ``warming`` is what warms the moulds in
    ``warm_mould_s``, 0 where only scrap shots do. ``spares_pct`` is what is asked for beyond ``count``, of which
    only whole baits are made."""

    recipe: str
    recipe_title: str
    mould: str
    mould_title: str
    plastic: str
    station: str
    build: Build
    tail: Tail
    count: int
    cavities: int
    rounds: int
    warm_up_shots: int
    volumes: Volumes
    warm_mould_s: Seconds
    warm_up_heats: tuple[Heating, ...]
    warm_up_set_s: Seconds
    purge_s: Seconds
    cure_s: Seconds
    total_s: Seconds
    parts: tuple[PartPlan, ...]
    rounds_table: tuple[RoundPlan, ...]
    warnings: tuple[str, ...]
    moulds: int = 1
    warming: WarmedBy = WarmedBy.PLATE
    spares_pct: Percent = 0.0

    @property
    def made(self) -> int:
        """The baits of all rounds, which are full ones."""
        return self.rounds * self.cavities

    @property
    def spares(self) -> int:
        """The whole baits asked for beyond ``count``."""
        return spare_baits(self.count, self.spares_pct)

    @property
    def spare_rounds(self) -> int:
        """The rounds that are there for the spares alone."""
        return self.rounds - rounds_for(self.count, self.cavities)

    def part(self, part: Part) -> PartPlan:
        """The plan of that part; LookupError where the build has none."""
        return _first(plan for plan in self.parts if plan.part is part)

    def per_round_ml(self, shot: Shot) -> Millilitres:
        """What that shot takes of all its parts in a round, top-off included."""
        is_core = shot is Shot.CORE
        return sum(each.per_round_ml for each in self.parts if (each.part is Part.CORE) is is_core)

    def melt(self, part: Part, round_number: int) -> Melt:
        """The melt from which that part is shot in that round."""
        return _first(
            melt for melt in self.part(part).melts if melt.first_round <= round_number <= melt.last_round
        )

    def melt_numbered(self, part: Part, number: int) -> Melt:
        """That part's cup of that number; LookupError where it has none."""
        return _first(melt for melt in self.part(part).melts if melt.number == number)


def _first(found: Iterator[_T]) -> _T:
    """LookupError where there is none, which only a plan that was changed by hand lacks: a StopIteration would be
    a RuntimeError in the generators that ask."""
    for each in found:
        return each
    raise LookupError("the plan has no such part")
