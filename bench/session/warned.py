"""What the maker should be told before it shows in the baits: figures and kinds, the words are the screen's."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from itertools import takewhile

from bench.model.recipe import Part
from bench.model.station import WarmedBy
from bench.model.step_kind import StepKind
from bench.physics.filling import SHORT_BELOW
from bench.plan.records import Shot
from bench.session.bond import BondView
from bench.session.fill import FillChange, FillVerdict, FillView
from bench.session.reheating import SHOTS, spoilt_cup
from bench.session.retime import Retimed
from bench.session.session import Session, State
from bench.session.shells import ShellsOut
from bench.session.step import Step

SPENT_PCT = 100.0
NEARLY_SPENT_PCT = 80.0
"""Starting value: time to think of a fresh melt."""

SLACK_S = 5.0
"""Starting value: what is expected is no surer than this, and a limit met by so little is no warning."""

MOULD_SLACK_K = 1.0
"""Starting value: a mould so little under its window reads like one in it."""

LATE_SHARE = 0.25
"""Starting value: who is behind by ``BEHIND_S`` may take so much longer than planned for what is left before a
core shot, too; what would then be too late is told while a quick hand can still be in time."""

BEHIND_S = 60.0

HURRIED_S = 120.0
"""Starting value: what stands between shells that are out too long and a core further away is not made shorter by
haste, and hot plastic is no place for it."""

_AT_THE_HEATER = frozenset({StepKind.HEAT_ON, StepKind.HEAT})
_TAKES_ITS_MOULD = frozenset(
    {StepKind.WARM_MOULD, StepKind.REST_MOULD, StepKind.HOLD, StepKind.SET, StepKind.OPEN}
)
"""A mould at one of these is warmed or cooled anyway, or still has baits in it."""


class WarningKind(StrEnum):
    """What is not as it should be, the most pressing first."""

    CUP_HOT = "cup over its band"
    CUP_COLD = "cup under its band"
    FILL_SHORT = "will run short"
    BOND_LOW = "may not bond"
    SHELLS_OUT = "shells out too long"
    CUP_LATE = "cup will leave its band"
    SHELLS_LATE = "shells will be out too long"
    MOULD_COLD = "mould under its window"
    MOULD_HOT = "mould over its window"
    MOULD_UNREAD = "mould not read since it was warmed"
    HEAT_SPENT = "heat spent"
    HEAT_NEARLY_SPENT = "heat nearly spent"


@dataclass(frozen=True, kw_only=True, slots=True)
class BenchWarning:
    """One warning: what is so (``value``) and what it should not pass (``limit``), in degC, seconds, % or a share
    of one, by its kind. For what is seen coming, ``value`` is how long the cup must still wait for its shot and
    ``limit`` how long it stays in its band, or how long the shells will have been out and how long they may be.
    ``at_shot`` says that the shot it is about is at hand, ``is_second`` that something else has to be done first
    and this one says only what is so, ``came_back`` that the maker has come back to that shot. ``part``, ``mould``
    (of so many ``moulds``) and ``round`` say whose, where it is someone's, ``shot`` before which shot a cold mould
    is to be warm, ``by`` what the bench warms it with. Of shells that lie out ``away_s`` is in how many seconds
    their core is shot, where haste can still help, ``mould`` the one that stays closed until then.
    Never a ban."""

    kind: WarningKind
    value: float
    limit: float
    part: Part | None = None
    mould: int = 0
    moulds: int = 1
    round: int = 0
    shot: str = ""
    at_shot: bool = False
    is_second: bool = False
    came_back: bool = False
    away_s: float | None = None
    by: WarmedBy = WarmedBy.PLATE


@dataclass(frozen=True, kw_only=True, slots=True)
class Bench:
    """What is reckoned at this moment: cups that hold something and moulds by their temperature in degC, which
    cups are on the heat, how long each stays in its band, what heat has used up of each in %, what the other
    gauges say, how the session will go on, and which of the present shot's cups is furthest under its band.
    ``unread_s`` is how long those moulds were warmed that were not read since and may for that be too hot."""

    cups_c: Mapping[Part, float]
    heating: frozenset[Part]
    in_band_s: Mapping[Part, float]
    moulds_c: Mapping[int, float]
    spent_pct: Mapping[Part, float]
    fill: FillView | None
    bond: BondView | None
    out: Sequence[ShellsOut]
    rest: Retimed
    coldest: Part | None = None
    unread_s: Mapping[int, float] = field(default_factory=dict)


def warnings(session: Session, bench: Bench) -> tuple[BenchWarning, ...]:
    """Every warning of this moment, the most pressing first."""
    if session.state.over:
        return ()
    order = list(WarningKind)
    found = _one_order(bench, tuple(_all(session, bench)))
    return tuple(sorted(found, key=lambda each: order.index(each.kind)))


def _one_order(bench: Bench, found: tuple[BenchWarning, ...]) -> Iterator[BenchWarning]:
    """A cold cup whose shells have lain out too long: while it can be shot and fills they are filled at once, and
    else it is reheated whatever becomes of them. That those may peel is not told twice."""
    out = next((each for each in found if each.kind is WarningKind.SHELLS_OUT), None)
    if out is not None:
        found = tuple(each for each in found if each.kind is not WarningKind.BOND_LOW or each.round != out.round)
    cold = next((each for each in found if each.kind is WarningKind.CUP_COLD and each.part is Part.CORE), None)
    fills = bench.fill is not None and bench.fill.verdict is FillVerdict.FILLS
    fills = fills and out is not None and not out.is_second
    for each in found:
        if out is not None and cold is not None and each in (out, cold):
            yield replace(each, is_second=(each is cold) is fills)
        else:
            yield each


def _all(session: Session, bench: Bench) -> Iterator[BenchWarning]:
    shot = next((step for step in (session.step, session.next_step) if step and step.kind in SHOTS), None)
    heated_for = _heated_for(session, bench)
    if shot is not None:
        yield from _cups(session, shot, bench)
        yield from _mould(session, shot, bench, is_held_up=shot != heated_for)
    elif heated_for is not None:
        yield from _cold_mould(session, heated_for, bench)
    if bench.fill is not None and bench.fill.verdict is FillVerdict.SHORT and not _is_of_its_cup(bench.fill):
        yield BenchWarning(kind=WarningKind.FILL_SHORT, value=bench.fill.open_fraction, limit=SHORT_BELOW)
    if bench.bond is not None and not bench.bond.enough:
        yield BenchWarning(
            kind=WarningKind.BOND_LOW,
            value=bench.bond.contact_c,
            limit=session.job.plastic.bond_c,
            round=session.step.round,
        )
    yield from _shells(session, bench)
    yield from _seen_coming(session, bench)
    yield from _spent(session, bench)


def _shells(session: Session, bench: Bench) -> Iterator[BenchWarning]:
    """Of several rounds that are out too long only the one that is filled first, with what can be done for it
    here."""
    late = [out for out in bench.out if out.out_s > out.limit_s]
    here = next((out for out in late if _is_filled_here(session.step, out.round)), None)
    if here is not None:
        yield _shells_out(here, is_second=not here.core_ready)
        return
    ahead = [(in_s, out) for out in late if (in_s := bench.rest.core_in_s(out.round)) is not None]
    if not ahead:
        yield from (_shells_out(out, is_second=True) for out in late)
        return
    in_s, first = min(ahead, key=lambda each: each[0])
    told = _shells_out(first, is_second=True)
    if spoilt_cup(session) is not None:
        yield told
        return
    away_s = in_s if in_s <= HURRIED_S else None
    yield replace(told, away_s=away_s, mould=_left_closed(session, first.round))


def _shells_out(out: ShellsOut, *, is_second: bool) -> BenchWarning:
    return BenchWarning(
        kind=WarningKind.SHELLS_OUT, value=out.out_s, limit=out.limit_s, round=out.round, is_second=is_second
    )


def _is_filled_here(step: Step, round_number: int) -> bool:
    return step.kind is StepKind.SHOT and step.shot is Shot.CORE and step.round == round_number


def _left_closed(session: Session, round_number: int) -> int:
    """The mould to be opened here that holds other shells, where nothing is done with those before that round's
    core is in: so long it can stay closed. 0 where there is none."""
    step = session.step
    if step.kind is not StepKind.OPEN or step.shot is not Shot.SHELL or step.round == round_number:
        return 0
    before = takewhile(lambda each: not _is_filled_here(each, round_number), session.ahead[1:])
    is_needed = any(each.mould == step.mould and each.kind not in _AT_THE_HEATER for each in before)
    return 0 if is_needed else step.mould


def _is_of_its_cup(fill: FillView) -> bool:
    """Whether it is the cold cup that lets it run short: then the cup's own warning says so."""
    return fill.help is not None and fill.help.change is FillChange.REHEAT


