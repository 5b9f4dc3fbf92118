"""The strip: cups, mould, air, shells and trays, one gauge each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from bench.model.settings import UnitSystem
from bench.session.aside import OldCup
from bench.session.session import Session
from bench.session.shells import ShellsOut
from bench.session.stamp import Stamp
from bench.session.trays import Trays
from bench.session.view import AS_READ_S, CupView, MouldView, View
from bench.session.warned import NEARLY_SPENT_PCT, SPENT_PCT
from bench.tui import present
from bench.tui.text import clean, join

FRESH_S = AS_READ_S
"""A figure is called read for as long as it takes to look up from the thermometer; then it is carried on."""


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


def gauges(session: Session, view: View, now: Stamp, units: UnitSystem) -> tuple[Gauge, ...]:
    """The gauges that have something to say, the most pressing first."""
    return tuple(_gauges(session, view, now, units))


def _gauges(session: Session, view: View, now: Stamp, units: UnitSystem) -> Iterator[Gauge]:
    for shells in view.shells_out:
        yield _shells(shells, several=len(view.shells_out) > 1)
    yield from _hot_cups(session, view, units)
    for mould in view.moulds:
        yield _mould(mould, units, several=len(view.moulds) > 1)
    if view.next_reminder is not None:
        caution, wait_s = view.next_reminder
        yield Gauge(name=clean(caution.name.replace("-", " "), limit=12), value=_when(wait_s))
    if view.last_bait_s is not None:
        yield _end(view, now)
    if view.trays is not None:
        yield _trays(view.trays)
    for cup in view.cups:
        if cup.temp_c is None:
            yield Gauge(name=_name(cup), value="cold")


def _hot_cups(session: Session, view: View, units: UnitSystem) -> Iterator[Gauge]:
    for cup in view.cups:
        if cup.temp_c is not None:
            yield _cup(cup, cup.temp_c, session.job.plastic.band_c, units)
    if view.in_hand.old is not None:
        yield _old(view.in_hand.old, units)


def _shells(shells: ShellsOut, *, several: bool) -> Gauge:
    limit = present.left(shells.limit_s)
    late = "too long: fill them now" if shells.core_ready else "too long: they may peel"
    return Gauge(
        name=f"shells out, {shells.round}" if several else "shells out",
        value=present.gone(shells.out_s),
        words=late if shells.out_s > shells.limit_s else f"of {limit}",
    )


def _name(cup: CupView) -> str:
    return f"{cup.part.words} cup"


def _cup(cup: CupView, temp_c: float, band_c: tuple[float, float], units: UnitSystem) -> Gauge:
    shots = f"{present.counted(cup.shots_left, 'shot')} left" if cup.shots_left else "no shot left"
    spent = f"{present.spent(cup.spent_pct)} of its heat life used" if cup.spent_pct >= SPENT_FROM_PCT else ""
    against, known = _against(cup, temp_c, band_c), _known(cup.age_s)
    return Gauge(
        name=_name(cup),
        value=present.against_band(temp_c, band_c, units),
        words=join((against, known, shots, spent)),
        brief=tuple(filter(None, (against, _spent_in_brief(cup), shots, known))),
    )


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


def _against(cup: CupView, temp_c: float, band_c: tuple[float, float]) -> str:
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
    if not cup.shots_left:
        return "cooling"
    return f"in band, {present.left(cup.in_band_s)} left" if temp_c >= low_c else "under the band"


def _known(age_s: float | None) -> str:
    """Where the figure comes from: a reading, an estimate carried on from one, or an estimate alone."""
    if age_s is None:
        return "estimate"
    return f"read {present.ago(age_s)}" if age_s < FRESH_S else f"est. {present.long_time(age_s)} old"


def _mould(mould: MouldView, units: UnitSystem, *, several: bool) -> Gauge:
    words = ("cold", "ready", "too hot")[mould.against_window + 1]
    if not mould.against_window and _reads_less(mould.temp_c, mould.low_c, units):
        words = "close enough"
    return Gauge(
        name=f"mould {mould.number}" if several else "mould",
        value=present.temperature(mould.temp_c, units),
        words=join((words, _known(mould.age_s))),
    )


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
