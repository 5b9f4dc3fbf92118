"""What a step says where its own words do not hold: its cup is too hot or solid or weighed anew, something is left
hot at the end, or no bait was made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.session.aside import is_left
from bench.session.asking import solid_c
from bench.session.beginning import burst_at_hand_s
from bench.session.left_hot import hot_cups
from bench.session.reheating import spoilt_cup
from bench.session.retime import Coming
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.step import Step
from bench.session.stopping import moulds_to_open
from bench.session.trays import last_shot, trays
from bench.session.words import (
    CLEAN_WHILE_HOT,
    NEW_CUP,
    NOT_LIQUID,
    NOTHING_TO_CURE,
    NOTHING_TO_LAY_OUT,
    OLD_CUP_AT_THE_END,
    OLD_CUP_FIRST,
    OLD_CUP_WAITS,
    OTHER_COLOUR,
    OVER_BAND,
    OVER_SCORCH,
    PUT_ON,
    SCORCHED_AT_THE_END,
    THROWN,
    Words,
    heat_on_words,
    heat_words,
    open_later,
)


def step_as_told(session: Session, now: Stamp) -> Step:
    """The present step, in other words than its own where those do not hold."""
    step = session.step
    if session.state.over:
        return step
    words = _words(session, step, now) or (None if solid_c(session, now) is None else NOT_LIQUID)
    if words is None:
        return step
    is_still_itself = words is OVER_BAND or step.kind is StepKind.WEIGH
    title = step.title if is_still_itself else words.title
    return replace(step, title=title, do=words.do, meanwhile=words.meanwhile)


def next_as_told(session: Session) -> Step | None:
    """The step that follows: the weighing, or the heating, of a new cup where the present one is thrown away; it
    is heated from cold, whatever the script has there."""
    spoilt, then = spoilt_cup(session), session.next_step
    if then is not None and then.kind in _WITHOUT_BAITS:
        return replace(then, title=_title_ahead(session, then))
    if spoilt is None:
        return _heated_anew(session, then)
    place = session.weighing(spoilt, session.cups[spoilt].melt)
    if place is not None:
        return session.job.script[place]
    return session.step if session.step.kind is StepKind.HEAT else session.next_step


def coming_as_told(session: Session, coming: Sequence[Coming]) -> tuple[Coming, ...]:
    """What follows, in other words where no bait was made and none will be."""
    return tuple(
        replace(each, step=replace(each.step, title=_title_ahead(session, each.step)))
        if each.step.kind in _WITHOUT_BAITS
        else each
        for each in coming
    )


def _title_ahead(session: Session, step: Step) -> str:
    """The title of a step that handles baits, before it is reached."""
    has_baits = trays(session) is not None or _may_be_made(session)
    return step.title if has_baits else _WITHOUT_BAITS[step.kind].title


def _may_be_made(session: Session) -> bool:
    """Whether a mould is still to be opened on baits: a shell or a warm-up shot is none."""
    last = last_shot(session)
    return any(step.kind is StepKind.OPEN and step.shot is last for step in session.ahead)


def _heated_anew(session: Session, then: Step | None) -> Step | None:
    step = session.step
    if then is None or step.kind is not StepKind.WEIGH or then.kind is not StepKind.HEAT:
        return then
    if (step.parts[0], step.melt) not in session.anew_from or then.parts != step.parts:
        return then
    return replace(then, title=heat_words(step.parts[0], fresh=True, weighed=True).title)


def _words(session: Session, step: Step, now: Stamp) -> Words | None:
    if spoilt_cup(session) is not None:
        return OVER_SCORCH
    if step.kind is StepKind.WEIGH:
        return _words_of_weighing(session, step)
    if step.kind in (StepKind.HEAT_OFF, StepKind.CLEAN):
        return _words_of_closing(session, step, now)
    if step.kind in _WITHOUT_BAITS:
        return _WITHOUT_BAITS[step.kind] if trays(session) is None else None
    if step.kind is StepKind.HEAT_ON and _is_put_on_anew(session, step):
        words = heat_on_words(step.parts[0], fresh=True, weighed=True)
        return replace(words, do=f"{OLD_CUP_FIRST} {words.do}")
    return _words_of_heat(session, step, now) if step.kind is StepKind.HEAT else None


def _words_of_heat(session: Session, step: Step, now: Stamp) -> Words | None:
    if session.waits_for_aside:
        return OLD_CUP_WAITS
    told = _words_once_on(session, step)
    if not burst_at_hand_s(session, now):
        return told
    if told is None or told is OVER_BAND:
        # What was read over its band has cooled since.
        told = Words(title=step.title, do=step.do, meanwhile=step.meanwhile)
    first = f"{OLD_CUP_FIRST} " if told.do.startswith(OLD_CUP_FIRST) else ""
    return replace(told, do=f"{first}{PUT_ON}")


def _words_once_on(session: Session, step: Step) -> Words | None:
    part, known = step.parts[0], session.cups.get(step.parts[0])
    is_another = (part, step.melt) in session.anew_from and known is not None and known.melt == step.melt
    if is_another and known is not None and known.read_c is None:
        weighed = session.weighing(part, step.melt) is not None
        words = heat_words(part, fresh=True, weighed=weighed)
        if session.aside is not None:
            return words
        return replace(words, do=f"{OLD_CUP_FIRST if weighed else THROWN} {words.do}")
    return OVER_BAND if _is_over_band(session, step) else None


def _words_of_closing(session: Session, step: Step, now: Stamp) -> Words | None:
    """A scorched cup that still stands there is not forgotten, nor is a mould that stands filled."""
    left = _words_of_what_is_left(session, step, now)
    moulds = moulds_to_open(session) if step.kind is StepKind.HEAT_OFF else ()
    if not moulds:
        return left
    told = left or Words(title=step.title, do=step.do, meanwhile=step.meanwhile)
    return replace(told, do=f"{told.do} {open_later(moulds if len(session.moulds) > 1 else ())}")


def _words_of_what_is_left(session: Session, step: Step, now: Stamp) -> Words | None:
    is_scorched = bool(session.scorched) or is_left(session)
    if step.kind is StepKind.HEAT_OFF:
        return SCORCHED_AT_THE_END if is_scorched else None
    hot = CLEAN_WHILE_HOT if any(hot_cups(session, now)) else None
    if not is_scorched:
        return hot
    do = step.do if hot is None else hot.do
    return Words(title=step.title, do=f"{do} {OLD_CUP_AT_THE_END}", meanwhile=step.meanwhile)


def _is_put_on_anew(session: Session, step: Step) -> bool:
    part = step.parts[0]
    is_weighed = session.weighing(part, step.melt) is not None
    return is_weighed and (part, step.melt) in session.anew_from and part not in session.cups


def _words_of_weighing(session: Session, step: Step) -> Words | None:
    if (step.parts[0], step.melt) in session.anew_from:
        return NEW_CUP
    is_mixed = step.parts == (Part.CORE,) and step.melt in session.core_weighed
    return OTHER_COLOUR if is_mixed and session.core_weighed[step.melt] != session.core else None


def _is_over_band(session: Session, step: Step) -> bool:
    """Whether the cup's last reading is over the band."""
    known = session.cups.get(step.parts[0])
    if known is None or known.melt != step.melt or known.read_c is None:
        return False
    last = next((read for read in reversed(session.cup_readings) if read.part is step.parts[0]), None)
    return last is not None and last.temp_c > session.job.plastic.band_c[1]


_WITHOUT_BAITS = {StepKind.LAY_OUT: NOTHING_TO_LAY_OUT, StepKind.CURE: NOTHING_TO_CURE}
"""The steps that handle baits, and what they say where none was made."""
