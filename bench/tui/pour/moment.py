"""What a press falls into, and whether it comes too early to mean what stands on the screen."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from bench.model.settings import UnitSystem
from bench.session.reheating import SHOTS
from bench.session.session import Session, State
from bench.session.stamp import Stamp, span
from bench.session.step import Ending, Step

SETTLE_S = 1.5
"""A step just entered has to be seen before the advancing key ends it: a press meant for the step before, or the
second of a double press, would otherwise end it unread (common practice, no source)."""

SETTLE_HOT_S = 2.0
"""The same for a step that starts heat or is a shot: it would stand in the log as done."""

SETTLE_BY_ITSELF_S = 0.5
"""What is left of it, however fast the rehearsal, where the step before ended by itself: nobody expected this one.
A shot at twenty times the pace is still in its band then."""

SETTLE_LEAST_S = 0.3
"""What is left of either in the fastest rehearsal. A held key is sorted out elsewhere."""

ASKED_S = 0.8
"""The same for a question that the key asked itself: nobody reads it and answers sooner (common practice, no
source). A question stays until it is answered, so that a fast rehearsal takes nothing from it."""

FIGURE_S = 5.0
"""So soon after its last digit the advancing key ends a figure: one is typed in one go (common practice, no
source)."""

NEXT_DIGIT_S = 1.0
"""The digits of one figure follow one another as soon as that; a second thought takes longer (common practice, no
source)."""

JUST_BEGUN = "Just begun: press again."
JUST_ASKED = "Just asked: read it, then press again."
ENDED_BY_ITSELF = "The step before has just ended by itself. Read this one first."


@dataclass(frozen=True, kw_only=True, slots=True)
class Moment:
    """What a press falls into. ``pace`` is how many seconds of the session pass in one of the maker's, ``resumed``
    when a hold was last ended, ``down`` when the key went down where it was waited whether it is held; None
    for now."""

    session: Session
    now: Stamp
    units: UnitSystem
    pace: float = 1.0
    resumed: Stamp | None = None
    down: Stamp | None = None


def too_early(moment: Moment) -> str:
    """Why the step has not stood long enough to be ended by a press; empty where it has, or none is ended."""
    session = moment.session
    if len(session.visits) < 2 or session.state is State.HELD or session.alarm is not None:
        return ""
    before, here = session.visits[-2:]
    seen_from = () if here.revisited else (here.entered,)
    if seen_from and before.by not in (None, Ending.HAND):
        wanted_s = max(SETTLE_BY_ITSELF_S, settle_s(session.step, moment.pace))
        return ENDED_BY_ITSELF if _stood_s(seen_from, moment.now, moment) < wanted_s else ""
    seen_from = (*seen_from, *filter(None, (here.begun, moment.resumed)))
    stood_s = _stood_s(seen_from, moment.now, moment)
    return JUST_BEGUN if stood_s < settle_s(session.step, moment.pace) else ""


def settle_s(step: Step, pace: float = 1.0) -> float:
    """How many of the maker's seconds a step has to stand before the advancing key ends it; fewer in a rehearsal
    at ``pace``, whose steps are shorter."""
    wanted_s = SETTLE_HOT_S if step.heats or step.kind in SHOTS else SETTLE_S
    return max(SETTLE_LEAST_S, wanted_s / pace)


def is_just_asked(asked: Stamp, moment: Moment) -> bool:
    """Whether the key that asked a question then comes too soon to answer it too. What counts is when the key went
    down: by the time that it is known not to be held the question would have stood long enough."""
    return _stood_s((asked,), moment.down or moment.now, moment) < ASKED_S


def is_of_the_figure(digit: Stamp, moment: Moment) -> bool:
    """Whether the advancing key ends a figure of which that was the last digit, rather than the step."""
    return _stood_s((digit,), moment.down or moment.now, moment) < FIGURE_S


def is_next_digit(digit: Stamp, moment: Moment) -> bool:
    """Whether a digit belongs to the figure that this one was of."""
    return _stood_s((digit,), moment.down or moment.now, moment) < NEXT_DIGIT_S


def _stood_s(seen_from: tuple[Stamp, ...], until: Stamp, moment: Moment) -> float:
    """The maker's seconds since the latest of these; endless without any."""
    return min((span(each, until).seconds / moment.pace for each in seen_from), default=inf)
