"""What the runs of a calibration say together, how sure it is, and where a profile says that it comes from."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial

from bench.model.station import POWER_KEY
from bench.physics.calibrate import HeatingRun, Power, combined
from bench.physics.melting import melt_s
from bench.session.calibration import Rig

FAR_FROM_PROFILE = 1.5
"""Starting value: a power so many times more or less than the profile's is saved only once confirmed."""

UNLIKE_MASSES = 1.5

_MEASURED = re.compile(r"measured at this bench: .*; \+-(?P<spread>\d+) W", re.DOTALL)
"""A source as ``source_words`` writes it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Measured:
    """What the runs say together; ``notes`` are sentences to read before it is believed.

    ``doubt`` is what to confirm before it is saved: that it is far from the profile's power, or less sure than one
    that was measured before; empty for one that is neither.
    ``before_s`` and ``after_s`` are the heating times of the latest cup from the room into its band, by the
    profile as it is and by what was measured.
    """

    power: Power
    runs: tuple[HeatingRun, ...]
    profile_w: float
    before_s: float
    after_s: float
    notes: tuple[str, ...]
    doubt: str = ""


def measured(rig: Rig, runs: Iterable[HeatingRun]) -> Measured:
    """Every run together. Raises ValueError without one."""
    made = tuple(runs)
    power = combined([rig.power(run) for run in made])
    profile_w = rig.station.heater.absorbed_w
    heat_s = partial(melt_s, made[-1].cup, start_c=rig.station.room.temperature_c, to_c=rig.plastic.shot_c)
    rougher = _rougher(power, profile_w, rig.station.sources.get(POWER_KEY, ""))
    doubt = " ".join(each for each in (_doubt(power.power_w, profile_w), rougher) if each)
    return Measured(
        power=power,
        runs=made,
        profile_w=profile_w,
        before_s=heat_s(power_w=profile_w),
        after_s=heat_s(power_w=power.power_w),
        notes=tuple(_notes(power, made, doubt)),
        doubt=doubt,
    )


def _doubt(power_w: float, profile_w: float) -> str:
    if profile_w / FAR_FROM_PROFILE <= power_w <= profile_w * FAR_FROM_PROFILE:
        return ""
    return (
        f"{power_w:.0f} W is far from the {profile_w:.0f} W of the profile: was the heater off for part of the "
        f"time, were the seconds wrong, or was a reading on the other scale?"
    )


def _rougher(power: Power, profile_w: float, source: str) -> str:
    """What a save would lose: a power that was measured here and is surer than this one."""
    before = _MEASURED.fullmatch(source)
    if before is None or round(power.spread_w) <= int(before["spread"]):
        return ""
    return (
        f"The {profile_w:.0f} W of the profile were measured, give or take {before['spread']} W, which is surer "
        f"than this, give or take {power.spread_w:.0f} W. Another run makes it surer."
    )


def _notes(power: Power, runs: tuple[HeatingRun, ...], doubt: str) -> Iterable[str]:
    if doubt:
        yield doubt
    masses = [run.cup.mass_g for run in runs]
    yield f"Loads smaller than {min(masses):.0f} g absorb less than this says. Weigh in what you usually heat."
    if max(masses) > UNLIKE_MASSES * min(masses):
        yield "The loads of these runs are unlike: one power does not fit them all."
    if not power.agree:
        yield (
            "The runs lie further apart than thermometer and clock explain. Stir well, read twice, run once more."
        )


def source_words(found: Measured, day: str) -> str:
    """Where the power comes from, for the profile: the day and the runs, the last three of them."""
    count = len(found.runs)
    told = "; ".join(
        f"{run.cup.mass_g:.0f} g from {run.start_c:.0f} to {run.end_c:.0f} degC in {run.seconds:.0f} s"
        for run in found.runs[-3:]
    )
    runs = "1 run" if count == 1 else f"{count} runs"
    last = ", the last three" if count > 3 else ""
    return f"measured at this bench: {day}, {runs}{last}: {told}; +-{found.power.spread_w:.0f} W"
