"""What a heater could have made of a cup since it was last known, and what it could not."""

from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.physics.fitting import CUP_PRIOR_SPREAD, READING_NOISE_C
from bench.session.bodies import cup_of, heater_power, profile_power
from bench.session.corrections import HEATER_FACTORS, CupMark
from bench.session.events import CupRead, MouldRead
from bench.session.heater import heated_c
from bench.session.session import Session, Warmth
from bench.session.thermometer import cannot_be
from bench.session.warmth import cup_carried

FAR_K = 25.0
"""A cup off the heat is not further than this from its estimate unless something is wrong."""

FALLEN_K = 6.5
"""Two readings of a cup that stayed as it is are not further apart than this: three sigma of a hand-held
thermometer's difference, 3 x 1.5 K x sqrt(2)."""

WITHIN_SIGMAS = 2.0
"""To either side of an estimate: nineteen in twenty of a normal spread lie within (NIST TN 1297, 6.2)."""

TYPED_LATE_S = 10.0
"""Starting value: so long after the thermometer was looked at its figure may still be typed."""

TEACHING_FACTORS = (1 / 3, 3.0)
"""Starting values: a reading after a burst that says less or more of the heater than these shares of its profile
is of something else: a heater that was off, another cup, a slip. Nothing is learnt from it."""


def did_not_rise(session: Session, reading: CupRead | MouldRead) -> bool:
    """Whether the cup was on the heat since it was last known and is no hotter for it: then the heater was hardly
    on. Only where the burst, as the profiles have it, would have shown through what a thermometer leaves open."""
    known = session.cups.get(reading.part) if isinstance(reading, CupRead) else None
    if not isinstance(reading, CupRead) or known is None or reading.temp_c > session.job.plastic.scorch_c:
        return False
    last, now = last_mark(session, reading.part), cup_carried(session, reading.part, reading.at)
    if last is None or not now.follows or now.on_s <= 0 or cannot_be(session, reading):
        return False
    cup = cup_of(session, reading.part, known.melt)
    hot_c = heated_c(cup, profile_power(session.job), start_c=last.temp_c, seconds=now.on_s)
    # A cup that stood for long may have lost more than reckoned, and is compared with what that leaves.
    stood_long_k = (1 + CUP_PRIOR_SPREAD) * now.stood_k if now.stood_k > FALLEN_K else 0.0
    is_no_hotter = reading.temp_c <= last.temp_c - stood_long_k + READING_NOISE_C
    return is_no_hotter and hot_c - max(now.stood_k, stood_long_k) - reading.temp_c > FALLEN_K


def teaches(session: Session, reading: CupRead | MouldRead) -> bool:
    """Whether what the reading says of the heater could be of this heater at all; so of one that says nothing."""
    known = session.cups.get(reading.part) if isinstance(reading, CupRead) else None
    if not isinstance(reading, CupRead) or known is None:
        return True
    last, now = last_mark(session, reading.part), cup_carried(session, reading.part, reading.at)
    if last is None or not now.follows or now.on_s <= 0:
        return True
    cup, power = cup_of(session, reading.part, known.melt), profile_power(session.job)
    least_c, most_c = (
        heated_c(cup, replace(power, fed_w=factor * power.fed_w), start_c=last.temp_c, seconds=now.on_s)
        for factor in TEACHING_FACTORS
    )
    return least_c - FALLEN_K <= reading.temp_c + now.stood_k <= most_c + FALLEN_K


def _hottest_c(session: Session, reading: CupRead, warmth: Warmth, now_c: float) -> float:
    """What a cup could be by now: off the heat its estimate, on it what the strongest believed heater could
    have fed since the cup was last known, had it been on all the time."""
    if not _may_be_heated(session, reading.part, warmth):
        return now_c + FAR_K
    fed_c = _fed_c(session, reading, warmth, max(HEATER_FACTORS) * profile_power(session.job).fed_w, now_c)
    return max(now_c, fed_c) + FAR_K


def hottest_believed_c(session: Session, reading: CupRead, warmth: Warmth, now_c: float) -> float:
    """The same with the heater as well as it is known, where it rose from a reading: no more is then left open
    than two readings leave."""
    widest_c = _hottest_c(session, reading, warmth, now_c)
    last = last_mark(session, reading.part)
    is_measured = last is not None and last.is_read and warmth.measured is not None and warmth.follows
    if not is_measured or not _may_be_heated(session, reading.part, warmth):
        return widest_c
    strongest_w = (1 + WITHIN_SIGMAS * session.corrections.heater_spread) * heater_power(session).fed_w
    fed_c = _fed_c(session, reading, warmth, strongest_w, now_c, more_s=TYPED_LATE_S)
    return min(widest_c, max(now_c, fed_c) + FALLEN_K)


def last_mark(session: Session, part: Part) -> CupMark | None:
    """What was last known of the part's cup for sure."""
    return next((mark for mark in reversed(session.cup_marks) if mark.part is part), None)


def marked_c(session: Session, part: Part, else_c: float) -> float:
    """The temperature of that; ``else_c`` where nothing is known."""
    last = last_mark(session, part)
    return else_c if last is None else last.temp_c


def is_being_heated(session: Session, part: Part) -> bool:
    """Whether the present step has that cup at the heater, the last of its bursts over or not."""
    return session.step.kind is StepKind.HEAT and part in session.step.parts


def _may_be_heated(session: Session, part: Part, warmth: Warmth) -> bool:
    return warmth.target_c is not None or warmth.by_itself or is_being_heated(session, part)


def _fed_c(
    session: Session, reading: CupRead, warmth: Warmth, fed_w: float, now_c: float, *, more_s: float = 0.0
) -> float:
    """What the cup would be had a heater of that power been on ever since it was last known."""
    return heated_c(
        cup_of(session, reading.part, warmth.melt),
        replace(profile_power(session.job), fed_w=fed_w),
        start_c=marked_c(session, reading.part, now_c),
        seconds=cup_carried(session, reading.part, reading.at).gone_s + more_s,
    )
