"""The rounds: what temperature the mould has at every shot, and how long each takes.

The mould starts in the middle of its window. A round goes

    rest if any; rods in; heat the first shot's cups; shot; set; open;
    core work: rods out; look; trim; shells back; heat the core's cup; core shot; set; open;
    look

Before round 1 come its warm-up shots (the first shot's cups heated; shot, set, open); its rest, if it needs one,
follows them, because it is they that heat the mould, and its cups are reheated. Rods go in before the cups are
heated, because a cup stays in its band for a minute or less.

The mould is at no shot above its window: a round rests first until this holds for its core shot too, so that no
shell lies about waiting for the mould. Where the heat of the shell's shot is more than the window is wide, the
rest ends at the low end of the window and the core is shot into a hotter mould.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bench.plan import pace
from bench.plan.amounts import ShotVolume, shot_volumes
from bench.plan.heats import Heats
from bench.plan.records import Heating, RoundPlan
from bench.plan.scope import Scope
from bench.plan.sets import SetTimes
from bench.plan.shooting import Shooter, Shooting, WarmUp, shell_after_air_c, start_c, window_top_c

_HALVINGS = 24


@dataclass(frozen=True, kw_only=True, slots=True)
class Timed:
    """A round with its length. ``cycle_s`` leaves out what comes once only: heating from cold and the warm-up
    shots. ``shell_c`` is what the shells have cooled to when the core is shot, None where there is no core.
    ``after_c`` is the mould at the round's end."""

    plan: RoundPlan
    seconds: float
    cycle_s: float
    shell_c: float | None
    after_c: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Times:
    """All rounds of a job, and the heatings before the warm-up shots."""

    warm_up: WarmUp
    warm_up_heats: tuple[Heating, ...]
    rounds: tuple[Timed, ...]

    @property
    def seconds(self) -> float:
        """From the first cup on the heater to the last look."""
        before = _seconds(self.warm_up_heats) + self.warm_up.seconds
        return before + sum(each.seconds for each in self.rounds)

    @property
    def mean_cycle_s(self) -> float:
        """A round as they are on average."""
        return sum(each.cycle_s for each in self.rounds) / len(self.rounds)


def time_rounds(scope: Scope, sets: SetTimes, heats: Heats) -> Times:
    """Every round in turn.

    Raises BenchError when the mould comes to where a shot would never set.
    """
    return _Rounds(scope, sets, heats).all()


@dataclass(frozen=True, kw_only=True, slots=True)
class _CoreShot:
    """The core's shot of a round, and what passes between the end of the shell's set and the push."""

    shooting: Shooting
    between_s: float
    shell_c: float


class _Rounds:
    """The walk through the rounds."""

    def __init__(self, scope: Scope, sets: SetTimes, heats: Heats) -> None:
        self._scope = scope
        self._heats = heats
        self._shooter = Shooter(scope, sets)
        self._first, *cores = shot_volumes(scope)
        self._core = cores[0] if cores else None
        self._rods_s = pace.rods_in_s(scope.mould, scope.station.pace) if cores else 0.0
        self._top_c = window_top_c(scope)
        self._limits_c: dict[float, float] = {}

    def all(self) -> Times:
        warms_up = self._scope.warm_up_shots > 0
        cold = self._heats.of_round(self._first.parts, 1) if warms_up else ()
        hot_c = self._shooter.cooled_c(start_c(self._scope.mould, self._scope.station), _seconds(cold))
        warm_up = self._shooter.warm_up(hot_c)
        return Times(
            warm_up=warm_up,
            warm_up_heats=cold,
            rounds=tuple(self._rounds(warm_up.after_c, warm_up.seconds if warms_up else None)),
        )

    def _rounds(self, mould_c: float, warm_up_s: float | None) -> Iterator[Timed]:
        if warm_up_s is None:
            heats = self._heats.of_round(self._first.parts, 1)
        else:
            heats = self._heats.after_warm_up(self._first.parts, stood_s=warm_up_s + self._rods_s)
        timed = self._round(1, mould_c, heats)
        yield timed
        for number in range(2, self._scope.rounds + 1):
            timed = self._round(number, timed.after_c, self._heats.of_round(self._first.parts, number))
            yield timed

    def _round(self, number: int, mould_c: float, heats: tuple[Heating, ...]) -> Timed:
        hands = self._scope.station.pace
        core_heats = () if self._core is None else self._heats.of_round(self._core.parts, number)
        ahead_s = self._rods_s + _seconds(heats)
        rest_s = self._shooter.rest_s(mould_c, ahead_s=ahead_s, until_c=self._limit_c(core_heats))
        first_c = self._shooter.cooled_c(mould_c, rest_s + ahead_s)
        last = first = self._shooter.shoot(self._first, mould_c=first_c, heats=heats)
        seconds = rest_s + ahead_s + first.seconds
        core = None if self._core is None else self._core_shot(self._core, core_heats, first)
        if core is not None:
            last = core.shooting
            seconds += core.between_s + last.seconds
        end_s = pace.open_s(self._scope.mould, hands) + pace.look_s(hands)
        seconds += end_s
        shots = (first.plan,) if core is None else (first.plan, last.plan)
        cold_s = sum(heating.total_s for shot in shots for heating in shot.heats if heating.from_cold)
        return Timed(
            plan=RoundPlan(round=number, mould_c=first_c, rest_s=rest_s, shots=shots),
            seconds=seconds,
            cycle_s=seconds - cold_s,
            shell_c=core.shell_c if core else None,
            after_c=self._shooter.cooled_c(last.after_c, end_s),
        )

    def _core_shot(self, core: ShotVolume, heats: tuple[Heating, ...], shell: Shooting) -> _CoreShot:
        between_s = self._between_s(heats)
        shell_c = shell_after_air_c(self._scope, mean_open_c=shell.mean_open_c)
        mould_c = self._shooter.cooled_c(shell.after_c, between_s)
        shooting = self._shooter.shoot(core, mould_c=mould_c, shell_c=shell_c, heats=heats)
        return _CoreShot(shooting=shooting, between_s=between_s, shell_c=shell_c)

    def _between_s(self, heats: tuple[Heating, ...]) -> float:
        scope = self._scope
        return pace.shell_out_s(scope.mould, scope.cut_cavities, scope.station.pace) + _seconds(heats)

    def _limit_c(self, core_heats: tuple[Heating, ...]) -> float:
        """The warmest mould with which a round may begin to shoot."""
        if self._core is None:
            return self._top_c
        between_s = self._between_s(core_heats)
        if between_s not in self._limits_c:
            self._limits_c[between_s] = self._limit_for_core_c(between_s)
        return self._limits_c[between_s]

    def _limit_for_core_c(self, between_s: float) -> float:
        """By halving, between the ends of the window: a warmer start is a warmer core shot."""

        def core_fits(first_c: float) -> bool:
            shell = self._shooter.shoot(self._first, mould_c=first_c)
            return self._shooter.cooled_c(shell.after_c, between_s) <= self._top_c

        low_c, high_c = self._scope.mould.warm_c[0], self._top_c
        if core_fits(high_c):
            return high_c
        for _ in range(_HALVINGS):
            middle_c = (low_c + high_c) / 2
            low_c, high_c = (middle_c, high_c) if core_fits(middle_c) else (low_c, middle_c)
        return low_c


def _seconds(heats: tuple[Heating, ...]) -> float:
    return sum(heating.total_s for heating in heats)
