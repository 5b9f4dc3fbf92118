"""When what was just opened may be touched. Estimates from published burn thresholds, never a safe limit: test
before you trust."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from bench.errors import BenchError
from bench.model.step_kind import StepKind
from bench.physics.conduction import Layer
from bench.physics.mould import after_rest_c, rest_s
from bench.physics.substance import Substance
from bench.physics.touch import AIR_FILM_W_M2K, BARE_C, BRIEF_C, Touch, left_hottest_c, time_to_touch
from bench.plan.records import Shot
from bench.plan.sets import section_of
from bench.session.bodies import mould_block, substance
from bench.session.job import Job
from bench.session.session import Session, Visit
from bench.session.setting import set_factor
from bench.session.stamp import Stamp, span
from bench.session.step import Step
from bench.session.warmth import mould_now

TOUCHED_AT = frozenset({StepKind.OPEN, StepKind.LOOK_AT_SHELLS, StepKind.LOOK_AT_BAITS, StepKind.LAY_OUT})

AXIS = 1.6
"""The first term of the cooling of a long cylinder begins at this height on its axis: 1.602 against a wall that
takes all it can (Cengel & Ghajar, Heat and Mass Transfer, table 4-2)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TouchView:
    """Seconds until what was just opened has cooled so far in the room that it may be handled briefly, and bare;
    0 once it has. The same for the mould it came from, None in a room where that never comes. Always test before
    you trust."""

    brief_s: float
    bare_s: float
    mould_brief_s: float | None
    mould_bare_s: float | None


def touch_view(session: Session, now: Stamp) -> TouchView | None:
    """For what was opened last; None at a step where nothing just opened is touched, and in a room too hot."""
    if session.step.kind not in TOUCHED_AT or session.state.over:
        return None
    opened = _opened(session)
    room_c = session.job.station.room.temperature_c
    if opened is None or room_c >= BARE_C:
        return None
    step = session.job.script[opened.index]
    hottest_c = round(_hottest_c(session, opened, now), 1)
    touch = _touch(substance(session.job), session.job.mould.section.body_mm, hottest_c, room_c)
    gone_s = span(opened.entered, now).seconds
    return TouchView(
        brief_s=max(0.0, touch.brief_s - gone_s),
        bare_s=max(0.0, touch.bare_s - gone_s),
        mould_brief_s=_mould_s(session, step, now, BRIEF_C),
        mould_bare_s=_mould_s(session, step, now, BARE_C),
    )


def _mould_s(session: Session, step: Step, now: Stamp, until_c: float) -> float | None:
    mould = mould_now(session, now, step.mould)
    if mould is None:
        return None
    try:
        return rest_s(
            mould_block(session),
            mould_c=mould.temp_c,
            until_c=until_c,
            room_c=session.job.station.room.temperature_c,
        )
    except BenchError:
        return None


def _hottest_c(session: Session, opened: Visit, now: Stamp) -> float:
    """Its hottest point when the mould was opened: what it was to set to, hotter where it was opened early, cooler
    where it lay in there for longer.

    Early, one term of the series carried back to the moment of opening, never above the shot's own temperature.
    """
    plastic = session.job.plastic
    setting = _before(session, opened, StepKind.SET)
    mould_c = session.job.mould.warm_c[0]
    if setting is None or setting.left is None or mould_c >= plastic.open_c:
        return plastic.shot_c
    step = session.job.script[setting.index]
    shot = session.ended(step.since) or setting.entered
    gone = span(shot, setting.left).seconds / step.length_s if step.length_s > 0 else 1.0
    if gone >= 1:
        in_it_s = span(shot, opened.entered).seconds
        set_s = step.length_s * max(1.0, setting.stretch) * set_factor(session, step, now)
        return _after_the_set_c(session, step, in_it_s - set_s, opened, now)
    at_open = (plastic.open_c - mould_c) / (plastic.shot_c - mould_c)
    return mould_c + (plastic.shot_c - mould_c) * min(1.0, float(AXIS ** (1 - gone) * at_open**gone))


_LAST_SHARES = (1.0, 0.5, 0.25, 0.1, 0.05, 0.02)
"""How much of the time between set and opening is reckoned with, the last of it: over a long stretch the bait
cools for longer, over a short one against a cooler mould."""

_MOULD_STEP_K = 0.5
"""The mould's temperature is rounded up to this, so that the next tick asks for the figure that is kept."""


def _after_the_set_c(session: Session, step: Step, seconds: float, opened: Visit, now: Stamp) -> float:
    """Its hottest point when it lay in its closed mould for that long after it had set: the lowest of several
    bounds, none of which it is hotter than."""
    if seconds <= 0:
        return session.job.plastic.open_c
    return min(_at_most_c(session, step, share * seconds, opened, now) for share in _LAST_SHARES)


def _at_most_c(session: Session, step: Step, seconds: float, opened: Visit, now: Stamp) -> float:
    """What its hottest point had fallen to at least in the last so many seconds before the opening. It began them
    no hotter than it had set to; the mould is taken to stay as warm as it was at their beginning, and warmer by
    what its estimate may be off."""
    job = session.job
    open_c = job.plastic.open_c
    mould = mould_now(session, now, step.mould)
    if mould is None:
        return open_c
    before_s = span(opened.entered, now).seconds + seconds
    room_c = job.station.room.temperature_c
    then_c = after_rest_c(mould_block(session), mould_c=mould.temp_c, seconds=-before_s, room_c=room_c)
    warmest_c = max(mould.temp_c, then_c) + mould.spread_k
    if warmest_c >= open_c:
        return open_c
    return _kept_hottest_c(
        substance(job),
        body_mm=job.mould.section.body_mm,
        start_c=open_c,
        mould_c=math.ceil(warmest_c / _MOULD_STEP_K) * _MOULD_STEP_K,
        seconds=math.floor(seconds),
        film_w_m2k=job.mould.wall_conductance_w_m2k,
        rod=_rod(job, open_c) if step.shot is Shot.SHELL else None,
    )


def _rod(job: Job, start_c: float) -> Layer | None:
    """The rod inside a shell, as warm as the shell was set to; None without rods."""
    section = section_of(job.mould)
    if section.rod_mm is None:
        return None
    return Layer(thickness_mm=section.rod_mm / 2, substance=section.rod, start_c=start_c)


_kept_hottest_c = lru_cache(maxsize=64)(left_hottest_c)


def _opened(session: Session) -> Visit | None:
    """The opening after which the present step's baits or shells came out; the last one where it is about none."""
    here = session.step

    def is_it(visit: Visit) -> bool:
        step = session.job.script[visit.index]
        return step.kind is StepKind.OPEN and (not here.round or step.round == here.round)

    return _latest(session, is_it)


def _before(session: Session, opened: Visit, kind: StepKind) -> Visit | None:
    mould = session.job.script[opened.index].mould
    return _latest(
        session,
        lambda visit: (
            visit.index < opened.index
            and session.job.script[visit.index].kind is kind
            and session.job.script[visit.index].mould == mould
        ),
    )


def _latest(session: Session, wanted: Callable[[Visit], bool]) -> Visit | None:
    return next((visit for visit in reversed(session.visits) if wanted(visit)), None)


@lru_cache(maxsize=64)
def _touch(plastic: Substance, body_mm: float, start_c: float, room_c: float) -> Touch:
    return time_to_touch(plastic, body_mm=body_mm, start_c=start_c, around_c=room_c, film_w_m2k=AIR_FILM_W_M2K)
