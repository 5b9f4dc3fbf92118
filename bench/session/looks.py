"""The colours predicted for the bait, with the core as it is chosen and the tails as the round has them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from bench.errors import BenchError
from bench.model.recipe import Part, Tail
from bench.plan.look import look_at
from bench.plan.look_records import ViewName
from bench.session.choices import cut_tails
from bench.session.job import PredictedView
from bench.session.session import Session


@lru_cache(maxsize=1)
def looks_now(session: Session) -> tuple[PredictedView, ...]:
    """The job's own, or those with another core or other tails that were chosen; both tails where the round has
    both. What cannot be predicted is left out. Kept while nothing happens, as a screen asks for it at every tick.
    """
    first, *others = _tails(session)
    tails = (each for tail in others for each in _looks(session, tail) if each.view is ViewName.TAIL)
    return (*_looks(session, first), *tails)


def _tails(session: Session) -> Iterator[Tail]:
    """Which tails the present round has; those of the plan where it has none of its own."""
    plan = session.job.plan
    if not plan.build.has_core or not session.visits or not session.step.round:
        yield plan.tail
        return
    cut = cut_tails(session, session.step.round)
    if cut < plan.cavities:
        yield Tail.KEPT
    if cut > 0:
        yield Tail.CUT


def _looks(session: Session, tail: Tail) -> tuple[PredictedView, ...]:
    job = session.job
    is_own = session.core in ("", job.recipe.name) or session.core not in job.cores
    if is_own and tail is job.plan.tail:
        return job.looks
    core = {} if is_own else {Part.CORE: job.cores[session.core]}
    recipe = replace(job.recipe, parts={**job.recipe.parts, **core})
    try:
        look = look_at(recipe=recipe, mould=job.mould, plastic=job.plastic, colourants=job.colourants, tail=tail)
    except BenchError:
        return ()
    return tuple(PredictedView(view=view.name, side=view.side, hex=view.hex) for view in look.views)
