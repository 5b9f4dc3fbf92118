"""Which readings are believed at once, and which are asked for a second time.

A thermometer slips, a digit is mistyped, a Fahrenheit figure lands in a Celsius field. A reading far from the
estimate, or one that fits it far better on the other scale, is therefore kept aside until a second one agrees. One
over the scorch limit that could be true is never kept aside: doubt must not delay an alarm. What nothing on a
bench can be is the thermometer's fault, and not believed however often it is read; but a cup that is said twice to
be over its scorch limit is taken for scorched, whatever the figure.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from bench.model.recipe import Part
from bench.physics.fitting import READING_NOISE_C
from bench.session.events import CupRead, MouldRead
from bench.session.rises import (
    FALLEN_K,
    FAR_K,
    WITHIN_SIGMAS,
    did_not_rise,
    hottest_believed_c,
    is_being_heated,
    marked_c,
)
from bench.session.scales import Known, explains_better, fits, on_other_scale_c
from bench.session.session import Session, Warmth
from bench.session.stamp import span
from bench.session.thermometer import cannot_be
from bench.session.warming import HOTTEST_MOULD_C
from bench.session.warmth import ROOM_SPREAD_K, mould_now, vessel_now

FAR_MOULD_K = 40.0
"""A mould is not further above its estimate, or on its plate above its window, unless it was forgotten there."""

AGREE_K = 5.0
"""Two readings this close say the same: what stirring and a hand-held thermometer leave between them."""

HOTTEST_CUP_C = 260.0
"""No cup of plastic is read hotter than this: it would long have smoked and foamed."""

UNDER_ROOM_K = WITHIN_SIGMAS * math.hypot(ROOM_SPREAD_K, READING_NOISE_C)
"""Nothing on the bench is colder than the room, by more than the room and a thermometer leave open."""

USEFUL_K = 60.0
"""Starting value: a range wider than this tells a maker nothing that its middle does not."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Expected:
    """What a reading was expected to be: the estimate, and the range that it is good for, None where that is too
    wide to help. ``at_least`` says that nobody knows how much hotter than the estimate it may be."""

    temp_c: float
    range_c: tuple[float, float] | None
    at_least: bool = False


def expected(session: Session, reading: CupRead | MouldRead) -> Expected | None:
    """What was expected of such a reading; None of a cup that nothing is known of. The range lies within the one
    in which a reading is believed, which errs on the side of belief and is far wider."""
    if isinstance(reading, MouldRead):
        estimate = mould_now(session, reading.at, reading.mould)
    else:
        estimate = vessel_now(session, reading.part, reading.at)
    if estimate is None:
        return None
    within_k = WITHIN_SIGMAS * max(estimate.spread_k, READING_NOISE_C)
    low_c, high_c = likely_c(session, reading)
    low_c, high_c = max(low_c, estimate.temp_c - within_k), min(high_c, estimate.temp_c + within_k)
    is_useful = low_c <= estimate.temp_c <= high_c and high_c - low_c <= USEFUL_K
    is_useful = is_useful and not low_c <= reading.temp_c <= high_c
    return Expected(
        temp_c=estimate.temp_c,
        range_c=(low_c, high_c) if is_useful else None,
        at_least=estimate.rise_k > READING_NOISE_C,
    )


def believed(session: Session, reading: CupRead | MouldRead) -> bool:
    """Whether the reading is taken at its word: it is likely, or it repeats the one that was doubted."""
    if cannot_be(session, reading):
        return False
    if repeats(session.doubted, reading):
        return True
    is_doubted = did_not_rise(session, reading) or meant_c(session, reading) is not None
    return _likely(session, reading) and not is_doubted


def meant_c(session: Session, reading: CupRead | MouldRead) -> float | None:
    """What the reading is on the other scale, where that explains it far better than the figure as typed and would
    be believed; None where it does not, or where nobody knows on which scale it was typed. Never of a cup over its
    scorch limit: that is told at once."""
    known = None if reading.typed_in is None else _compared_with(session, reading)
    if known is None or reading.typed_in is None or _is_scorched(session, reading):
        return None
    meant = replace(reading, temp_c=on_other_scale_c(reading.temp_c, reading.typed_in), typed_in=None)
    if not explains_better(meant.temp_c, reading.temp_c, known):
        return None
    return meant.temp_c if _likely(session, meant) and not did_not_rise(session, meant) else None


def _compared_with(session: Session, reading: CupRead | MouldRead) -> Known | None:
    if isinstance(reading, MouldRead):
        estimate, aim_c = mould_now(session, reading.at, reading.mould), session.job.mould.warm_c
        return None if estimate is None else Known(temp_c=estimate.temp_c, spread_k=estimate.spread_k, aim_c=aim_c)
    cup = vessel_now(session, reading.part, reading.at)
    if cup is None:
        return None
    aims = is_being_heated(session, reading.part)
    return Known(temp_c=cup.temp_c, spread_k=cup.spread_k, aim_c=session.job.plastic.band_c if aims else None)


def is_plausible(session: Session, reading: CupRead | MouldRead) -> bool:
    """Whether the reading is about what is expected, so that it may be offered as what another one was meant to
    be. Of a cup that nothing is known of every reading is."""
    known = _compared_with(session, reading)
    return known is None or fits(reading.temp_c, known)


def _is_scorched(session: Session, reading: CupRead | MouldRead) -> bool:
    return isinstance(reading, CupRead) and reading.temp_c > session.job.plastic.scorch_c


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
    coldest = session.job.station.room.temperature_c - UNDER_ROOM_K
    if isinstance(reading, MouldRead):
        return _likely_mould_c(session, reading, coldest)
    cup = vessel_now(session, reading.part, reading.at)
    warmth = session.cups.get(reading.part)
    if cup is None or warmth is None:
        return (coldest, HOTTEST_CUP_C)
    # What is taken to be hotter than a cup can be is expected at that, not under it.
    hottest = max(HOTTEST_CUP_C, cup.temp_c)
    if reading.temp_c <= session.job.plastic.scorch_c:
        hottest = min(hottest, hottest_believed_c(session, reading, warmth, cup.temp_c))
    coldest = min(coldest, cup.temp_c - UNDER_ROOM_K)
    if warmth.target_c is not None or warmth.by_itself:
        return (max(coldest, _coldest_on_heat_c(session, warmth, cup.temp_c)), hottest)
    return (max(coldest, min(_last_c(session, reading.part, cup.temp_c), cup.temp_c) - FAR_K), hottest)


def _last_c(session: Session, part: Part, now_c: float) -> float:
    """What a cup that is at the heater was when it was last known, where nobody knows what was done since. One
    that was over its scorch limit is off the heat and only cools: a figure that has it cold already is asked
    again."""
    known = session.cups[part]
    if known.follows or session.is_scorched(part, known.melt) or not is_being_heated(session, part):
        return now_c
    return marked_c(session, part, now_c)


def _likely_mould_c(session: Session, reading: MouldRead, coldest: float) -> tuple[float, float]:
    now = mould_now(session, reading.at, reading.mould)
    if now is None:
        return (coldest, HOTTEST_MOULD_C)
    target_c = session.moulds[reading.mould].target_c
    most_c = max(now.temp_c, now.temp_c if target_c is None else target_c) + FAR_MOULD_K
    most_c = max(most_c, now.temp_c + WITHIN_SIGMAS * now.spread_k)
    return (min(coldest, now.temp_c - UNDER_ROOM_K), max(now.temp_c, min(HOTTEST_MOULD_C, most_c)))


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
