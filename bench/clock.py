"""The clocks, read only at the program's edge. Everything below takes a moment as an argument."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Protocol
from uuid import uuid4

from bench.session.stamp import RUN, Stamp

_BOOT_ID = Path("/proc/sys/kernel/random/boot_id")


class Clock(Protocol):
    """Tells the moment."""

    def now(self) -> Stamp:
        """This moment."""
        ...


def _elapsed_clock() -> Callable[[], float]:
    """The steady clock that counts a sleeping machine.

    Linux: CLOCK_BOOTTIME; macOS: CLOCK_MONOTONIC (``time.monotonic`` stops there while the lid is shut);
    Windows: ``time.monotonic`` counts sleep.
    """
    if sys.platform.startswith("linux"):
        return lambda: time.clock_gettime(time.CLOCK_BOOTTIME)
    if sys.platform == "darwin":
        return lambda: time.clock_gettime(time.CLOCK_MONOTONIC)
    return time.monotonic


def _boot_id() -> str:
    """Names this boot; where the system does not, this run of the program.

    Without a name no two moments could be told apart by the steady clock. A session that another run resumes then
    goes by the wall clock, and says that it does.
    """
    try:
        named = _BOOT_ID.read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError):
        named = ""
    return named or f"{RUN}{uuid4().hex}"


@dataclass(frozen=True, slots=True)
class SystemClock:
    """The machine's own time."""

    elapsed: Callable[[], float] = field(default_factory=_elapsed_clock)
    boot: str = field(default_factory=_boot_id)

    def now(self) -> Stamp:
        """This moment."""
        # From UTC: in the hour that summer time's end repeats, local time alone would be two moments.
        return Stamp(elapsed_s=self.elapsed(), wall=datetime.now(UTC).astimezone(), boot=self.boot)


@dataclass(frozen=True, kw_only=True, slots=True)
class FastClock:
    """A clock for rehearsals: ``speed`` seconds pass in each real one, from ``start`` on.

    It stands still while nobody rehearses: ``began`` is the real moment at which ``start`` was shown.
    """

    real: Clock
    began: Stamp
    start: Stamp
    speed: float

    def now(self) -> Stamp:
        """The rehearsed moment."""
        gone = (self.real.now().elapsed_s - self.began.elapsed_s) * self.speed
        return Stamp(
            elapsed_s=self.start.elapsed_s + gone,
            wall=self.start.wall + timedelta(seconds=gone),
            boot=self.start.boot,
        )


def rehearsal_clock(
    real: Clock, *, speed: float, start: Stamp | None = None, since: datetime | None = None
) -> FastClock:
    """A rehearsal's clock, going on from ``start`` where it was left off, from this moment otherwise.

    ``since`` is for a rehearsal that goes on elsewhere: when ``start`` was shown there, by the real wall clock.
    """
    now = real.now()
    gone_s = max(0.0, (now.wall - since).total_seconds()) if since is not None else 0.0
    began = replace(now, elapsed_s=now.elapsed_s - gone_s)
    return FastClock(real=real, began=began, start=start or now, speed=speed)
