"""When the steps still to come will begin, given what has really happened: a hold, a slow cup, a hot mould."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.plan.records import Shot
from bench.session.aside import old_cup
from bench.session.clocks import remaining_s
from bench.session.cooldown import anew_s, cool_down
from bench.session.pacing import Known, ends_s, heating_of
from bench.session.session import Session, State
from bench.session.setting import NEVER, set_factor
from bench.session.stamp import Stamp, span
from bench.session.step import Ending, Step
from bench.session.stepping import on_heat
from bench.session.trays import last_shot
from bench.session.warmth import anchored, cup_carried

NEXT_STEPS = 5

NEAR = 16
"""What stands further ahead is not begun out of its turn: the bench would be full of things begun."""

LEAST_S = 1.0
"""A clock that will run for less than this once it is reached is nothing to stand at."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Coming:
    """A step still to come, and in how many seconds it will begin; ``late_s`` is how long ago the clock was over
    that it waits for, 0 where that still runs."""

    step: Step
    in_s: float
    late_s: float = 0.0

    @property
    def title(self) -> str:
        """The step's own words."""
        return self.step.title

    @property
    def mould(self) -> int:
        """Which mould it is about."""
        return self.step.mould


@dataclass(frozen=True, kw_only=True, slots=True)
class Retimed:
    """The rest of a session as it is to be expected now.

    ``steps`` are those still to come and ``begin_s`` when each begins, ``coming`` the next of them that there will
    be something to do at. ``last_bait_s`` is until the last mould is open,
    ``rest_s`` until the last step, ``behind_s`` how much later that is than the script's own pace had it, negative
    for sooner; None where the script is left early. ``start_now`` is what the hands can do while the present clock
    runs.
    """

    steps: Sequence[Step]
    begin_s: Sequence[float]
    coming: tuple[Coming, ...]
    last_bait_s: float | None
    rest_s: float
    behind_s: float | None
    start_now: Step | None

    def shot_in_s(self, part: Part) -> float | None:
        """In how many seconds the part's cup is shot from next, without being heated before; None where it is
        heated first or not used any more."""
        for step, in_s in zip(self.steps, self.begin_s, strict=True):
            if part in step.parts:
                return in_s if step.kind in _SHOTS else None
        return None

    def core_in_s(self, round_number: int) -> float | None:
        """In how many seconds that round's core is shot; None once it is."""
        for step, in_s in zip(self.steps, self.begin_s, strict=True):
            if step.kind is StepKind.SHOT and step.shot is Shot.CORE and step.round == round_number:
                return in_s
        return None


def retime(session: Session, now: Stamp) -> Retimed:
    """The rest of the session, nothing of it once it is over."""
    if session.state.over or not session.visits:
        return Retimed(
            steps=(), begin_s=(), coming=(), last_bait_s=None, rest_s=0.0, behind_s=None, start_now=None
        )
    left_s = present_left_s(session, now)
    ahead = session.ahead[1:]
    known = _known(session, now, left_s)
    ends = ends_s(ahead, known, start_s=left_s)
    begins = [left_s, *ends][: len(ahead)]
    last = last_shot(session)
    opened = [end_s for step, end_s in zip(ahead, ends, strict=True) if _opens(step, last)]
    present = left_s if _opens(session.step, last) else None
    rest_s = ends[-1] if ends else left_s
    return Retimed(
        steps=ahead,
        begin_s=begins,
        coming=tuple(islice(_coming(ahead, begins, ends, known), NEXT_STEPS)),
        last_bait_s=opened[-1] if opened else present,
        rest_s=rest_s,
        behind_s=_behind_s(session, now, rest_s),
        start_now=_start_now(session, ahead, left_s),
    )


def _opens(step: Step, shot: Shot) -> bool:
    """Whether a mould is opened on what that shot filled."""
    return step.kind is StepKind.OPEN and step.shot is shot


def _coming(
    steps: Sequence[Step], begins: Sequence[float], ends: Sequence[float], known: Known
) -> Iterator[Coming]:
    over_s: dict[tuple[int, int], float] = {}
    for step, begin_s, end_s in zip(steps, begins, ends, strict=True):
        if step.kind is StepKind.SET and step.since in known.ended:
            length_s = step.length_s * known.longer.get(step.id, 1.0)
            over_s[step.mould, step.round] = -known.ended[step.since] - length_s
        if not step.passes or end_s - begin_s >= LEAST_S:
            late_s = over_s.get((step.mould, step.round), 0.0) if step.kind is StepKind.OPEN else 0.0
            yield Coming(step=step, in_s=begin_s, late_s=max(0.0, late_s))


def present_left_s(session: Session, now: Stamp) -> float:
    """What the present step will still take. A heating takes what is left of its bursts, a cup that was over its
    scorch limit what another takes after it; a hand that is late is taken to be about to finish."""
    step, cooling = session.step, cool_down(session, now)
    if cooling is not None:
        return anew_s(session, cooling) + (step.length_s if step.kind in _SHOTS else 0.0)
    if session.waits_for_aside:
        return _old_left_s(session, now) + remaining_s(session, now)
    if step.kind is StepKind.HEAT and step.parts[0] in session.cups:
        waits = session.waits_to_begin
        begun = on_heat(anchored(session, now), step, now) if waits else session
        legs = cup_carried(begun, step.parts[0], now).legs
        if legs:
            return sum(leg.seconds for leg in legs)
    return max(0.0, remaining_s(session, now))


