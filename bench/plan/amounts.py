"""Volumes: what each shot fills, and how much of each part that takes.

Per cavity, with V the whole bait (tail included), V_rod the rod in it and V_tail its tail:

    plain, laminate      one shot of V
    core, tail kept      shell V - V_rod, core V_rod
    core, tail cut       shell V - V_rod, core V_rod + V_tail; V_tail of shell colour becomes trimmings

A laminate shot, or the shell of laminate core work, is shared between its two sides. Every shot fills the runner
once, and while its gate is open takes the top-off. Volumes are those of the plastic hot in the cup, at the
temperature of the shot.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from bench.errors import BenchError
from bench.model.colourant import Colourant
from bench.model.library import nearest
from bench.model.recipe import PARTS, Part, PartRecipe
from bench.plan.records import DosePlan, Shot, Taken
from bench.plan.scope import Scope


@dataclass(frozen=True, kw_only=True, slots=True)
class ShotVolume:
    """One shot of any round: ``cavities_ml`` in all cavities together, and the runner."""

    shot: Shot
    parts: tuple[Part, ...]
    cavities_ml: float
    runner_ml: float

    @property
    def volume_ml(self) -> float:
        """What the push moves, top-off not counted."""
        return self.cavities_ml + self.runner_ml


@dataclass(frozen=True, kw_only=True, slots=True)
class PartAmount:
    """What one part takes: in every round, ``top_off_ml`` of it while the gate gels, in the warm-up shots of all
    moulds together, and in every melt for what clings to cup and injector. ``margin`` (0 to 1) is melted beyond
    rounds and warm-up shots. ``trimmed_ml`` is what is cut off again over the whole scope."""

    part: Part
    per_round_ml: float
    warm_up_ml: float
    residue_ml: float
    margin: float
    trimmed_ml: float
    top_off_ml: float = 0.0

    def taken(self, rounds: int, *, melts: int) -> Taken:
        """Where the plastic of so many melts, which serve so many rounds together, goes."""
        return Taken(
            rounds_ml=rounds * (self.per_round_ml - self.top_off_ml),
            top_off_ml=rounds * self.top_off_ml,
            warm_up_ml=self.warm_up_ml,
            margin_ml=self.margin * (rounds * self.per_round_ml + self.warm_up_ml),
            left_ml=melts * self.residue_ml,
        )

    def melt_ml(self, rounds: int, *, first: bool) -> float:
        """The volume of one melt that serves so many rounds; the first one feeds the warm-up shots too."""
        shots_ml = rounds * self.per_round_ml + (self.warm_up_ml if first else 0.0)
        return shots_ml * (1 + self.margin) + self.residue_ml


def shot_volumes(scope: Scope) -> tuple[ShotVolume, ...]:
    """The shots of one round, in their order."""
    volumes, cavities = scope.mould.volumes, scope.mould.cavities
    parts = PARTS[scope.build]
    if not scope.build.has_core:
        return (_shot(Shot.WHOLE, parts, cavities * volumes.bait_ml, volumes.runner_ml),)
    core_ml = volumes.rod_ml + (volumes.tail_ml if scope.cuts_tails else 0.0)
    return (
        _shot(Shot.SHELL, parts[:-1], cavities * (volumes.bait_ml - volumes.rod_ml), volumes.runner_ml),
        _shot(Shot.CORE, parts[-1:], cavities * core_ml, volumes.runner_ml),
    )


def warm_up_shot_ml(scope: Scope) -> float:
    """One warm-up shot: whole baits without rods, and the runner."""
    return scope.mould.cavities * scope.mould.volumes.bait_ml + scope.mould.volumes.runner_ml


def part_amounts(scope: Scope, *, top_off_ml: Mapping[Shot, float]) -> tuple[PartAmount, ...]:
    """What every part takes, in the order of the shots, when each shot takes the top-off given for it."""
    return tuple(_part_amounts(scope, top_off_ml))


def _part_amounts(scope: Scope, top_off_ml: Mapping[Shot, float]) -> Iterator[PartAmount]:
    warm_ups = scope.moulds * scope.warm_up_shots
    trimmed_ml = scope.rounds * scope.cut_cavities * scope.mould.volumes.tail_ml
    for place, shot in enumerate(shot_volumes(scope)):
        for part in shot.parts:
            share = scope.share(part)
            yield PartAmount(
                part=part,
                per_round_ml=share * (shot.volume_ml + top_off_ml[shot.shot]),
                warm_up_ml=share * warm_ups * warm_up_shot_ml(scope) if place == 0 else 0.0,
                residue_ml=scope.station.vessel.residue_ml + scope.station.injector.residue_ml,
                margin=scope.recipe.parts[part].margin_pct / 100,
                trimmed_ml=0.0 if part is Part.CORE else share * trimmed_ml,
                top_off_ml=share * top_off_ml[shot.shot],
            )


def doses(part: PartRecipe, *, mass_g: float, colourants: Mapping[str, Colourant]) -> tuple[DosePlan, ...]:
    """What to weigh into a cup whose whole mass, colour included, is ``mass_g``.

    Raises BenchError for a colourant that is not among ``colourants``.
    """
    return tuple(_doses(part, mass_g, colourants))


def _doses(part: PartRecipe, mass_g: float, colourants: Mapping[str, Colourant]) -> Iterator[DosePlan]:
    for dose in part.doses:
        colourant = colourants.get(dose.colourant)
        if colourant is None:
            near = nearest(dose.colourant, colourants)
            hint = f"; did you mean {near}?" if near else ""
            raise BenchError(f'no colourant is called "{dose.colourant[:40]}"{hint}')
        dose_g = mass_g * dose.load_pct / 100
        yield DosePlan(
            colourant=dose.colourant,
            title=colourant.title,
            load_pct=dose.load_pct,
            mass_g=dose_g,
            drops=None if colourant.drop_g is None else dose_g / colourant.drop_g,
        )


def _shot(shot: Shot, parts: tuple[Part, ...], cavities_ml: float, runner_ml: float) -> ShotVolume:
    return ShotVolume(shot=shot, parts=parts, cavities_ml=cavities_ml, runner_ml=runner_ml)
