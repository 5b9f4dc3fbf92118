"""What nothing on a bench can be, so that a thermometer is at fault which says so, however often it does."""

from __future__ import annotations

from bench.session.events import CupRead, MouldRead
from bench.session.session import Session
from bench.session.stamp import span

COLDEST_C = 0.0
"""Starting value: nobody pours in the frost, whatever the profile says of the room, which is off by the season."""

FAR_UNDER_ROOM_K = 10.0
"""Starting value: nor is anything so much colder than a room that is said to be colder than that."""

MELTING_C = 580.0
"""A mould of aluminium 6061 begins to melt at 582 °C (handbook, from memory)."""

WAS_HOT_K = 80.0
STILL_WARM_S = 600.0
STILL_OVER_ROOM_K = 15.0
"""Starting values: a cup that was read so much over the room stays over it by this for ten minutes; a bare cup
loses some 0.1 K/s. What says otherwise has lost a digit, or is no thermometer: believed, it would have a burst set
that scorches the cup."""


def cannot_be(session: Session, reading: CupRead | MouldRead) -> bool:
    """Whether nothing here is that cold or that hot. A cup over its scorch limit is none of it: that may be wrong,
    and is taken for true."""
    if isinstance(reading, MouldRead) and reading.temp_c > MELTING_C:
        return True
    room_c = session.job.station.room.temperature_c
    if isinstance(reading, CupRead) and _was_hot(session, reading, room_c):
        return reading.temp_c < room_c + STILL_OVER_ROOM_K
    return reading.temp_c < min(COLDEST_C, room_c - FAR_UNDER_ROOM_K)


def _was_hot(session: Session, reading: CupRead, room_c: float) -> bool:
    """Whether a thermometer said so of that cup a short while ago."""
    known = session.cups.get(reading.part)
    if known is None or known.read_c is None or known.measured is None:
        return False
    return known.read_c > room_c + WAS_HOT_K and span(known.measured, reading.at).seconds < STILL_WARM_S