def _old_left_s(session: Session, now: Stamp) -> float:
    """How long an old cup still stands on the heater."""
    old = old_cup(session, now)
    return 0.0 if old is None or old.left_s is None else old.left_s


def _known(session: Session, now: Stamp, left_s: float) -> Known:
    script, steps = session.job.script, session.ahead[1:]
    since = {step.since for step in steps if step.since} - {step.id for step in steps}
    ended: dict[str, float] = {session.step.id: left_s}
    for visit in reversed(session.visits[:-1]):
        step_id = script[visit.index].id
        if step_id in since and step_id not in ended and visit.left is not None:
            ended[step_id] = -span(visit.left, now).seconds
    return Known(
        ended=ended,
        heated=_heated_by_then(session, now, left_s),
        longer=dict(_longer(session, now, ended)),
    )


def _heated_by_then(session: Session, now: Stamp, left_s: float) -> Mapping[str, float]:
    """Before when no heating can be finished in its planned time, by whichever holds it up longest."""
    heated_s: dict[str, float] = {}
    for step_id, in_s in (*_heated(session, now, left_s), *_colder_than_planned(session, now, left_s)):
        heated_s[step_id] = max(in_s, heated_s.get(step_id, in_s))
    return heated_s


def _colder_than_planned(session: Session, now: Stamp, left_s: float) -> Iterator[tuple[str, float]]:
    """Cups that were read and will be on the heat for longer than their heating was planned to take: no shot is
    expected sooner than that. From cold the plan knows as much."""
    for part, known in session.cups.items():
        step = next((each for each in session.ahead[1:] if part in each.parts), None)
        is_of_it = step is not None and step.kind is StepKind.HEAT and step.melt == known.melt
        if step is None or not is_of_it or known.read_c is None:
            continue
        begins_s = 0.0 if known.bursting else left_s
        legs = on_heat(anchored(session, now), step, now).cups[part].legs
        yield step.id, begins_s + sum(leg.seconds for leg in legs if leg.heating) - step.length_s


def _heated(session: Session, now: Stamp, left_s: float) -> Iterator[tuple[str, float]]:
    """When the bursts are over that run by themselves, or will from the end of the present step on."""
    step = session.step
    free_s = _old_left_s(session, now)
    waiting = next((each for each in session.ahead[1:] if each.kind is StepKind.HEAT), None)
    if free_s and waiting is not None and not session.waits_for_aside:
        yield waiting.id, free_s
    if step.kind is StepKind.HEAT_ON and step.burst_s is not None:
        yield heating_of(step), left_s + step.burst_s
    for part, known in session.cups.items():
        if known.bursting:
            heat = next(
                (each for each in session.ahead if each.kind is StepKind.HEAT and each.parts == (part,)),
                None,
            )
            if heat is not None:
                yield heat.id, sum(leg.seconds for leg in cup_carried(session, part, now).legs)


def _longer(session: Session, now: Stamp, ended: Mapping[str, float]) -> Iterator[tuple[str, float]]:
    """How many times longer than planned the sets will take that still have to end; in a mould too hot for it
    nobody can tell."""
    stretch = session.corrections.set_factor
    for step in session.ahead[1:]:
        if step.kind is not StepKind.SET:
            continue
        factor = set_factor(session, step, now) if step.since in ended else 1.0
        longer = stretch * (1.0 if factor == NEVER else factor)
        if longer != 1.0:
            yield step.id, longer


def _behind_s(session: Session, now: Stamp, rest_s: float) -> float | None:
    if session.started is None or session.state is State.STOPPING:
        return None
    return span(_first_timed(session, now), now).seconds + rest_s - session.job.plan.total_s


def _first_timed(session: Session, now: Stamp) -> Stamp:
    """When the first step was entered that was planned to take any time: cards are read in the maker's own."""
    timed = (visit.entered for visit in session.visits if session.job.script[visit.index].length_s > 0)
    return next(timed, now)


def _start_now(session: Session, ahead: Sequence[Step], left_s: float) -> Step | None:
    """The first work by hand that waits for nothing that stands before it and fits into the present clock."""
    step = session.step
    if step.ending is not Ending.CLOCK or step.kind is StepKind.HOLD or left_s <= 0:
        return None
    busy = {*_touched(step)}
    for each in ahead[:NEAR]:
        if each.kind is StepKind.HEAT_OFF:
            return None
        if each.kind in _FREE and each.length_s <= left_s and not busy & {*_touched(each)}:
            return each
        busy |= {*_touched(each)}
    return None


def _touched(step: Step) -> Iterator[tuple[str, object]]:
    """What a step is about, so that it has to wait for what is about the same."""
    for part in step.parts:
        yield "cup", part
    if step.kind in _AT_THE_CUP:
        return
    yield "round", step.round
    if step.kind is not StepKind.LOOK_AT_BAITS:
        yield "mould", step.mould


_SHOTS = frozenset({StepKind.SHOT, StepKind.WARM_UP_SHOT})
_AT_THE_CUP = frozenset({StepKind.WEIGH, StepKind.HEAT_ON, StepKind.HEAT})
_FREE = frozenset({StepKind.WEIGH, StepKind.RODS_IN, StepKind.LOOK_AT_BAITS, StepKind.TRIM, StepKind.SHELLS_BACK})
