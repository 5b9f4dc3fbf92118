"""The choices that stay open until the shells are seen, and what each does to the amounts.

At the trim step the maker keeps or cuts the tails of some or all cavities; while the core cup is cold, another
core colour may go in. The core cup was planned for the recipe's own choice, so the step says whether it holds
enough for this one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from bench.model.colourant import Colourant
from bench.model.recipe import Part, PartRecipe, Tail
from bench.model.step_kind import StepKind
from bench.plan.amounts import doses
from bench.plan.records import DosePlan, Melt, RoundPlan, Shot, ShotPlan
from bench.session.session import Session, Visit

TRIM_KINDS = frozenset({StepKind.LOOK_AT_SHELLS, StepKind.TRIM, StepKind.SHELLS_BACK})
"""Steps at which the tails of the round's shells are still a matter of scissors."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TailEffect:
    """What cutting ``cut`` tails means: the core shot it needs, what the core cup holds for this and the later
    rounds of its melt, and the shell colour that comes off."""

    cut: int
    of: int
    needs_ml: float
    holds_ml: float
    later_ml: float
    trimmed_ml: float

    @property
    def enough(self) -> bool:
        """Whether the cup holds this shot."""
        return self.holds_ml >= self.needs_ml

    @property
    def enough_for_all(self) -> bool:
        """Whether it also holds the later rounds of its melt, as they were planned."""
        return self.holds_ml >= self.needs_ml + self.later_ml


def round_of_trim(session: Session) -> int:
    """The round whose tails may be chosen now; 0 when none may."""
    return session.step.round if session.visits and session.step.kind in TRIM_KINDS else 0


def core_is_open(session: Session) -> bool:
    """Whether another core colour may still be chosen: its cup for the present round is cold."""
    if not session.job.recipe.build.has_core or not session.visits:
        return False
    round_number = max(1, session.step.round)
    return not session.has_heated(Part.CORE, session.job.plan.melt(Part.CORE, round_number).number)


def mixed_core(session: Session) -> str | None:
    """The recipe in whose colour the core cup of the present round is mixed already; None while it is not."""
    if not session.visits:
        return None
    melt = session.job.plan.melt(Part.CORE, max(1, session.step.round)).number
    if melt in session.core_weighed or session.weighing(Part.CORE, melt) is not None:
        return session.core_weighed.get(melt)
    # Without a step of its own the first cup is weighed out before anything is hot.
    readied = any(
        session.job.script[visit.index].kind is StepKind.READY and visit.left for visit in session.visits
    )
    return session.job.recipe.name if readied and melt == 1 else None


def cut_tails(session: Session, round_number: int) -> int:
    """How many tails of that round are cut: as chosen, or as the recipe plans."""
    plan = session.job.plan
    planned = plan.cavities if plan.build.has_core and plan.tail is Tail.CUT else 0
    return session.tails.get(round_number, planned)


def shot_ml(session: Session, round_number: int, shot: ShotPlan) -> float:
    """What that shot takes from its cups, top-off included, with the tails of the round as they are chosen."""
    whole = shot.volume_ml + shot.top_off_ml
    plan = session.job.plan
    if shot.shot is not Shot.CORE:
        return whole
    planned = plan.cavities if plan.tail is Tail.CUT else 0
    feed = whole / shot.volume_ml if shot.volume_ml else 1.0
    return whole + (cut_tails(session, round_number) - planned) * plan.volumes.tail_ml * feed


def shot_each_ml(session: Session) -> Mapping[Part, float]:
    """What the present shot takes from each of its cups, top-off included."""
    step = session.step
    if step.shot is None or not step.round:
        whole_ml = step.shot_ml or 0.0
    else:
        whole_ml = _step_ml(session, step.round, step.shot)
    return {part: whole_ml * share(session, part) for part in step.parts}


def share(session: Session, part: Part) -> float:
    """The part's share of its shots, 0 to 1. The core's shot is all its own."""
    if part is Part.CORE:
        return 1.0
    return session.job.recipe.parts[part].share_pct / 100


