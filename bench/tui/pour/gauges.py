"""The strip: cups, mould, air, shells and trays, one gauge each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from enum import IntEnum

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.station import WarmedBy
from bench.session.aside import OldCup
from bench.session.drive import mould_reading
from bench.session.reheating import SHOTS
from bench.session.session import Session
from bench.session.shells import ShellsOut
from bench.session.stamp import Stamp
from bench.session.step import HEATING
from bench.session.trays import Trays
from bench.session.view import AS_READ_S, CupView, MouldView, View
from bench.session.warned import NEARLY_SPENT_PCT, SPENT_PCT, BenchWarning, WarningKind
from bench.tui import present
from bench.tui.pour.heat_words import where_warmed
from bench.tui.pour.keys import Press, key_for
from bench.tui.text import clean, join

FRESH_S = AS_READ_S

SPENT_FROM_PCT = 10.0
"""What heat has used up of a cup is said from here on: less is of no concern, and the strip is narrow."""


LATE_FROM_S = 60.0
"""A session that is less behind than this is on time."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Gauge:
    """One thing on the bench: its name, its figure, and what that means; ``brief`` is the same in fewer words for
    where it does not fit, what matters most first."""

    name: str
    value: str
    words: str = ""
    brief: tuple[str, ...] = ()


class Rank(IntEnum):
    """Which gauges go before which: a low window has room for few."""

    OWN_CUP = 0
    """A cup that the present step heats or shoots."""
    ON_THE_HEAT = 1
    OWN_MOULD = 2
    SHELLS_OUT = 3
    IDLE = 4
    OTHER = 5
    COLD = 6


def gauges(session: Session, view: View, now: Stamp, units: UnitSystem) -> tuple[Gauge, ...]:
    """The gauges that have something to say, the most pressing first."""
    ranked = sorted(_gauges(session, view, now, units), key=lambda each: each[0])
    return tuple(gauge for _, gauge in ranked)


def cups_first(view: View) -> int:
    """How many of the first gauges are of cups that are heated or shot now."""
    ranks = [_rank(cup, view) for cup in view.cups]
    return sum(rank < Rank.OWN_MOULD for rank in ranks)


def _gauges(session: Session, view: View, now: Stamp, units: UnitSystem) -> Iterator[tuple[Rank, Gauge]]:
    for shells in view.shells_out:
        yield Rank.SHELLS_OUT, _shells(shells, view.warnings, several=len(view.shells_out) > 1)
    for cup in view.cups:
        yield _rank(cup, view), _cup(cup, session, view, units)
    if view.in_hand.old is not None:
        yield Rank.ON_THE_HEAT, _old(view.in_hand.old, units)
    for mould in view.moulds:
        is_first = mould.number == view.step.mould or mould.warmed_s is not None
        yield Rank.OWN_MOULD if is_first else Rank.IDLE, _mould(mould, session, now, units)
    yield from ((Rank.OTHER, each) for each in _others(view, now))


def _others(view: View, now: Stamp) -> Iterator[Gauge]:
    if view.next_reminder is not None:
        caution, wait_s = view.next_reminder
        yield Gauge(name=clean(caution.name.replace("-", " "), limit=12), value=_when(wait_s))
    if view.last_bait_s is not None:
        yield _end(view, now)
    if view.trays is not None:
        yield _trays(view.trays)


def _own_parts(view: View) -> tuple[Part, ...]:
    return view.step.parts if view.step.kind in (HEATING | SHOTS) else ()


def _rank(cup: CupView, view: View) -> Rank:
    if cup.part in _own_parts(view):
        return Rank.OWN_CUP
    if cup.temp_c is None:
        return Rank.COLD
    return Rank.ON_THE_HEAT if cup.heating or cup.burst is not None else Rank.IDLE


def _shells(shells: ShellsOut, warnings: Sequence[BenchWarning], *, several: bool) -> Gauge:
    limit = present.left(shells.limit_s)
    here = [each for each in warnings if each.kind is WarningKind.SHELLS_OUT and each.round == shells.round]
    is_now = any(not each.is_second for each in here)
    late = "too long: fill them now" if is_now else "too long: they may peel"
    return Gauge(
        name=f"shells out, {shells.round}" if several else "shells out",
        value=present.gone(shells.out_s),
        words=late if shells.out_s > shells.limit_s else f"of {limit}",
    )


def _name(cup: CupView) -> str:
    return f"{cup.part.words} cup"


def _cup(cup: CupView, session: Session, view: View, units: UnitSystem) -> Gauge:
    if cup.temp_c is None:
        return Gauge(name=_name(cup), value="cold")
    band_c, temp_c = session.job.plastic.band_c, cup.temp_c
    shots = "" if cup.shots_left is None else _shots(cup.shots_left)
    spent = f"{present.spent(cup.spent_pct)} of its heat life used" if cup.spent_pct >= SPENT_FROM_PCT else ""
    known = session.cups.get(cup.part)
    value, read_c = present.against_band(temp_c, band_c, units), known.read_c if known else None
    is_read = read_c is not None and value == present.against_band(read_c, band_c, units)
    against, said = (
        _against(cup, temp_c, band_c, is_next=cup.part in _shot_next(view)),
        _known(cup.age_s, is_read=is_read),
    )
    return Gauge(
        name=_name(cup),
        value=value,
        words=join((against, said, shots, spent)),
        brief=tuple(filter(None, (*against.split(": "), _spent_in_brief(cup), shots, said))),
    )


