"""From a key or the passing of time to the event it means now.

The screen holds no rule: it asks here what one key does, and applies the event it gets.
"""

from __future__ import annotations

from dataclasses import replace

from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session.asking import INSISTED, LOOKED_AT, Asked, asks_first
from bench.session.beginning import begins
from bench.session.cautions import covered_by_acknowledgement
from bench.session.choices import core_is_open, round_of_trim
from bench.session.clocks import remaining_s as remaining_s
from bench.session.corrections import Corrected
from bench.session.events import (
    CautionsAcknowledged,
    Completed,
    CoreChosen,
    CorrectionRefused,
    CorrectionRestored,
    CupRead,
    CupThrown,
    Event,
    HeatBegun,
    Held,
    Left,
    MouldRead,
    ReadingWithdrawn,
    ReheatWanted,
    Resumed,
    Started,
    StepDone,
    TailsChosen,
    VerdictGiven,
    WentBack,
)
from bench.session.in_hand import cups_in_hand, other_than
from bench.session.misreadings import suggested
from bench.session.reheating import cold_cup, heating_before, spoilt_cup
from bench.session.rises import did_not_rise
from bench.session.session import Session, State, Visit
from bench.session.spoilt import strikable_here
from bench.session.stamp import Stamp, span
from bench.session.step import Ending, Step
from bench.session.trays import trays
from bench.session.verdicts import Subject, Verdict, options, standing
from bench.session.warmth import cup_carried


def forward(session: Session, at: Stamp) -> Event:
    """What the one key means: start, go on after a hold, finish the step, complete the session; at a cup that was
    over its scorch limit, that it is thrown away; at a heating that waits for it, that its cup is on the heat.

    The event may still be illegal (an unacknowledged caution, an alarm); applying it then says why.
    """
    if session.state is State.IDLE:
        return Started(at=at)
    if session.state is State.HELD:
        return Resumed(at=at)
    if session.next_step is None:
        return Completed(at=at)
    spoilt = spoilt_cup(session)
    if spoilt is not None:
        return CupThrown(at=at, part=spoilt)
    if begins(session, at):
        return HeatBegun(at=at, step=session.step.id)
    return StepDone(at=at, step=session.step.id, by=Ending.HAND)


def insist(session: Session, at: Stamp) -> Event:
    """What the key means that answers a question which the one key never does: what stands against it is known."""
    event, why = forward(session, at), asks_first(session, at)
    if isinstance(event, CupThrown):
        return replace(event, stays=why is Asked.SCORCHED)
    if isinstance(event, StepDone):
        return replace(event, as_it_is=why in INSISTED)
    return event


def hold_or_resume(session: Session, at: Stamp) -> Event:
    """What the hold key means."""
    return Resumed(at=at) if session.state is State.HELD else Held(at=at)


def back(session: Session, at: Stamp) -> WentBack | ReheatWanted | ReadingWithdrawn:
    """What the key back means: one step back; at a shot whose cup is under its band, that cup back on the heat. A
    shot that the maker has just come back to is not left for the heat again. After a reading over the scorch limit
    it means that the reading was wrong, at its own step and at one that would throw its cup away."""
    read = strikable_here(session)
    if read is not None:
        return ReadingWithdrawn(at=at, part=read.part, temp_c=read.temp_c)
    stays = not session.visits or session.visit.revisited
    return (None if stays else reheat(session, at)) or WentBack(at=at)


def reheat(session: Session, at: Stamp) -> ReheatWanted | None:
    """The cup of the present shot that is under its band, back on the heat; None where none can go there."""
    cold = cold_cup(session, at) if session.visits else None
    if cold is None or session.alarm or heating_before(session, cold) is None:
        return None
    return ReheatWanted(at=at, part=cold)


def reheat_after_coming_back(session: Session, at: Stamp) -> ReheatWanted | None:
    """The same at a shot that the maker has come back to, where the key back goes further back."""
    return reheat(session, at) if session.visits and session.visit.revisited else None


