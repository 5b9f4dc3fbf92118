"""How long a room takes to clear once nothing gives off fume any more.

An aid to tell when the fan has run long enough after the heat is off. It says nothing about what is in the air and
is never a claim that the air is safe.
"""

from __future__ import annotations

import math

from bench.errors import BenchError


def air_changes_per_h(*, room_m3: float, fan_m3_h: float) -> float:
    """Air changes an hour: the flow the fan draws out over the volume of the room."""
    return fan_m3_h / room_m3


STILL_CORNERS = 3.0
"""Starting value of the mixing factor, as in profiles: rooms mix with 3 to 10, CDC, MMWR 43 (RR-13), 1994."""


def minutes_to_clear(*, ach: float, share_left: float, mixing: float = 1.0) -> float:
    """Minutes until only ``share_left`` of what hung in the air is left, with no source still running.

    ``mixing`` is 1 for air that mixes perfectly and 3 to 10 for a room with corners and poor mixing. CDC,
    Guidelines for Environmental Infection Control in Health-Care Facilities (2003), table B.1, and MMWR 43
    (RR-13), 1994, table S3-1: t = -ln(C2/C1) 60 / ACH. 12 changes an hour to 1 %: 23 minutes.

    Raises BenchError when nothing moves the air or the share is not between 0 and 1.
    """
    if not 0 < ach < math.inf:
        raise BenchError(f"{ach:g} air changes an hour never clear a room: give more than 0")
    if not 0 < share_left <= 1:
        raise BenchError(
            f"a share left of {100 * share_left:g} % is never reached: give more than 0 and up to 100 %"
        )
    if not 1 <= mixing < math.inf:
        raise BenchError(f"a mixing factor of {mixing:g} is not of this world: give 1 for perfect mixing, or more")
    return mixing * 60.0 / ach * math.log(1 / share_left)
