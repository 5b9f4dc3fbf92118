"""How long shells lie out of a mould in a timeline: from the start of its opening to the push of their core, the
stretch that a station's limit is for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.plan.records import Shot
from bench.plan.rows import Row
from bench.plan.work import TaskKind
from bench.units import Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class LyingOut:
    """The shells of one round out of their mould."""

    round: int
    mould: int
    start_s: Seconds
    end_s: Seconds

    @property
    def out_s(self) -> float:
        """How long."""
        return self.end_s - self.start_s


def lying_out(rows: Sequence[Row]) -> tuple[LyingOut, ...]:
    """By round; none where there are no cores."""
    opened_s = {row.round: row.start_s for row in rows if row.kind is TaskKind.OPEN and row.shot is Shot.SHELL}
    cores = [row for row in rows if row.kind is TaskKind.SHOT and row.shot is Shot.CORE]
    return tuple(
        LyingOut(round=core.round, mould=core.mould, start_s=opened_s[core.round], end_s=core.start_s)
        for core in sorted(cores, key=lambda row: row.round)
        if core.round in opened_s
    )