def _cups(session: Session, shot: Step, bench: Bench) -> Iterator[BenchWarning]:
    """A cup on the heat is on its way; any other of this shot should be in its band."""
    low_c, high_c = session.job.plastic.band_c
    for part in shot.parts:
        temp_c = bench.cups_c.get(part)
        is_heated = session.step.kind is StepKind.HEAT and part in session.step.parts
        is_thrown = part in session.cups and session.is_scorched(part, session.cups[part].melt)
        if temp_c is None or part in bench.heating or is_heated or is_thrown:
            continue
        if temp_c < low_c:
            yield BenchWarning(
                kind=WarningKind.CUP_COLD,
                value=temp_c,
                limit=low_c,
                part=part,
                at_shot=session.step.kind in SHOTS and session.state is State.RUNNING,
                is_second=bench.coldest not in (None, part),
                came_back=session.visit.revisited,
            )
        elif temp_c > high_c:
            yield BenchWarning(kind=WarningKind.CUP_HOT, value=temp_c, limit=high_c, part=part)


def _seen_coming(session: Session, bench: Bench) -> Iterator[BenchWarning]:
    """What will be too late by the time of its shot, while something can still be done about it."""
    for part in (each for each in bench.cups_c if not session.is_scorched(each, session.cups[each].melt)):
        if session.waits_to_begin and part in session.step.parts:
            continue
        left_s, waits_s = bench.in_band_s[part], bench.rest.shot_in_s(part)
        if waits_s is not None and part not in bench.heating and 0 < left_s < waits_s - SLACK_S:
            yield BenchWarning(kind=WarningKind.CUP_LATE, value=waits_s, limit=left_s, part=part)
    for out in bench.out:
        core_s = bench.rest.core_in_s(out.round)
        if core_s is None:
            continue
        is_slow = bench.rest.behind_s is not None and bench.rest.behind_s >= BEHIND_S
        slowly_s = out.out_s + (1 + LATE_SHARE * is_slow) * core_s
        if out.out_s <= out.limit_s < slowly_s - SLACK_S:
            late_s = out.out_s + core_s
            yield BenchWarning(
                kind=WarningKind.SHELLS_LATE,
                value=late_s,
                limit=out.limit_s,
                round=out.round,
                is_second=spoilt_cup(session) is not None or late_s > out.limit_s + SLACK_S,
            )