def drawn_ml(session: Session, part: Part, melt: Melt) -> float:
    """What has been shot from that melt so far, out of a cup of it that was thrown away since included."""
    return _drawn_ml(session, part, melt, session.visits)


def _drawn_ml(session: Session, part: Part, melt: Melt, visits: Iterable[Visit]) -> float:
    total = 0.0
    for visit in visits:
        step = session.job.script[visit.index]
        if visit.left is None or visit.by is None or part not in step.parts or step.shot_ml is None:
            continue
        if step.kind is StepKind.WARM_UP_SHOT and step.melt == melt.number:
            total += step.shot_ml * share(session, part)
        elif step.kind is StepKind.SHOT and melt.first_round <= step.round <= melt.last_round:
            total += _step_ml(session, step.round, step.shot) * share(session, part)
    return total


def held_ml(session: Session, part: Part, melt: Melt) -> float:
    """What that melt still holds for shooting: what clings to cup and injector is left out."""
    station = session.job.station
    clinging = station.vessel.residue_ml + station.injector.residue_ml
    return max(0.0, melt.volume_ml - clinging - drawn_ml(session, part, melt))


def filled(session: Session, melt: Melt) -> Melt:
    """That melt as its cup is filled: as planned, or where it is weighed anew for no more than what the shots
    before did not take."""
    since = session.anew_from.get((melt.part, melt.number))
    gone_ml = _drawn_ml(session, melt.part, melt, session.visits[:since]) if since is not None else 0.0
    if gone_ml <= 0 or melt.volume_ml <= 0:
        return melt
    part_left = max(0.0, 1 - gone_ml / melt.volume_ml)
    return replace(
        melt,
        volume_ml=melt.volume_ml * part_left,
        mass_g=melt.mass_g * part_left,
        base_g=melt.base_g * part_left,
        doses=tuple(_less(dose, part_left) for dose in melt.doses),
        first_round=_first_open_round(session, melt),
    )


def _less(dose: DosePlan, part_left: float) -> DosePlan:
    drops = None if dose.drops is None else dose.drops * part_left
    return replace(dose, mass_g=dose.mass_g * part_left, drops=drops)


def _first_open_round(session: Session, melt: Melt) -> int:
    """The first of its rounds that the melt was not shot in; its last where it was shot in all."""
    steps = ((visit, session.job.script[visit.index]) for visit in session.visits if visit.left and visit.by)
    shot = {step.round for _, step in steps if step.kind is StepKind.SHOT and melt.part in step.parts}
    rounds = range(melt.first_round, melt.last_round)
    return next((each for each in rounds if each not in shot), melt.last_round)


def tail_effect(session: Session, round_number: int) -> TailEffect:
    """What the round's present choice of tails means for the core cup."""
    plan = session.job.plan
    melt = plan.melt(Part.CORE, round_number)
    cut = cut_tails(session, round_number)
    later = sum(
        _step_ml(session, other.round, Shot.CORE)
        for other in plan.rounds_table
        if round_number < other.round <= melt.last_round
    )
    return TailEffect(
        cut=cut,
        of=plan.cavities,
        needs_ml=_step_ml(session, round_number, Shot.CORE),
        holds_ml=held_ml(session, Part.CORE, melt),
        later_ml=later,
        trimmed_ml=cut * plan.volumes.tail_ml,
    )


def melt_doses(session: Session, melt: Melt) -> tuple[DosePlan, ...]:
    """What colours to weigh into that melt, with the core as it is chosen now."""
    if melt.part is not Part.CORE or session.core in ("", session.job.recipe.name):
        return melt.doses
    return _core_doses(session.job.cores[session.core], melt, session.job.colourants)


def _core_doses(core: PartRecipe, melt: Melt, colourants: Mapping[str, Colourant]) -> tuple[DosePlan, ...]:
    return doses(core, mass_g=melt.mass_g, colourants=colourants)


def _step_ml(session: Session, round_number: int, shot: Shot | None) -> float:
    rounds: tuple[RoundPlan, ...] = session.job.plan.rounds_table
    round_plan = rounds[round_number - 1]
    return shot_ml(session, round_number, next(plan for plan in round_plan.shots if plan.shot is shot))
