"""The colours that are predicted for the bait, with the core as it is chosen."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from bench.errors import BenchError
from bench.model.recipe import Part
from bench.plan.look import look_at
from bench.session.job import PredictedView
from bench.session.session import Session


def looks_now(session: Session) -> tuple[PredictedView, ...]:
    """The job's own, or those with another core that was chosen. What cannot be predicted is left out."""
    is_own = session.core in ("", session.job.recipe.name) or session.core not in session.job.cores
    return session.job.looks if is_own else _with_its_core(session)


@lru_cache(maxsize=1)
def _with_its_core(session: Session) -> tuple[PredictedView, ...]:
    """Kept while nothing happens, as a screen asks for it at every tick."""
    job = session.job
    recipe = replace(job.recipe, parts={**job.recipe.parts, Part.CORE: job.cores[session.core]})
    try:
        look = look_at(
            recipe=recipe, mould=job.mould, plastic=job.plastic, colourants=job.colourants, tail=job.plan.tail
        )
    except BenchError:
        return ()
    return tuple(PredictedView(view=view.name, side=view.side, hex=view.hex) for view in look.views)
