"""What heat has used up of a cup of plastic: time counted the more the hotter it was.

Minutes are turned into equivalent minutes at 160 degC, doubling every ten degrees, the old rule of thumb for the
rate of chemical change (van 't Hoff). It counts through reheats and remelted trimmings. A warning, never a ban:
only the eye and the nose tell when plastic is spent.
"""

from __future__ import annotations

import math

REFERENCE_C = 160.0
DOUBLES_EVERY_K = 10.0

LIMIT_MIN = 240.0
"""Starting value, from hot pots said to hold for hours at 157 to 163 degC: common practice, no source."""


def minutes_at_160(*, at_c: float, minutes: float) -> float:
    """Equivalent minutes at 160 degC of a time at one temperature: 10 min at 170 degC count 20."""
    return float(minutes * 2 ** ((at_c - REFERENCE_C) / DOUBLES_EVERY_K))


def ramp_minutes_at_160(*, from_c: float, to_c: float, minutes: float) -> float:
    """Equivalent minutes at 160 degC of an even rise or fall between two temperatures: the exact mean."""
    end = minutes_at_160(at_c=to_c, minutes=minutes)
    bend = math.log(2) / DOUBLES_EVERY_K * (to_c - from_c)
    if abs(bend) < 1e-9:
        return end
    return (end - minutes_at_160(at_c=from_c, minutes=minutes)) / bend


def spent_pct(*, equivalent_minutes: float, limit_min: float = LIMIT_MIN) -> float:
    """Share of what the plastic stands, %; above 100 when it is past the limit."""
    return 100 * equivalent_minutes / limit_min
