"""What was weighed into which cup, and when: what a good bait is made again from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from bench.model.recipe import Part
from bench.plan.records import DosePlan, Melt
from bench.session.events import Event, HeatBegun, StepDone
from bench.session.job import Job
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.to_weigh import weigh_view
from bench.units import Grams


class Anew(StrEnum):
    """Why a melt was weighed once more, in words that end a line."""

    SCORCHED = "weighed anew: the last was over its scorch limit"
    OTHER_CORE = "weighed anew for another core colour"


@dataclass(frozen=True, kw_only=True, slots=True)
class Weighing:
    """One cup as its step said to weigh it. ``melts`` is how many cups the part has in all; ``core`` the title of
    the recipe whose core colour went in, empty for the planned one; ``anew`` why, None for the first time."""

    at: Stamp
    melt: Melt
    melts: int
    doses: tuple[DosePlan, ...]
    core: str = ""
    anew: Anew | None = None

    @property
    def base_g(self) -> Grams:
        """The plastic before colour."""
        return self.melt.mass_g - sum(dose.mass_g for dose in self.doses)


def weighings(job: Job, events: Iterable[Event]) -> Iterator[Weighing]:
    """Every weighing that was gone on from, in order; one that was only gone back to is told once. Grams are those
    that the screen asked for: nobody types what the scale said."""
    session = Session(job=job)
    told: dict[tuple[Part, int], tuple[int, str]] = {}
    for event in events:
        shown = weigh_view(session) if isinstance(event, StepDone | HeatBegun) and session.visits else None
        if shown is not None:
            cup = shown.melt.part, shown.melt.number
            filled = session.anew_from.get(cup, 0), session.core if shown.melt.part is Part.CORE else ""
            before = told.get(cup)
            if filled != before:
                told[cup] = filled
                yield Weighing(
                    at=event.at,
                    melt=shown.melt,
                    melts=shown.melts,
                    doses=shown.doses,
                    core=_other_core(session, shown.melt.part),
                    anew=_why(before, filled),
                )
        session = session.after(event)


def _why(before: tuple[int, str] | None, filled: tuple[int, str]) -> Anew | None:
    if before is None:
        return None
    return Anew.SCORCHED if before[0] != filled[0] else Anew.OTHER_CORE


def _other_core(session: Session, part: Part) -> str:
    is_planned = part is not Part.CORE or session.core in ("", session.job.recipe.name)
    return "" if is_planned else session.job.core_title(session.core)
