"""What is open to choose while a round's shells lie there, for the screen."""

from __future__ import annotations

from dataclasses import dataclass

from bench.plan import pace
from bench.session.choices import TailEffect, core_is_open, mixed_core, round_of_trim, tail_effect
from bench.session.session import Session


@dataclass(frozen=True, kw_only=True, slots=True)
class TrimView:
    """The open choices at the trim step. ``core`` is the title of the recipe whose core colour goes in,
    ``core_open`` whether another may be chosen. ``weigh_anew_s`` is about how long it takes to weigh another cup,
    the one that is mixed being of another colour; None where that is not so."""

    effect: TailEffect
    core: str
    core_open: bool
    weigh_anew_s: float | None = None


def trim_view(session: Session) -> TrimView | None:
    """What is open at the present step; None where no tails may be chosen."""
    round_number = round_of_trim(session)
    if not round_number:
        return None
    return TrimView(
        effect=tail_effect(session, round_number),
        core=session.job.core_title(session.core),
        core_open=core_is_open(session) and len(session.job.cores) > 1,
        weigh_anew_s=_weigh_anew_s(session),
    )


def _weigh_anew_s(session: Session) -> float | None:
    mixed = mixed_core(session) if core_is_open(session) else None
    if mixed is None or mixed == session.core:
        return None
    return pace.weigh_s(session.job.station.pace)
