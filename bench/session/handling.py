"""When what was just opened may be touched. Estimates from published burn thresholds, never a safe limit: test
before you trust."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from bench.errors import BenchError
from bench.model.step_kind import StepKind
from bench.physics.mould import rest_s
from bench.physics.substance import Substance
from bench.physics.touch import AIR_FILM_W_M2K, BARE_C, BRIEF_C, Touch, time_to_touch
from bench.session.bodies import mould_block, substance
from bench.session.session import Session, Visit
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
    touch = _touch(
        substance(session.job), session.job.mould.section.body_mm, round(_hottest_c(session, opened), 1), room_c
    )
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


def _hottest_c(session: Session, opened: Visit) -> float:
    """Its hottest point when the mould was opened: what it was to set to, hotter where it was opened early.

    One term of the series carried back to the moment of opening, never above the shot's own temperature.
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
        return plastic.open_c
    at_open = (plastic.open_c - mould_c) / (plastic.shot_c - mould_c)
    return mould_c + (plastic.shot_c - mould_c) * min(1.0, float(AXIS ** (1 - gone) * at_open**gone))


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