def _shots(left: int) -> str:
    return f"{present.counted(left, 'shot')} left" if left else "no shot left"


def _shot_next(view: View) -> tuple[Part, ...]:
    """The cups of the shot that is at hand or next."""
    shot = next((step for step in (view.step, view.next_step) if step and step.kind in SHOTS), None)
    return shot.parts if shot else ()


def _old(old: OldCup, units: UnitSystem) -> Gauge:
    """The cup that is no more heated nor shot."""
    left = "cooling" if old.left_s is None else f"cool in about {present.wait(old.left_s)}, estimate"
    words = "read cool" if old.is_read else ("cool by the estimate" if old.left_s == 0 else left)
    return Gauge(name="old cup", value=present.temperature(old.temp_c, units), words=words)


def _spent_in_brief(cup: CupView) -> str:
    """Where there is little room it is said once it is a reason to do something."""
    if cup.spent_pct < NEARLY_SPENT_PCT:
        return ""
    return "heat life used up" if cup.spent_pct > SPENT_PCT else f"{present.share(cup.spent_pct)} heat used"


def _against(cup: CupView, temp_c: float, band_c: tuple[float, float], *, is_next: bool) -> str:
    """Where it stands against the band; one that nobody shoots next is free to cool."""
    low_c, high_c = band_c
    if cup.is_scorched:
        return "scorched, do not use"
    if temp_c > high_c:
        return "over the band"
    if cup.burst is not None:
        if cup.burst_over_s > 0:
            return f"burst over {present.gone(cup.burst_over_s)}: stir, read"
        return f"burst, {present.left(cup.burst.left_s)} left"
    if cup.heating:
        return "heating" if cup.heater_on else "heater off"
    if not cup.shots_left or (temp_c < low_c and not is_next):
        return "cooling"
    return f"in band, {present.left(cup.in_band_s)} left" if temp_c >= low_c else "under the band"


def _known(age_s: float | None, *, is_read: bool) -> str:
    """Where the figure comes from: a reading, an estimate carried on from one, or an estimate alone. It is called
    read for as long as it takes to look up from the thermometer, and while it is the figure that was read."""
    if age_s is None:
        return "estimate"
    read = f"read {present.ago(age_s)}"
    return read if is_read and age_s < FRESH_S else f"est., {read}"


def _mould(mould: MouldView, session: Session, now: Stamp, units: UnitSystem) -> Gauge:
    value = present.temperature(mould.temp_c, units)
    name = f"mould {mould.number}" if len(session.moulds) > 1 else "mould"
    words = ("cold", "ready", "too hot")[mould.against_window + 1]
    if mould.warmed_s is not None:
        hot, read = words if mould.against_window > 0 else "", _read_key(mould, session, now)
        unread = f"{_unread(mould, session.job.plan.warming)}{f': {read}' if read else ''}"
        return Gauge(
            name=name,
            value=f"{value} or more" if mould.at_least else value,
            words=join((hot, unread)),
            brief=(f"not read{f': {read}' if read else ''}",),
        )
    read_c = session.moulds[mould.number].read_c
    is_read = read_c is not None and value == present.temperature(read_c, units)
    if not mould.against_window and _reads_less(mould.temp_c, mould.low_c, units):
        words = "just under"
    known = _known(mould.age_s, is_read=is_read)
    return Gauge(name=name, value=value, words=join((words, known)), brief=(words, known))


def _unread(mould: MouldView, by: WarmedBy) -> str:
    """For how long it was warmed since anybody read it, where it may have become too hot of that."""
    warmed = present.long_time(mould.warmed_s or 0.0)
    since = "not read" if mould.age_s is None else f"read {present.ago(mould.age_s)}"
    there = f"{where_warmed(by)} {warmed}" if mould.is_warmed else "may be too hot"
    return f"{there}, {since}"


def _read_key(mould: MouldView, session: Session, now: Stamp) -> str:
    """The key that a reading of that mould begins with; none where it would be taken for another's."""
    return key_for(Press.MOULD) if mould_reading(session, 0.0, now).mould == mould.number else ""


def _reads_less(temp_c: float, low_c: float, units: UnitSystem) -> bool:
    """Whether a temperature under that one is shown as another figure."""
    return temp_c < low_c and present.degrees(temp_c, units) != present.degrees(low_c, units)


def _end(view: View, now: Stamp) -> Gauge:
    """When the last bait is expected out of its mould; where that is late, how much later than planned."""
    late = view.behind_s is not None and view.behind_s >= LATE_FROM_S
    words = f"{present.long_time(view.behind_s or 0.0)} behind" if late else ""
    last_s = view.last_bait_s or 0.0
    return Gauge(name="last bait", value=present.time_of_day(now.wall + timedelta(seconds=last_s)), words=words)


def _when(wait_s: float) -> str:
    return "now" if wait_s <= 0 else f"in {present.left(wait_s)}"


def _trays(trays: Trays) -> Gauge:
    return Gauge(
        name="trays", value=f"{trays.baits} curing", words=f"first ready {present.day_and_time(trays.first_ready)}"
    )
