"""What a screen needs now, computed from (session, now): numbers and words, nothing rounded and nothing drawn."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from bench.model.caution import Caution
from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import cautions, drive
from bench.session.aim import Aim, aim
from bench.session.beginning import burst_at_hand_s
from bench.session.bodies import EMPTY_ML, held_of_melt_ml
from bench.session.bond import BondView, bond_view
from bench.session.bursts import BurstView, burst_view
from bench.session.cooldown import CoolDown, cool_down
from bench.session.corrections import Corrections
from bench.session.doubt import Doubt, doubt_of
from bench.session.events import CupRead, MouldRead
from bench.session.feed import TopOffView, top_off_view
from bench.session.fill import FillView, fill_view
from bench.session.handling import TouchView, touch_view
from bench.session.in_hand import InHand, in_hand
from bench.session.overheated import coming_as_told, next_as_told, step_as_told
from bench.session.reheating import left_in_band_s
from bench.session.retime import Coming, Retimed, retime
from bench.session.session import Session, State, Warmth
from bench.session.shells import ShellsOut, shells_out
from bench.session.spent import pct_of
from bench.session.spoilt import strikable_here
from bench.session.stamp import Stamp, jump_s, span
from bench.session.step import Ending, Step
from bench.session.stepping import first_burst_s
from bench.session.to_weigh import WeighView, weigh_view
from bench.session.trays import Trays, trays
from bench.session.trim import TrimView, trim_view
from bench.session.verdicts import Verdict, standing
from bench.session.warmth import Estimate, cup_carried, mould_now, vessel_now
from bench.session.warned import MOULD_SLACK_K, Bench, BenchWarning, WarningKind, warnings

AS_READ_S = 30.0
"""Starting value: so long a figure that was typed is shown as it was read."""

MOMENTS_KEPT = 4
"""The screen and the watch over it look at one moment each, and the latest of both are asked for again."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CupView:
    """One cup. ``temp_c`` is None until it is heated; ``in_band_s`` how long it stays in the band off the heat;
    ``age_s`` how old its last reading is, None without one. ``shots_left`` counts rounds it still serves, none
    once it was over its scorch limit, and None where no shot comes any more: what is left may be poured out.
    ``heating`` says that it is being brought into its band, ``heater_on`` that its heater is on at this moment.
    ``spread_k`` is one sigma of the estimate, ``spent_pct`` how much of what its plastic stands heat has used up;
    it may pass 100. ``burst`` is the burst that runs by itself while the hands do something else, or did: None
    once the cup is stirred and read; ``burst_over_s`` is how long ago it ended, 0 while it runs.
    ``is_scorched`` says that it was over its scorch limit."""

    part: Part
    temp_c: float | None
    heating: bool
    heater_on: bool
    in_band_s: float
    age_s: float | None
    held_ml: float
    shots_left: int | None
    spread_k: float
    spent_pct: float
    burst: BurstView | None
    burst_over_s: float
    is_scorched: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class MouldView:
    """A mould: its number, its estimate with one sigma of it, and where that lies against its window (-1 below, 0
    inside, 1 above). So little under ``low_c``, the lower end of that, that a thermometer could not tell, it still
    counts as inside. ``warmed_s`` is how long it was warmed since it was last read, where for that it may be above
    its window (else None), ``is_warmed`` that it is still, ``at_least`` that it is no colder than this and nobody
    knows how much hotter."""

    number: int
    temp_c: float
    against_window: int
    low_c: float
    age_s: float | None
    spread_k: float
    warmed_s: float | None = None
    is_warmed: bool = False
    at_least: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class View:
    """The session as it stands at one moment.

    ``remaining_s`` is what is left of the step's length, negative once it is over, None for a step without one;
    it is a deadline where ``counts`` is True and a guess at the hands' time elsewhere. ``card`` is the opening
    card to read, ``reminders`` what has come round again, ``next_reminder`` what will and in how many seconds,
    ``alarm`` the reading over the scorch limit, ``strikable`` one that the maker may still call wrong;
    ``cool_down`` is the cup of this step that was over that limit and cools before it is thrown away, ``in_hand``
    are the cups that can be read. ``estimated`` says that a restart of the machine left only the
    wall clock to tell, ``clock_jump_s`` that the wall clock was moved.

    ``coming`` are the next steps with when each is expected to begin, ``last_bait_s`` is until the last mould is
    open (None once it is), ``rest_s`` until the end of the session, ``behind_s`` how much later that is than the
    script's own pace had it (negative: sooner; None when the session is left early). ``start_now`` is a later step
    that the hands can do while the present clock runs, ``set_burst_s`` how long a burst to set at a HEAT_ON, or at
    a heating that waits for it, ``aim`` what a cup should read whose shot is not next, ``begun_by_digits`` the
    reading that digits alone begin.
    """

    state: State
    step: Step
    next_step: Step | None
    round: int
    rounds: int
    elapsed_s: float
    remaining_s: float | None
    revisited: bool
    cautions: tuple[Caution, ...]
    card: tuple[Caution, ...]
    cards_left: int
    reminders: tuple[Caution, ...]
    next_reminder: tuple[Caution, float] | None
    alarm: CupRead | None
    alarm_cautions: tuple[Caution, ...]
    strikable: CupRead | None
    cool_down: CoolDown | None
    in_hand: InHand
    doubt: Doubt | None
    cups: tuple[CupView, ...]
    moulds: tuple[MouldView, ...]
    shells_out: tuple[ShellsOut, ...]
    trays: Trays | None
    verdicts_offered: tuple[Verdict, ...]
    verdicts_given: tuple[Verdict, ...]
    trim: TrimView | None
    weigh: WeighView | None
    estimated: bool
    clock_jump_s: float
    burst: BurstView | None
    fill: FillView | None
    bond: BondView | None
    top_off: TopOffView | None
    touch: TouchView | None
    warnings: tuple[BenchWarning, ...]
    corrections: Corrections
    coming: tuple[Coming, ...]
    last_bait_s: float | None
    rest_s: float
    behind_s: float | None
    start_now: Step | None
    set_burst_s: float | None
    aim: Aim | None
    begun_by_digits: CupRead | MouldRead | None

    @property
    def counts(self) -> bool:
        """Whether something else than the hands ends the step."""
        return self.step.ending is not Ending.HAND

    @property
    def is_spoilt(self) -> bool:
        """Whether the cup of this step was over its scorch limit and is thrown away."""
        return self.cool_down is not None

    @property
    def is_held_up(self) -> bool:
        """Whether the present heating has not begun, because an old cup stands on the heater."""
        return self.in_hand.old is not None and self.in_hand.old.holds_up

    @property
    def is_to_begin(self) -> bool:
        """Whether a heating waits for the press that begins its burst."""
        return self.step.kind is StepKind.HEAT and bool(self.set_burst_s) and self.state is State.RUNNING

    @property
    def begins(self) -> bool:
        """Whether the one key says that the cup of the present heating is on the heat."""
        is_stirred = self.burst is not None and self.burst.waits and self.state is State.RUNNING
        return self.is_held_up or self.is_to_begin or is_stirred

    @property
    def is_solid(self) -> bool:
        """Whether a cup is to be shot that does not flow."""
        return self.in_hand.is_solid

    @property
    def is_reheated_by_back(self) -> bool:
        """Whether a shot waits for a cup under its band: the key back puts that on the heat."""
        cold = (each for each in self.warnings if each.kind is WarningKind.CUP_COLD and each.at_shot)
        return any(not each.came_back for each in cold)