def left(session: Session, at: Stamp) -> Left | None:
    """That the screen is left with this session under way; None where there is nothing to come back to."""
    return Left(at=at) if session.visits and not session.state.over else None


def is_closing(session: Session) -> bool:
    """Whether the closing steps are under way: a stop would only lead to them."""
    if session.closing:
        return True
    ahead = session.job.script[: session.visit.index + 1] if session.visits else ()
    return any(step.kind is StepKind.HEAT_OFF for step in ahead)


def acknowledge(session: Session, at: Stamp) -> Event | None:
    """What the acknowledging key means; None when there is nothing to acknowledge."""
    names = covered_by_acknowledgement(session, at)
    return CautionsAcknowledged(at=at, cautions=names) if names or session.alarm else None


def due(session: Session, now: Stamp) -> Event | None:
    """The event that time or a reading has brought about by itself, if any.

    Nothing ends by itself while the session is held, or while an alarm or a doubted reading stands. A step that
    the maker has come back to ends by no clock, and by no reading from before.
    """
    if session.state not in (State.RUNNING, State.STOPPING) or session.alarm or session.doubted:
        return None
    step, visit = session.step, session.visit
    if session.next_step is None:
        return None
    if step.ending is Ending.CLOCK and not visit.revisited and remaining_s(session, now) <= 0:
        return StepDone(at=now, step=step.id, by=Ending.CLOCK)
    if step.band_c is not None and spoilt_cup(session) is None and _in_band(session, step, visit):
        return StepDone(at=now, step=step.id, by=Ending.READING)
    return None


def verdict(session: Session, digit: int, at: Stamp) -> VerdictGiven | None:
    """The verdict under that digit at a looking step; None where the digit means none."""
    offered = verdicts_offered(session)
    subject = looked_at(session)
    if subject is None or not 1 <= digit <= len(offered):
        return None
    return VerdictGiven(at=at, round=session.step.round, subject=subject, verdict=offered[digit - 1])


def looked_at(session: Session) -> Subject | None:
    """What the present step judges; None where it judges nothing."""
    return LOOKED_AT.get(session.step.kind)


def verdicts_offered(session: Session) -> tuple[Verdict, ...]:
    """The verdicts of the present step, the first under digit 1; empty where it judges nothing."""
    subject = looked_at(session)
    return options(subject, session.job.recipe.build) if subject else ()


def late_verdict(session: Session, digit: int, at: Stamp) -> VerdictGiven | None:
    """The verdict under that digit on the baits of the last round; None where the digit means none.

    A bait shows its faults after the bench is cold, so verdicts outlive the session.
    """
    number = last_round(session)
    offered = options(Subject.BAITS, session.job.recipe.build)
    if number is None or not 1 <= digit <= len(offered):
        return None
    return VerdictGiven(at=at, round=number, subject=Subject.BAITS, verdict=offered[digit - 1])


def last_round(session: Session) -> int | None:
    """The round whose baits came out last, which are judged once all is over; None where none did."""
    laid_out = trays(session)
    return laid_out.rounds[-1] if laid_out else None


def is_given(session: Session, verdict: VerdictGiven) -> bool:
    """Whether that verdict stands for that round already: said once more it says nothing."""
    return verdict.verdict in standing(session.verdicts, verdict.round, verdict.subject)


def tails(session: Session, cut: int, at: Stamp) -> TailsChosen | None:
    """The choice of that many cut tails; None where a digit does not mean tails: once the shells go back in, what
    is typed is a reading more likely than a change of mind."""
    round_number = round_of_trim(session) if session.step.kind is StepKind.TRIM else 0
    plan = session.job.plan
    if not round_number or plan.volumes.tail_ml <= 0 or not 0 <= cut <= plan.cavities:
        return None
    return TailsChosen(at=at, round=round_number, cut=cut)


