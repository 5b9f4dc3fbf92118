"""The user's settings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from bench.errors import Fault


class UnitSystem(StrEnum):
    """Which units are shown; files keep what was written."""

    METRIC = "metric"
    US = "us"


@dataclass(frozen=True, kw_only=True, slots=True)
class Settings:
    """``station`` names the station profile that sessions are planned for."""

    units: UnitSystem = UnitSystem.METRIC
    station: str = "quillmere-bench"

    def faults(self) -> Iterator[Fault]:
        """Nothing here contradicts anything else."""
        yield from ()