def view(session: Session, now: Stamp, units: UnitSystem = UnitSystem.METRIC) -> View:
    """The session at that moment. Needs one that has started. ``units`` are those that readings are typed in.

    It is kept while it may be asked for again: whoever looks at one session at one moment shares it.
    """
    return _reckoned(session, now, units)


@lru_cache(maxsize=MOMENTS_KEPT)
def _reckoned(session: Session, now: Stamp, units: UnitSystem) -> View:
    step, cups = step_as_told(session, now), tuple(_cup(session, part, now) for part in _parts(session))
    moulds, out, hand = _moulds(session, now), tuple(shells_out(session, now)), in_hand(session, now)
    fill, bond, rest = fill_view(session, now), bond_view(session, now), retime(session, now)
    return View(
        state=session.state,
        step=step,
        next_step=next_as_told(session),
        round=_round(session),
        rounds=session.job.plan.rounds,
        elapsed_s=span(session.started or now, (session.last or now) if session.state.over else now).seconds,
        remaining_s=drive.remaining_s(session, now) if step.length_s > 0 and not session.state.over else None,
        revisited=session.visit.revisited,
        cautions=cautions.of_the_moment(session, now),
        card=cautions.opening_card(session) if step.kind is StepKind.CAUTIONS else (),
        cards_left=_cards_left(session),
        reminders=cautions.reminders_due(session, now),
        next_reminder=cautions.next_reminder(session, now),
        alarm=session.alarm,
        alarm_cautions=cautions.over_scorch(session) if session.alarm else (),
        strikable=strikable_here(session),
        cool_down=cool_down(session, now),
        in_hand=hand,
        doubt=doubt_of(session, now, units),
        cups=cups,
        moulds=moulds,
        shells_out=out,
        trays=trays(session),
        verdicts_offered=drive.verdicts_offered(session),
        verdicts_given=_verdicts_given(session),
        trim=trim_view(session),
        weigh=weigh_view(session),
        estimated=span(session.started or now, now).estimated,
        clock_jump_s=jump_s(session.last or now, now),
        burst=_burst(session, now),
        fill=fill,
        bond=bond,
        top_off=top_off_view(session, now),
        touch=touch_view(session, now),
        warnings=warnings(session, _bench(cups, moulds, out, fill, bond, rest, hand.cold)),
        corrections=session.corrections,
        coming=coming_as_told(session, rest.coming),
        last_bait_s=rest.last_bait_s,
        rest_s=rest.rest_s,
        behind_s=rest.behind_s,
        start_now=rest.start_now,
        set_burst_s=_set_burst_s(session, now),
        aim=aim(session, rest),
        begun_by_digits=drive.begun_by_digits(session, now),
    )