def next_core(session: Session, at: Stamp) -> CoreChosen | None:
    """The choice of the core colour after the present one, round and round; None once it is settled."""
    names = sorted(session.job.cores)
    if not core_is_open(session) or len(names) < 2:
        return None
    place = names.index(session.core) if session.core in names else -1
    return CoreChosen(at=at, recipe=names[(place + 1) % len(names)], weigh_anew=True)


def reading(session: Session, temp_c: float, at: Stamp) -> CupRead | MouldRead:
    """What a thermometer figure is about when nothing else is said: the mould while it is warmed or rests, else
    the cup of this step or of the next one that has a cup, of several the one in question, else the mould."""
    if session.step.kind in _MOULD_KINDS:
        return mould_reading(session, temp_c, at)
    cups = cups_in_hand(session, at)
    return CupRead(at=at, part=cups[0], temp_c=temp_c) if cups else mould_reading(session, temp_c, at)


def other_reading(session: Session, about: CupRead | MouldRead, at: Stamp) -> CupRead | MouldRead:
    """The same figure said to be of the next cup in hand; one of a mould becomes one of a cup."""
    if isinstance(about, MouldRead):
        return reading(session, about.temp_c, at)
    other = other_than(about.part, cups_in_hand(session, at))
    return about if other is None else replace(about, part=other)


def begun_by_digits(session: Session, at: Stamp) -> CupRead | MouldRead | None:
    """The reading that digits alone begin: the one to repeat, that of a step with a band, or at a step whose hands
    have no cup and no digit of their own that of a cup whose burst runs by itself or did. None where digits begin
    none."""
    if session.doubted is not None:
        return session.doubted
    if session.step.band_c:
        return reading(session, 0.0, at)
    if session.step.parts or session.step.kind is StepKind.TRIM or looked_at(session) is not None:
        return None
    bursts = (part for part in session.cups if cup_carried(session, part, at).by_itself)
    return next((CupRead(at=at, part=part, temp_c=0.0) for part in bursts), None)


def mould_reading(session: Session, temp_c: float, at: Stamp) -> MouldRead:
    """A figure for the mould of the present step; at a cup, for the one that is shot into next."""
    about = next((step for step in session.ahead if step.kind not in _AT_A_CUP), session.step)
    return MouldRead(at=at, mould=about.mould, temp_c=temp_c)


def accept_suggestion(
    session: Session, at: Stamp, units: UnitSystem = UnitSystem.METRIC
) -> CupRead | MouldRead | None:
    """What a yes to the question about the doubted reading says: it was meant as suggested, in those units, or the
    heater was off and the reading is true. Either will be believed; None where nothing was asked."""
    meant = suggested(session, at, units)
    if meant is None and session.doubted is not None and did_not_rise(session, session.doubted):
        return replace(session.doubted, at=at, typed_in=None)
    return meant


def refuse_or_restore(session: Session, of: Corrected, at: Stamp) -> CorrectionRefused | CorrectionRestored:
    """What the maker's word on a correction means: not to use it, or to use it again."""
    return CorrectionRestored(at=at, of=of) if of in session.refused else CorrectionRefused(at=at, of=of)


_AT_A_CUP = frozenset({StepKind.WEIGH, StepKind.HEAT_ON, StepKind.HEAT})
_MOULD_KINDS = frozenset({StepKind.WARM_MOULD, StepKind.REST_MOULD})


def _in_band(session: Session, step: Step, visit: Visit) -> bool:
    if step.band_c is None:
        return False
    low, high = step.band_c
    readings: tuple[CupRead | MouldRead, ...]
    if step.parts:
        readings = tuple(known for known in session.cup_readings if known.part is step.parts[0])
    else:
        readings = tuple(known for known in session.mould_readings if known.mould == step.mould)
    if not readings:
        return False
    latest, since = readings[-1], visit.returned or visit.entered
    fresh = span(since, latest.at).seconds > 0 or latest.at == since
    return fresh and low <= latest.temp_c <= high
