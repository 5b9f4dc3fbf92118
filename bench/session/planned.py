"""The bursts of a cup, from what the session knows of its heater."""

from __future__ import annotations

from bench.model.recipe import Part
from bench.plan import pace
from bench.session import bursts
from bench.session.bodies import cup_of, heater_power, profile_power
from bench.session.session import Session, Warmth

LONGER_THAN_PROFILE = 1.5
"""Starting value: no burst is so many times longer than the profile's power makes it, however sure the session is
of its heater. Where it is too short, a reading after it says so and another burst follows."""


def planned(session: Session, part: Part, warmth: Warmth, *, done: int) -> tuple[bursts.Leg, ...]:
    """The bursts that bring the part's cup from where it is to its target, after so many that are ``done``: by
    what is known of the heater by now, none of them longer than the profiles would ever allow."""
    assert warmth.target_c is not None, "planned only for what is heated"
    known, usual = (
        bursts.schedule(
            cup_of(session, part, warmth.melt),
            power,
            start_c=warmth.temp_c,
            target_c=warmth.target_c,
            top_c=session.job.plastic.band_c[1],
            stir_s=pace.stir_s(session.job.station.pace),
            done=done,
        )
        for power in (heater_power(session), profile_power(session.job))
    )
    return bursts.bounded(known, usual, factor=LONGER_THAN_PROFILE)
