"""Which readings are believed at once, and which are asked for a second time.

A thermometer slips, a digit is mistyped, a Fahrenheit figure lands in a Celsius field. A reading far from the
estimate is therefore kept aside until a second one agrees. One over the scorch limit that could be true is never
kept aside: doubt must not delay an alarm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.physics.fitting import CUP_PRIOR_SPREAD, READING_NOISE_C
from bench.session.bodies import cup_of, profile_power
from bench.session.corrections import HEATER_FACTORS
from bench.session.events import CupRead, MouldRead
from bench.session.heater import heated_c
from bench.session.session import Session, Warmth
from bench.session.stamp import span
from bench.session.warmth import cup_carried, cup_now, mould_now

FAR_K = 25.0
"""A cup off the heat is not further than this from its estimate unless something is wrong."""

FALLEN_K = 6.5
"""Two readings of a cup that stayed as it is are not further apart than this: three sigma of a hand-held
thermometer's difference, 3 x 1.5 K x sqrt(2)."""

FAR_MOULD_K = 40.0
"""A mould is not further above its estimate, or on its plate above its window, unless it was forgotten there."""

AGREE_K = 5.0
"""Two readings this close say the same: what stirring and a hand-held thermometer leave between them."""

HOTTEST_CUP_C = 260.0
"""No cup of plastic is read hotter than this: it would long have smoked and foamed."""

HOTTEST_MOULD_C = 150.0
"""No mould on a warming plate gets hotter than this before it cooks what is put into it."""

COLDEST_UNDER_ROOM_K = 15.0
"""Things on the bench may be colder than the room, but not by more than this."""


WITHIN_SIGMAS = 2.0
"""To either side of an estimate: nineteen in twenty of a normal spread lie within (NIST TN 1297, 6.2)."""

