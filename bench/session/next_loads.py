"""What to load another time, after a verdict on the look: the load that was, its window, a load to try.

A window is that of the shell's main colourant, its other colours held (``bench.plan.look``). A load to try is a
first step (common practice, no source): half the way to the end of the window in the wanted direction, counted as
a ratio because colour is seen in ratios of load, and never more than ``STEP`` times as much or as little. It stays
inside the window where there is one; where no step is left inside, none is offered. Only the next bait says
whether it was right. Verdicts that would have the core show more and less at once ask for no load at all.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache
from typing import TypeAlias

from bench.model.colourant import Colourant, ColourantKind
from bench.model.recipe import Dose, Part, Recipe
from bench.plan.look import look_at
from bench.plan.look_records import NEAR, LoadWindow
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
    AT_END = "at that end of its window already"
    BEYOND = "already beyond its window's end, so look at the doses and the swatch first"
    OUTSIDE = "outside its window"
    NO_WINDOW = "no load of it has a window"
    NO_CORE = "a bait without a core has no window"
    OF_CORE = "a core's own load has no window"
    UNKNOWN = "a swatch is missing, of it, of a colour beside it or of the core, so no window is known"


@dataclass(frozen=True, kw_only=True, slots=True)
class NextLoad:
    """The main colourant of one part: the load that was, its window's ends where it has them, a load to try.
    ``more`` says which way the verdict asks for; ``try_pct`` is None where no load that way would help."""

    part: Part
    title: str
    now_pct: Percent
    more: bool
    try_pct: Percent | None
    told: Told
    low_pct: Percent | None = None
    high_pct: Percent | None = None


def next_load(now_pct: Percent, window: LoadWindow, *, more: bool) -> tuple[Told, Percent | None]:
    """What the window says of that load, and which to try. 2 %, too much, in a window from 1.125 %: 1.5 %."""
    if window.low is None or window.high is None:
        return Told.NO_WINDOW, _stepped_pct(now_pct, more=more)
    low_pct, high_pct = window.low.load_pct, window.high.load_pct
    if now_pct > high_pct if more else now_pct < low_pct:
        return Told.BEYOND, None
    if not low_pct <= now_pct <= high_pct:
        near_pct, middle_pct = (low_pct if more else high_pct), math.sqrt(low_pct * high_pct)
        least_pct, most_pct = sorted((near_pct, middle_pct))
        return Told.OUTSIDE, min(most_pct, max(least_pct, _stepped_pct(now_pct, more=more)))
    way = high_pct / now_pct if more else now_pct / low_pct
    if way < 1 + NEAR:
        return Told.AT_END, None
    bounded = window.bounded_high if more else window.bounded_low
    factor = min(STEP, math.sqrt(way) if bounded else way)
    return Told.INSIDE, now_pct * factor if more else now_pct / factor


def _stepped_pct(now_pct: Percent, *, more: bool) -> Percent:
    return now_pct * STEP if more else now_pct / STEP


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
        more=more,
        try_pct=_stepped_pct(now_pct, more=more),
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
        more=more,
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
class Opposite:
    """A verdict that asks for the opposite: the one for a core that shows more, the other for one that shows less
    (or, without a core, for less colour and for more)."""

    subject: Subject
    verdict: Verdict
    rounds: tuple[int, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class NextTime:
    """What one verdict asks for, in the rounds in which it stands on that subject. ``otherwise`` is how other
    rounds of the same load were judged. Where others are ``opposite`` there are no loads to try."""

    verdict: Verdict
    subject: Subject
    rounds: tuple[int, ...]
    loads: tuple[NextLoad, ...]
    otherwise: tuple[Otherwise, ...] = ()
    opposite: tuple[Opposite, ...] = ()


_SHOW_MORE = frozenset({Verdict.TOO_DENSE, Verdict.CORE_HIDDEN, Verdict.CORE_FAINT})
_SHOW_LESS = frozenset({Verdict.TOO_FAINT, Verdict.CORE_STRONG})

_Judged: TypeAlias = tuple[Subject, Verdict, str]
"""A subject, how it was judged, and the recipe of the core that was in."""


def next_times(session: Session) -> Iterator[NextTime]:
    """What to change another time, a verdict after another; rounds that share verdict and core together."""
    together: dict[_Judged, list[int]] = {}
    for given in all_standing(session.verdicts):
        if given.verdict is not Verdict.RIGHT:
            core = _core_of(session, given)
            together.setdefault((given.subject, given.verdict, core), []).append(given.round)
    for (subject, verdict, core), rounds in together.items():
        opposite = tuple(
            Opposite(subject=other[0], verdict=other[1], rounds=tuple(found))
            for other, found in together.items()
            if _are_opposite((subject, verdict, core), other)
        )
        yield NextTime(
            verdict=verdict,
            subject=subject,
            rounds=tuple(rounds),
            loads=() if opposite else tuple(next_loads(session.job, core, verdict)),
            otherwise=tuple(_otherwise(session, subject, verdict, core)),
            opposite=opposite,
        )


def _are_opposite(one: _Judged, other: _Judged) -> bool:
    """Shells hold no core yet, so that theirs goes against one on any bait; baits of two cores are two kinds."""
    pulls = {one[1] in _SHOW_MORE, other[1] in _SHOW_MORE}
    if pulls != {True, False} or not {one[1], other[1]} <= _SHOW_MORE | _SHOW_LESS:
        return False
    return one[2] == other[2] or Subject.SHELLS in (one[0], other[0])


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
