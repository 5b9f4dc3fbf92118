"""Whether the shot at hand will fill its mould, from what cup and mould are estimated to be now."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from bench.model.step_kind import StepKind
from bench.physics.filling import SHORT_BELOW, will_fill
from bench.plan import pace
from bench.plan.records import Shot
from bench.session.bodies import substance
from bench.session.choices import cut_tails
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.step import Step
from bench.session.warmth import cup_now, mould_now

FILLS_FROM = 0.65
"""Starting value: with this much of the thinnest way open, a skin half as thick again still leaves half of it."""

FASTEST_PUSH = 0.5
"""Starting value: a push can be made in half of its usual time, not in less without whirling in air."""

LEAST_GAIN = 0.01
"""A change that opens less than this of the way is no help."""

LEAST_K = 1.0
"""Starting value: nobody can make a mould or a cup warmer by less than this."""

_HALVINGS = 12


class FillVerdict(StrEnum):
    """What is to be expected of thin tails."""

    FILLS = "fills"
    MARGINAL = "marginal"
    SHORT = "will run short"


class FillChange(StrEnum):
    """What can be done about it."""

    MOULD = "a warmer mould"
    PLASTIC = "hotter plastic"
    REHEAT = "its cup reheated into its band"
    PUSH = "a faster push"


@dataclass(frozen=True, kw_only=True, slots=True)
class FillHelp:
    """The one change that helps most: ``by`` so many kelvin, or seconds less of pushing, and what is open then."""

    change: FillChange
    by: float
    open_fraction: float


@dataclass(frozen=True, kw_only=True, slots=True)
class FillView:
    """How much of the thinnest way is still open at the end of the push. ``help`` is None where it fills, and
    where nothing within window and band would help."""

    open_fraction: float
    verdict: FillVerdict
    help: FillHelp | None


def shot_ahead(session: Session) -> Step | None:
    """The shot of this step or of the next one; None at any other."""
    for step in (session.step, session.next_step):
        if step is not None and step.kind is StepKind.SHOT:
            return step
    return None


def fill_view(session: Session, now: Stamp) -> FillView | None:
    """Whether the shot of this or of the next step fills; None at any other step.

    Where its cup is on the heat it is taken to come to the middle of its band.
    """
    shot = shot_ahead(session)
    if shot is None or session.state.over:
        return None
    mould = mould_now(session, now, shot.mould)
    if mould is None:
        return None
    way = _Way(session, shot, mould_c=mould.temp_c, plastic_c=plastic_c(session, shot, now))
    is_open = way.open_fraction()
    if is_open >= FILLS_FROM:
        return FillView(open_fraction=is_open, verdict=FillVerdict.FILLS, help=None)
    verdict = FillVerdict.MARGINAL if is_open >= SHORT_BELOW else FillVerdict.SHORT
    return FillView(open_fraction=is_open, verdict=verdict, help=way.best_help(is_open))


def plastic_c(session: Session, shot: Step, now: Stamp) -> float:
    """The coldest of that shot's cups, degC: the middle of the band for one that is heated before it."""
    ahead = session.ahead
    heated = {step.parts[0] for step in ahead[: ahead.index(shot)] if step.kind is StepKind.HEAT}
    cups = {part: cup_now(session, part, now) for part in shot.parts if part not in heated}
    known = [cup.temp_c for cup in cups.values() if cup is not None]
    return min([*known, *([session.job.plastic.shot_c] if len(known) < len(shot.parts) else [])])


class _Way:
    """The thinnest way of one shot, and what would open it."""

    def __init__(self, session: Session, shot: Step, *, mould_c: float, plastic_c: float) -> None:
        job = session.job
        self._plastic = substance(job)
        self._gel_c = job.plastic.gel_c
        self._passage_mm = _passage_mm(session, shot)
        self._fill_s = pace.fill_s(job.station.pace)
        self._mould_c, self._plastic_c = mould_c, plastic_c
        self._window_top_c, self._band_c = job.mould.warm_c[1], job.plastic.band_c

    def open_fraction(self, *, mould_k: float = 0.0, plastic_k: float = 0.0, push_s: float = 0.0) -> float:
        """With a mould and plastic so much warmer and a push so much shorter."""
        if self._plastic_c + plastic_k <= self._gel_c:
            return 0.0
        return will_fill(
            self._plastic,
            passage_mm=self._passage_mm,
            fill_s=self._fill_s - push_s,
            shot_c=self._plastic_c + plastic_k,
            mould_c=self._mould_c + mould_k,
            gel_c=self._gel_c,
        ).open_fraction

    def best_help(self, is_open: float) -> FillHelp | None:
        """The change that can open most, as large as it must be and no larger than it may be. A cup under its band
        is reheated before anything else is thought of."""
        if self._plastic_c < self._band_c[0]:
            cold_k = self._band_c[0] - self._plastic_c
            return FillHelp(
                change=FillChange.REHEAT, by=cold_k, open_fraction=self.open_fraction(plastic_k=cold_k)
            )
        helps = [
            _smallest(
                FillChange.MOULD, self._window_top_c - self._mould_c, lambda by: self.open_fraction(mould_k=by)
            ),
            _smallest(
                FillChange.PLASTIC, self._band_c[1] - self._plastic_c, lambda by: self.open_fraction(plastic_k=by)
            ),
            _smallest(
                FillChange.PUSH, self._fill_s * (1 - FASTEST_PUSH), lambda by: self.open_fraction(push_s=by)
            ),
        ]
        most, best = max(helps, key=lambda each: each[0])
        return best if most >= is_open + LEAST_GAIN else None


def _smallest(change: FillChange, most: float, open_at: Callable[[float], float]) -> tuple[float, FillHelp]:
    """What that change opens at most, and the smallest such change that fills, or all of it where none does;
    of degrees no less than can be made."""
    most = max(0.0, most)
    opens = open_at(most)
    low, high = 0.0, most
    if opens >= FILLS_FROM:
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            low, high = (low, middle) if open_at(middle) >= FILLS_FROM else (middle, high)
    if change is not FillChange.PUSH:
        high = min(most, max(high, LEAST_K))
    return opens, FillHelp(change=change, by=high, open_fraction=open_at(high))


def _passage_mm(session: Session, shot: Step) -> float:
    """A core in a shell that kept its tail flows through the gate into its bore, and nothing there is thinner."""
    mould = session.job.mould
    if shot.shot is not Shot.CORE:
        return mould.passage_mm(rods=shot.shot is Shot.SHELL, tail=True)
    if not cut_tails(session, shot.round):
        return min(mould.section.gate_mm, mould.rods.diameter_mm if mould.rods else mould.section.gate_mm)
    return mould.passage_mm(rods=False, tail=True)