USEFUL_K = 60.0
"""Starting value: a range wider than this tells a maker nothing that its middle does not."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Expected:
    """What a reading was expected to be: the estimate, and the range that it is good for, None where that is too
    wide to help."""

    temp_c: float
    range_c: tuple[float, float] | None


def expected(session: Session, reading: CupRead | MouldRead) -> Expected | None:
    """What was expected of such a reading; None of a cup that nothing is known of. The range lies within the one
    in which a reading is believed, which errs on the side of belief and is far wider."""
    if isinstance(reading, MouldRead):
        estimate = mould_now(session, reading.at, reading.mould)
    else:
        estimate = cup_now(session, reading.part, reading.at)
    if estimate is None:
        return None
    within_k = WITHIN_SIGMAS * max(estimate.spread_k, READING_NOISE_C)
    low_c, high_c = likely_c(session, reading)
    low_c, high_c = max(low_c, estimate.temp_c - within_k), min(high_c, estimate.temp_c + within_k)
    is_useful = low_c <= estimate.temp_c <= high_c and high_c - low_c <= USEFUL_K
    return Expected(temp_c=estimate.temp_c, range_c=(low_c, high_c) if is_useful else None)


def believed(session: Session, reading: CupRead | MouldRead) -> bool:
    """Whether the reading is taken at its word: it is likely, or it repeats the one that was doubted."""
    if repeats(session.doubted, reading):
        return True
    return _likely(session, reading) and not did_not_rise(session, reading)


def did_not_rise(session: Session, reading: CupRead | MouldRead) -> bool:
    """Whether the cup was on the heat since it was last known and is no hotter for it: then the heater was hardly
    on. Only where the burst, as the profiles have it, would have shown through what a thermometer leaves open."""
    known = session.cups.get(reading.part) if isinstance(reading, CupRead) else None
    if not isinstance(reading, CupRead) or known is None or reading.temp_c > session.job.plastic.scorch_c:
        return False
    last = next((mark for mark in reversed(session.cup_marks) if mark.part is reading.part), None)
    now = cup_carried(session, reading.part, reading.at)
    if last is None or not now.follows or now.on_s <= 0:
        return False
    cup = cup_of(session, reading.part, known.melt)
    hot_c = heated_c(cup, profile_power(session.job), start_c=last.temp_c, seconds=now.on_s)
    # A cup that stood for long may have lost more than reckoned, and is compared with what that leaves.
    stood_long_k = (1 + CUP_PRIOR_SPREAD) * now.stood_k if now.stood_k > FALLEN_K else 0.0
    is_no_hotter = reading.temp_c <= last.temp_c - stood_long_k + READING_NOISE_C
    return is_no_hotter and hot_c - max(now.stood_k, stood_long_k) - reading.temp_c > FALLEN_K


def corrects(session: Session, reading: CupRead | MouldRead) -> bool:
    """Whether the reading stands for itself: it says the doubted one again, or answers one that did not rise. What
    was reckoned since the reading before them then counts for nothing."""
    doubted = session.doubted
    if repeats(doubted, reading):
        return True
    same_cup = isinstance(doubted, CupRead) and isinstance(reading, CupRead) and doubted.part is reading.part
    return same_cup and doubted is not None and did_not_rise(session, doubted)


def likely_c(session: Session, reading: CupRead | MouldRead) -> tuple[float, float]:
    """The range in which such a reading would be believed at once."""
    coldest = session.job.station.room.temperature_c - COLDEST_UNDER_ROOM_K
    if isinstance(reading, MouldRead):
        return _likely_mould_c(session, reading, coldest)
    cup = cup_now(session, reading.part, reading.at)
    warmth = session.cups.get(reading.part)
    if cup is None or warmth is None:
        return (coldest, HOTTEST_CUP_C)
    # What is taken to be hotter than a cup can be is expected at that, not under it.
    hottest = max(HOTTEST_CUP_C, cup.temp_c)
    if reading.temp_c <= session.job.plastic.scorch_c:
        hottest = min(hottest, _hottest_c(session, reading, warmth, cup.temp_c))
    if warmth.target_c is not None or warmth.by_itself:
        return (_coldest_on_heat_c(session, warmth, cup.temp_c), hottest)
    return (min(_last_c(session, reading.part, cup.temp_c), cup.temp_c) - FAR_K, hottest)


def _last_c(session: Session, part: Part, now_c: float) -> float:
    """What a cup that is at the heater was when it was last known, where nobody knows what was done since. One
    that was over its scorch limit is off the heat and only cools: a figure that has it cold already is asked
    again."""
    known = session.cups[part]
    if known.follows or session.is_scorched(part, known.melt) or not _is_being_heated(session, part):
        return now_c
    return _marked_c(session, part, now_c)


def _marked_c(session: Session, part: Part, else_c: float) -> float:
    return next((mark.temp_c for mark in reversed(session.cup_marks) if mark.part is part), else_c)


def _hottest_c(session: Session, reading: CupRead, warmth: Warmth, now_c: float) -> float:
    """What a cup could be by now: off the heat its estimate, on it what the strongest believed heater could
    have fed since the cup was last known, had it been on all the time."""
    if warmth.target_c is None and not warmth.by_itself and not _is_being_heated(session, reading.part):
        return now_c + FAR_K
    last = _marked_c(session, reading.part, now_c)
    gone_s = cup_carried(session, reading.part, reading.at).gone_s
    power = profile_power(session.job)
    strongest = replace(power, fed_w=max(HEATER_FACTORS) * power.fed_w)
    fed_c = heated_c(cup_of(session, reading.part, warmth.melt), strongest, start_c=last, seconds=gone_s)
    return max(now_c, fed_c) + FAR_K


def _is_being_heated(session: Session, part: Part) -> bool:
    """Whether the present step has that cup at the heater, the last of its bursts over or not."""
    return session.step.kind is StepKind.HEAT and part in session.step.parts


def _likely_mould_c(session: Session, reading: MouldRead, coldest: float) -> tuple[float, float]:
    now = mould_now(session, reading.at, reading.mould)
    if now is None:
        return (coldest, HOTTEST_MOULD_C)
    target_c = session.moulds[reading.mould].target_c
    hottest_c = max(now.temp_c, now.temp_c if target_c is None else target_c) + FAR_MOULD_K
    return (min(coldest, now.temp_c - FAR_K), min(HOTTEST_MOULD_C, hottest_c))


def _coldest_on_heat_c(session: Session, warmth: Warmth, now_c: float) -> float:
    """A cup on the heat does not fall by more than it loses while it is stirred. Where it was not read since it
    came onto the heat, what it started from is an estimate only; one that was heated by itself may have stood."""
    measured = warmth.measured
    if (
        warmth.by_itself
        or measured is None
        or warmth.read_c is None
        or span(measured, session.visit.entered).seconds > 0
    ):
        return min(warmth.temp_c, now_c) - FAR_K
    return min(warmth.read_c, now_c) - FALLEN_K


def _likely(session: Session, reading: CupRead | MouldRead) -> bool:
    low, high = likely_c(session, reading)
    return low <= reading.temp_c <= high


def repeats(doubted: CupRead | MouldRead | None, reading: CupRead | MouldRead) -> bool:
    """Whether the reading says again what the doubted one said."""
    if doubted is None or type(doubted) is not type(reading):
        return False
    if isinstance(doubted, CupRead) and isinstance(reading, CupRead) and doubted.part is not reading.part:
        return False
    if isinstance(doubted, MouldRead) and isinstance(reading, MouldRead) and doubted.mould != reading.mould:
        return False
    return abs(doubted.temp_c - reading.temp_c) <= AGREE_K
