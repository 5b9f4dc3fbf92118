"""What to load another time, after a verdict on the look: the load that was, its window, a load to try.

A window is that of the shell's main colourant, its other colours held (``bench.plan.look``). From inside it the
load to try lies half the distance to the end in the wanted direction; from outside, in the middle between both
ends. Where no window tells, it is ``STEP`` times as much or as little. Both are starting points (common practice,
no source): only the next bait says whether they are right.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache

from bench.model.colourant import Colourant, ColourantKind
from bench.model.recipe import Dose, Part, Recipe
from bench.plan.look import look_at
from bench.plan.look_records import LoadWindow
from bench.session.job import Job
from bench.session.session import Session
from bench.session.verdicts import LOOKS, Given, Subject, Verdict, all_standing
from bench.units import Percent

STEP = 1.5
"""Starting value (common practice, no source): a change that the eye sees and that does not overshoot by much."""

SESSIONS_KEPT = 2
"""The one that is shown, before and after what just happened."""


class Told(StrEnum):
    """What the window says of the load that was, in words that follow it."""

    INSIDE = "inside its window"
    BEYOND = "already beyond its window's end, so look at the doses and the swatch first"
    OUTSIDE = "outside its window"
    NO_WINDOW = "no load of it has a window"
    NO_CORE = "a bait without a core has no window"
    OF_CORE = "a core's own load has no window"
    UNKNOWN = "a swatch is missing, of it, of a colour beside it or of the core, so no window is known"


@dataclass(frozen=True, kw_only=True, slots=True)
class NextLoad:
    """The main colourant of one part: the load that was, its window's ends where it has them, a load to try."""

    part: Part
    title: str
    now_pct: Percent
    try_pct: Percent
    told: Told
    low_pct: Percent | None = None
    high_pct: Percent | None = None


def next_load(now_pct: Percent, window: LoadWindow, *, more: bool) -> tuple[Told, Percent]:
    """What the window says of that load, and which to try. 2 % with a window up to 6 % and too little: 4 %."""
    step_pct = now_pct * STEP if more else now_pct / STEP
    if window.low is None or window.high is None:
        return Told.NO_WINDOW, step_pct
    low_pct, high_pct = window.low.load_pct, window.high.load_pct
    if low_pct <= now_pct <= high_pct:
        bounded = window.bounded_high if more else window.bounded_low
        end_pct = high_pct if more else low_pct
        return Told.INSIDE, (now_pct + end_pct) / 2 if bounded else step_pct
    if (now_pct < low_pct) is more:
        return Told.OUTSIDE, (low_pct + high_pct) / 2 if window.bounded_low and window.bounded_high else step_pct
    return Told.BEYOND, step_pct


_CHANGES: dict[Verdict, tuple[tuple[bool, bool], ...]] = {
    Verdict.TOO_DENSE: ((False, False),),
    Verdict.TOO_FAINT: ((False, True),),
    Verdict.CORE_HIDDEN: ((False, False), (True, True)),
    Verdict.CORE_FAINT: ((True, True),),
    Verdict.CORE_STRONG: ((True, False),),
}
"""By verdict: whether it is the core that is changed, and whether it gets more."""


def next_loads(job: Job, core: str, verdict: Verdict) -> Iterator[NextLoad]:
    """The loads to try after that verdict, where the core of that recipe was in; nothing where none would help."""
    recipe = _as_made(job, core)
    for of_core, more in _CHANGES.get(verdict, ()):
        for part in recipe.parts:
            if (part is Part.CORE) is of_core and _main(job, recipe, part) is not None:
                yield _next(job, recipe, part, more=more)


def _as_made(job: Job, core: str) -> Recipe:
    if core not in job.cores or Part.CORE not in job.recipe.parts:
        return job.recipe
    return replace(job.recipe, parts={**job.recipe.parts, Part.CORE: job.cores[core]})


def _main(job: Job, recipe: Recipe, part: Part) -> Dose | None:
    """The part's greatest dose that colours the plastic."""
    doses = [each for each in recipe.parts[part].doses if _colours(job.colourants.get(each.colourant))]
    return max(doses, key=lambda each: each.load_pct, default=None)


def _colours(colourant: Colourant | None) -> bool:
    return colourant is not None and colourant.kind is not ColourantKind.FLAKE