def _heated_for(session: Session, bench: Bench) -> Step | None:
    """The shot whose cup is being heated, where its mould only waits for it and can be warmed meanwhile.
    None where nothing but shots warms a mould."""
    if session.job.plan.warming is WarmedBy.SHOTS:
        return None
    before = tuple(takewhile(lambda step: step.kind not in SHOTS, session.ahead))
    shot = next(iter(session.ahead[len(before) :]), None)
    if shot is None or any(step.kind in _TAKES_ITS_MOULD and step.mould == shot.mould for step in before):
        return None
    at_the_heater = session.step.parts if session.step.kind in _AT_THE_HEATER else ()
    return shot if {*at_the_heater, *bench.heating} & {*shot.parts} else None


def _mould(session: Session, shot: Step, bench: Bench, *, is_held_up: bool) -> Iterator[BenchWarning]:
    temp_c, high_c = bench.moulds_c.get(shot.mould), session.job.mould.warm_c[1]
    # A shot that fills is not held up to warm its mould.
    fills = bench.fill is not None and bench.fill.verdict is FillVerdict.FILLS
    if not (is_held_up and fills):
        yield from _cold_mould(session, shot, bench)
    if temp_c is not None and temp_c > high_c:
        yield BenchWarning(kind=WarningKind.MOULD_HOT, value=temp_c, limit=high_c, mould=shot.mould)
    elif shot.mould in bench.unread_s:
        yield BenchWarning(
            kind=WarningKind.MOULD_UNREAD,
            value=bench.unread_s[shot.mould],
            limit=high_c,
            mould=shot.mould,
            moulds=len(session.moulds),
            at_shot=session.step == shot,
            by=session.job.plan.warming,
        )


def _cold_mould(session: Session, shot: Step, bench: Bench) -> Iterator[BenchWarning]:
    """Scrap is shot to warm a mould, whatever it is."""
    temp_c, low_c = bench.moulds_c.get(shot.mould), session.job.mould.warm_c[0]
    if shot.kind is StepKind.WARM_UP_SHOT or _is_long_before(session, shot, bench.rest):
        return
    if temp_c is not None and temp_c < low_c - MOULD_SLACK_K:
        yield BenchWarning(
            kind=WarningKind.MOULD_COLD,
            value=temp_c,
            limit=low_c,
            mould=shot.mould,
            moulds=len(session.moulds),
            shot=shot.id,
            by=session.job.plan.warming,
        )


def _is_long_before(session: Session, shot: Step, rest: Retimed) -> bool:
    """Whether a scorched cup that cools first leaves longer until the shot than a mould takes to get warm from
    cold: warmed sooner it would only cool again."""
    warm_s = max((step.length_s for step in session.job.script if step.kind is StepKind.WARM_MOULD), default=0.0)
    if not warm_s or not (spoilt_cup(session) or session.waits_for_aside):
        return False
    steps_s = zip(rest.steps, rest.begin_s, strict=True)
    shot_s = next((in_s for step, in_s in steps_s if step.id == shot.id), None)
    if shot_s is None:
        # The present step: it is as far away as its end, the wait for a new cup included.
        shot_s = rest.begin_s[0] if rest.begin_s else 0.0
    return shot_s > warm_s


def _spent(session: Session, bench: Bench) -> Iterator[BenchWarning]:
    """What is thrown away in any case is not called spent as well."""
    for part in (each for each in bench.cups_c if not session.is_scorched(each, session.cups[each].melt)):
        share = bench.spent_pct[part]
        if share >= SPENT_PCT:
            yield BenchWarning(kind=WarningKind.HEAT_SPENT, value=share, limit=SPENT_PCT, part=part)
        elif share >= NEARLY_SPENT_PCT:
            yield BenchWarning(kind=WarningKind.HEAT_NEARLY_SPENT, value=share, limit=NEARLY_SPENT_PCT, part=part)
