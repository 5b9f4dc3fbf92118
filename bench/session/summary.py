"""How a session went, in figures: for its closing screen, its file's head and the log."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from bench.session.session import Session, State
from bench.session.spent import PartSpent, parts_spent
from bench.session.stamp import span
from bench.session.trays import trays
from bench.session.verdicts import Given, all_standing


@dataclass(frozen=True, kw_only=True, slots=True)
class Summary:
    """``planned_s`` is the plan's total, ``taken_s`` from start to the last event. ``rounds_done`` are those whose
    baits came out, looked at or not; ``ready_at`` is when the last tray may be packed, None when nothing was made.
    ``verdicts`` are those that stand. ``spent`` is what heat has used up of each part's cups."""

    state: State
    recipe: str
    mould: str
    wanted: int
    made: int
    rounds_done: int
    rounds: int
    planned_s: float
    taken_s: float
    hottest_c: float | None
    verdicts: tuple[Given, ...]
    notes: tuple[str, ...]
    ready_at: datetime | None
    spent: tuple[PartSpent, ...] = ()


def summarise(session: Session) -> Summary:
    """The session's figures so far."""
    plan = session.job.plan
    laid_out = trays(session)
    taken = span(session.started, session.last).seconds if session.started and session.last else 0.0
    return Summary(
        state=session.state,
        recipe=plan.recipe_title,
        mould=plan.mould_title,
        wanted=plan.count,
        made=laid_out.baits if laid_out else 0,
        rounds_done=len(laid_out.rounds) if laid_out else 0,
        rounds=plan.rounds,
        planned_s=plan.total_s,
        taken_s=taken,
        hottest_c=max((reading.temp_c for reading in session.cup_readings), default=None),
        verdicts=all_standing(session.verdicts),
        notes=session.notes,
        ready_at=laid_out.last_ready if laid_out else None,
        spent=parts_spent(session),
    )