def _next(job: Job, recipe: Recipe, part: Part, *, more: bool) -> NextLoad:
    if not recipe.build.has_core:
        return _stepped(job, recipe, part, Told.NO_CORE, more=more)
    if part is Part.CORE:
        return _stepped(job, recipe, part, Told.OF_CORE, more=more)
    return _of_shell(job, recipe, part, more=more)


def _stepped(job: Job, recipe: Recipe, part: Part, told: Told, *, more: bool) -> NextLoad:
    dose = _main(job, recipe, part)
    assert dose is not None, "asked only for parts with colour"
    now_pct = dose.load_pct
    return NextLoad(
        part=part,
        title=job.colourants[dose.colourant].title,
        now_pct=now_pct,
        try_pct=now_pct * STEP if more else now_pct / STEP,
        told=told,
    )


def _of_shell(job: Job, recipe: Recipe, part: Part, *, more: bool) -> NextLoad:
    look = look_at(recipe=recipe, mould=job.mould, plastic=job.plastic, colourants=job.colourants)
    side = next(each for each in look.sides if each.side is part)
    window = side.window
    if window is None or not window.colourant:
        return _stepped(job, recipe, part, Told.UNKNOWN, more=more)
    told, try_pct = next_load(window.now.load_pct, window, more=more)
    return NextLoad(
        part=part,
        title=window.title,
        now_pct=window.now.load_pct,
        try_pct=try_pct,
        told=told,
        low_pct=window.low.load_pct if window.low and window.bounded_low else None,
        high_pct=window.high.load_pct if window.high and window.bounded_high else None,
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class Otherwise:
    """Another verdict on the look of the same subject with the same load, and the rounds in which it stands."""

    verdict: Verdict
    rounds: tuple[int, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class NextTime:
    """What one verdict asks for, in the rounds in which it stands on that subject. ``otherwise`` is how other
    rounds of the same load were judged."""

    verdict: Verdict
    subject: Subject
    rounds: tuple[int, ...]
    loads: tuple[NextLoad, ...]
    otherwise: tuple[Otherwise, ...] = ()


def next_times(session: Session) -> Iterator[NextTime]:
    """What to change another time, a verdict after another; rounds that share verdict and core together."""
    together: dict[tuple[Subject, Verdict, str], list[int]] = {}
    for given in all_standing(session.verdicts):
        if given.verdict is not Verdict.RIGHT:
            core = _core_of(session, given)
            together.setdefault((given.subject, given.verdict, core), []).append(given.round)
    for (subject, verdict, core), rounds in together.items():
        loads = tuple(next_loads(session.job, core, verdict))
        otherwise = tuple(_otherwise(session, subject, verdict, core))
        yield NextTime(verdict=verdict, subject=subject, rounds=tuple(rounds), loads=loads, otherwise=otherwise)


def _otherwise(session: Session, subject: Subject, verdict: Verdict, core: str) -> Iterator[Otherwise]:
    """Other verdicts on the look at the same load. Shells hold no core yet: theirs count whichever came later."""
    if verdict not in LOOKS:
        return
    together: dict[Verdict, list[int]] = {}
    for given in all_standing(session.verdicts):
        same_load = subject is Subject.SHELLS or _core_of(session, given) == core
        if given.subject is subject and given.verdict in LOOKS - {verdict} and same_load:
            together.setdefault(given.verdict, []).append(given.round)
    for other, rounds in together.items():
        yield Otherwise(verdict=other, rounds=tuple(rounds))


def next_time_of(session: Session, given: Given) -> NextTime | None:
    """What that verdict asks for, where it stands and is not all right."""
    return next(
        (
            each
            for each in _kept_next_times(session)
            if each.subject is given.subject and each.verdict is given.verdict and given.round in each.rounds
        ),
        None,
    )


@lru_cache(maxsize=SESSIONS_KEPT)
def _kept_next_times(session: Session) -> tuple[NextTime, ...]:
    """Kept while nothing happens, as a screen asks for them at every tick."""
    return tuple(next_times(session))


def _core_of(session: Session, given: Given) -> str:
    """The recipe whose core went into that round's baits; empty where there is none."""
    if not session.job.recipe.build.has_core:
        return ""
    melt = session.job.plan.melt(Part.CORE, given.round).number
    return session.core_weighed.get(melt, session.core)