def _set_burst_s(session: Session, now: Stamp) -> float | None:
    if session.step.kind is StepKind.HEAT_ON:
        return first_burst_s(session, session.step, now)
    return burst_at_hand_s(session, now)


def _verdicts_given(session: Session) -> tuple[Verdict, ...]:
    subject = drive.looked_at(session)
    return standing(session.verdicts, session.step.round, subject) if subject else ()


def _round(session: Session) -> int:
    if session.step.round:
        return session.step.round
    reached = [session.job.script[visit.index].round for visit in session.visits]
    return max(reached, default=0)


def _cards_left(session: Session) -> int:
    return sum(
        any(caution.name in session.unacknowledged for caution in card)
        for card in cautions.opening_groups(session)
    )


def _parts(session: Session) -> tuple[Part, ...]:
    return tuple(part_plan.part for part_plan in session.job.plan.parts)


def _cup(session: Session, part: Part, now: Stamp) -> CupView:
    carried = cup_carried(session, part, now) if part in session.cups else None
    estimate = vessel_now(session, part, now)
    holds = held_of_melt_ml(session, part, carried.melt) if carried else 0.0
    per_round = session.job.plan.part(part).per_round_ml
    temp_c = as_read_c(session.cups[part], estimate) if estimate else None
    temp_c = None if carried is not None and carried.is_as_filled else temp_c
    is_spoilt = carried is not None and session.is_scorched(part, carried.melt)
    return CupView(
        part=part,
        temp_c=temp_c,
        heating=carried is not None and carried.target_c is not None,
        heater_on=carried is not None and carried.target_c is not None and burst_view(carried.legs).heating,
        in_band_s=left_in_band_s(session, part, estimate.temp_c) if estimate else 0.0,
        age_s=estimate.age_s if estimate else None,
        held_ml=holds,
        shots_left=_shots_left(session, holds, per_round, is_spoilt=is_spoilt),
        spread_k=estimate.spread_k if estimate else 0.0,
        spent_pct=pct_of(session.job, estimate.spent_min) if estimate else 0.0,
        burst=burst_view(carried.legs) if carried and carried.by_itself else None,
        burst_over_s=carried.off_s if carried else 0.0,
        is_scorched=is_spoilt,
    )


def _shots_left(session: Session, holds_ml: float, per_round_ml: float, *, is_spoilt: bool) -> int | None:
    if drive.is_closing(session) or session.state.over:
        return None
    return 0 if is_spoilt or per_round_ml <= 0 else int(holds_ml / per_round_ml + 1e-6)


def as_read_c(known: Warmth, estimate: Estimate) -> float:
    """The estimate; for as long as the maker may still look from the thermometer to the screen it goes through the
    figure that was typed. Reckoned is with the estimate, in which a reading counts by its noise."""
    is_fresh = estimate.age_s is not None and estimate.age_s < AS_READ_S
    return estimate.temp_c + known.read_off_k if is_fresh else estimate.temp_c


def _moulds(session: Session, now: Stamp) -> tuple[MouldView, ...]:
    return tuple(_mould(session, number, now) for number in sorted(session.moulds))


def _mould(session: Session, number: int, now: Stamp) -> MouldView:
    estimate = mould_now(session, now, number)
    assert estimate is not None, "asked only for moulds that the session knows"
    low, high = session.job.mould.warm_c
    temp_c = as_read_c(session.moulds[number], estimate)
    return MouldView(
        number=number,
        temp_c=temp_c,
        against_window=(temp_c > high) - (temp_c < low - MOULD_SLACK_K),
        low_c=low,
        age_s=estimate.age_s,
        spread_k=estimate.spread_k,
        warmed_s=estimate.warmed_s,
        is_warmed=session.moulds[number].target_c is not None,
        at_least=estimate.rise_k > MOULD_SLACK_K,
    )


def _bench(
    cups: tuple[CupView, ...],
    moulds: tuple[MouldView, ...],
    out: tuple[ShellsOut, ...],
    fill: FillView | None,
    bond: BondView | None,
    rest: Retimed,
    coldest: Part | None,
) -> Bench:
    return Bench(
        cups_c={
            cup.part: cup.temp_c
            for cup in cups
            if cup.temp_c is not None and (cup.heating or cup.held_ml >= EMPTY_ML)
        },
        moulds_c={mould.number: mould.temp_c for mould in moulds},
        unread_s={mould.number: mould.warmed_s for mould in moulds if mould.warmed_s is not None},
        heating=frozenset(cup.part for cup in cups if cup.heating),
        in_band_s={cup.part: cup.in_band_s for cup in cups},
        spent_pct={cup.part: cup.spent_pct for cup in cups},
        fill=fill,
        bond=bond,
        out=out,
        rest=rest,
        coldest=coldest,
    )


def _burst(session: Session, now: Stamp) -> BurstView | None:
    step = session.step
    if step.kind is not StepKind.HEAT or step.parts[0] not in session.cups or session.waits_to_begin:
        return None
    legs = cup_carried(session, step.parts[0], now).legs
    return None if legs and legs[0].waits else burst_view(legs)
