"""What a step says while its cup is over the band or was over its scorch limit, and once it is weighed anew."""

from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.session.reheating import spoilt_cup
from bench.session.session import Session
from bench.session.step import Step
from bench.session.words import NEW_CUP, OTHER_COLOUR, OVER_BAND, OVER_SCORCH, THROWN, Words, heat_words


def step_as_told(session: Session) -> Step:
    """The present step, with the words for a cup that was read over its band and not in or under it since, for one
    that was over its scorch limit, and for one that is weighed anew and heated from cold."""
    step = session.step
    if session.state.over:
        return step
    words = _words(session, step)
    if words is None:
        return step
    is_still_itself = words is OVER_BAND or step.kind is StepKind.WEIGH
    title = step.title if is_still_itself else words.title
    return replace(step, title=title, do=words.do, meanwhile=words.meanwhile)


def next_as_told(session: Session) -> Step | None:
    """The step that follows: the weighing, or the heating, of a new cup where the present one is thrown away."""
    spoilt = spoilt_cup(session)
    if spoilt is None:
        return session.next_step
    place = session.weighing(spoilt, session.cups[spoilt].melt)
    if place is not None:
        return session.job.script[place]
    return session.step if session.step.kind is StepKind.HEAT else session.next_step


def _words(session: Session, step: Step) -> Words | None:
    if spoilt_cup(session) is not None:
        return OVER_SCORCH
    if step.kind is StepKind.WEIGH:
        return _words_of_weighing(session, step)
    if step.kind is not StepKind.HEAT:
        return None
    part, known = step.parts[0], session.cups.get(step.parts[0])
    is_another = (part, step.melt) in session.anew_from and known is not None and known.melt == step.melt
    if is_another and known is not None and known.read_c is None:
        weighed = session.weighing(part, step.melt) is not None
        words = heat_words(part, fresh=True, weighed=weighed)
        return words if weighed else replace(words, do=f"{THROWN} {words.do}")
    return OVER_BAND if _is_over_band(session, step) else None


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
