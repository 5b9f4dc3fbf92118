"""What nothing on a bench can be, so that a thermometer is at fault which says so, however often it does."""

from __future__ import annotations

from bench.session.events import CupRead, MouldRead
from bench.session.session import Session

COLDEST_C = 0.0
"""Starting value: nobody pours in the frost, whatever the profile says of the room, which is off by the season."""

FAR_UNDER_ROOM_K = 10.0
"""Starting value: nor is anything so much colder than a room that is said to be colder than that."""

MELTING_C = 580.0
"""A mould of aluminium 6061 begins to melt at 582 °C (handbook, from memory)."""


def cannot_be(session: Session, reading: CupRead | MouldRead) -> bool:
    """Whether nothing here is that cold or that hot. A cup over its scorch limit is none of it: that may be wrong,
    and is taken for true."""
    if isinstance(reading, MouldRead) and reading.temp_c > MELTING_C:
        return True
    return reading.temp_c < min(COLDEST_C, session.job.station.room.temperature_c - FAR_UNDER_ROOM_K)
