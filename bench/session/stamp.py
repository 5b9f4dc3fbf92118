"""Moments, and how far apart they are.

A stamp holds two clocks: ``elapsed_s`` never jumps and counts a sleeping machine, but means something only within
one boot; ``wall`` survives a restart, but people and networks set it. Wall times carry their offset from UTC, so
that a change to or from summer time moves nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from bench.units import Seconds

JUMP_S = 2.0
"""Clocks that disagree by more than this are said to: ordinary clock discipline stays well below."""


RUN = "run "
"""How the name of a boot begins that is only one run of the program, on systems that do not name their boots."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stamp:
    """One moment: seconds of a clock that counts sleep, local time with its offset, and the boot of both.

    In a boot that has a name of its own ``elapsed_s`` counts from the start of the machine.
    """

    elapsed_s: Seconds
    wall: datetime
    boot: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Span:
    """Seconds between two stamps; ``estimated`` when only the wall clock could tell."""

    seconds: float
    estimated: bool


def span(earlier: Stamp, later: Stamp) -> Span:
    """How long from one stamp to the other, never negative.

    Within one boot the elapsed clock tells; across boots the wall clock does, and the span is an estimate: as far
    off as that clock was set meanwhile, but never shorter than the machine has been on again.
    """
    if earlier.boot and earlier.boot == later.boot:
        return Span(seconds=max(0.0, later.elapsed_s - earlier.elapsed_s), estimated=False)
    gone = (later.wall - earlier.wall).total_seconds()
    is_other_boot = bool(earlier.boot and later.boot) and not later.boot.startswith(RUN)
    return Span(seconds=max(0.0, gone, later.elapsed_s if is_other_boot else 0.0), estimated=True)


def jump_s(earlier: Stamp, later: Stamp) -> float:
    """How far the wall clock moved against the elapsed clock; 0 where they agree or cannot be compared."""
    if not earlier.boot or earlier.boot != later.boot:
        return 0.0
    drift = (later.wall - earlier.wall).total_seconds() - (later.elapsed_s - earlier.elapsed_s)
    return drift if abs(drift) > JUMP_S else 0.0
