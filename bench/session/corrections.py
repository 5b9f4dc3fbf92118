"""What the session's own readings and verdicts say about the cup, the heater, the mould and its set time.

Every believed reading leaves a mark that says how the thing got there from the mark before. Marks with nothing
between them but cooling tell of a loss, marks with bursts between them of the heater. The maker can refuse any of
it: a refused correction is still shown, and not used.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import accumulate, chain
from typing import TypeVar

from bench.model.recipe import Part
from bench.physics.cup import Cup
from bench.physics.fitting import (
    CUP_PRIOR_SPREAD,
    MOULD_PRIOR_SPREAD,
    POWER_PRIOR_SPREAD,
    CupStretch,
    Fit,
    MouldStretch,
    Reading,
    fit_absorbed_power,
    fit_cup_loss,
    fit_mould_loss,
)
from bench.physics.mould import Block
from bench.physics.set_scale import Opening, fit_set_scale
from bench.session.heater import Power

_Mark = TypeVar("_Mark")

LEAST_SPREAD = 0.15
"""Starting value: no bench repeats itself better. A lid, a draught, a second more or less on the heater."""

HEATER_FACTORS = (0.5, 2.0)
"""Starting values: a heater is not taken to give less or more than these shares of what its profile says, whatever
the readings of one session make of it. What they make beyond that is more likely a heater that was not on, another
load or a thermometer in the wrong cup."""

MOST_MARKS = 40
"""Of cups, and of moulds: what came earlier than the last so many tells of a bench that may have changed since."""


class Corrected(StrEnum):
    """What readings and verdicts can correct."""

    CUP_LOSS = "cup loss"
    HEATER = "heater"
    MOULD_LOSS = "mould loss"
    SET_TIME = "set time"


@dataclass(frozen=True, kw_only=True, slots=True)
class Correction:
    """A figure as the bench shows it beside ``profile``, what the profiles make of it.

    Factors for the losses and the set time, W for the heater: what a cup keeps of it on the way from the room to
    the middle of its band. ``spread`` is one sigma as a share of the value, ``readings`` how many readings or
    verdicts it comes from, ``capped`` that they say more than is believed of them.
    """

    of: Corrected
    value: float
    profile: float
    spread: float
    readings: int
    refused: bool
    capped: bool = False

    @property
    def known_spread(self) -> float:
        """The spread to reckon with and to tell: however well readings agree, no bench repeats itself better."""
        return max(LEAST_SPREAD, self.spread)


@dataclass(frozen=True, kw_only=True, slots=True)
class Corrections:
    """Every correction there is by now. ``heater_fed_w`` is what the heater feeds, losses included."""

    cup_loss: Correction | None = None
    heater: Correction | None = None
    mould_loss: Correction | None = None
    set_time: Correction | None = None
    heater_fed_w: float | None = None

    @property
    def all(self) -> tuple[Correction, ...]:
        """Those that there are, the one that matters to the next minutes first."""
        each = (self.cup_loss, self.heater, self.mould_loss, self.set_time)
        return tuple(correction for correction in each if correction is not None)

    @property
    def cup_loss_factor(self) -> float:
        """The factor to reckon a cup's loss with."""
        return _factor(self.cup_loss)

    @property
    def mould_loss_factor(self) -> float:
        """The factor to reckon a mould's loss with."""
        return _factor(self.mould_loss)

    @property
    def set_factor(self) -> float:
        """The factor to reckon set times with."""
        return _factor(self.set_time)

    @property
    def fed_w(self) -> float | None:
        """What to reckon that the heater feeds; None for what the profile says."""
        return None if self.heater is None or self.heater.refused else self.heater_fed_w

    @property
    def cup_loss_spread(self) -> float:
        """How far the loss of a cup may be from that, as a share."""
        return _spread(self.cup_loss, CUP_PRIOR_SPREAD)

    @property
    def heater_spread(self) -> float:
        """How far the heater may be from that, as a share."""
        return _spread(self.heater, POWER_PRIOR_SPREAD)

    @property
    def mould_loss_spread(self) -> float:
        """How far the loss of a mould may be from that, as a share."""
        return _spread(self.mould_loss, MOULD_PRIOR_SPREAD)


@dataclass(frozen=True, kw_only=True, slots=True)
class CupMark:
    """A cup's temperature as read, or as known because it was just filled from the room (``is_read`` False).

    Since the mark before of the same cup ``gone_s`` passed, ``on_s`` of them on the heat, and while it stood off
    the heat between bursts it lost ``stood_k`` as reckoned. ``follows`` is False where something else happened to
    it, a shot above all.
    """

    part: Part
    temp_c: float
    cup: Cup
    gone_s: float = 0.0
    on_s: float = 0.0
    stood_k: float = 0.0
    follows: bool = False
    is_read: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class MouldMark:
    """A mould's temperature as read; ``follows`` is False where a shot or heat came since the one before."""

    number: int
    temp_c: float
    gone_s: float = 0.0
    follows: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """What the profiles say, to which corrections are relative: ``cup`` is the one that the heater's absorbed
    power is quoted for, heated from the room to ``target_c``."""

    room_c: float
    cup: Cup
    block: Block
    absorbed_w: float
    fed_w: float
    target_c: float


def correct(
    known: Known,
    *,
    cups: Sequence[CupMark],
    moulds: Sequence[MouldMark],
    openings: Sequence[Opening],
    refused: Collection[Corrected],
) -> Corrections:
    """Every correction that these say something about."""
    cup_loss = _factor_of(fit_cup_loss(_cooled(cups), room_c=known.room_c), Corrected.CUP_LOSS, refused)
    factor = _factor(cup_loss)
    fed = fit_absorbed_power(_heated(cups), prior_w=known.fed_w, room_c=known.room_c, loss_factor=factor)
    heater, fed_w = (None, None)
    if fed is not None:
        heater, fed_w = _heater(known, fed, factor, _heated_readings(cups), refused)
    mould = fit_mould_loss(_stood(moulds, known.block), room_c=known.room_c)
    return Corrections(
        cup_loss=cup_loss,
        heater=heater,
        mould_loss=_factor_of(mould, Corrected.MOULD_LOSS, refused),
        set_time=_factor_of(fit_set_scale(openings), Corrected.SET_TIME, refused),
        heater_fed_w=fed_w,
    )


def _factor(correction: Correction | None) -> float:
    return 1.0 if correction is None or correction.refused else correction.value


def _spread(correction: Correction | None, prior: float) -> float:
    return prior if correction is None or correction.refused else correction.known_spread


def _factor_of(fit: Fit | None, of: Corrected, refused: Collection[Corrected]) -> Correction | None:
    if fit is None:
        return None
    return Correction(
        of=of,
        value=fit.value,
        profile=1.0,
        spread=fit.spread,
        readings=fit.readings,
        refused=of in refused,
    )


def _heater(
    known: Known, fed: Fit, loss_factor: float, readings: int, refused: Collection[Corrected]
) -> tuple[Correction, float]:
    """What a cup keeps of the heater, and what the heater feeds for that."""
    power = Power(fed_w=fed.value, room_c=known.room_c, loss_factor=loss_factor)
    fitted_w = power.kept_w(known.cup, start_c=known.room_c, to_c=known.target_c)
    least, most = (factor * known.absorbed_w for factor in HEATER_FACTORS)
    kept_w = min(max(fitted_w, least), most)
    correction = Correction(
        of=Corrected.HEATER,
        value=kept_w,
        profile=known.absorbed_w,
        spread=fed.spread * fed.value / fitted_w,
        readings=readings,
        refused=Corrected.HEATER in refused,
        capped=kept_w != fitted_w,
    )
    return correction, fed.value + kept_w - fitted_w


def _cooled(marks: Sequence[CupMark]) -> list[CupStretch]:
    runs = _runs(marks, of=lambda mark: mark.part, joins=lambda mark: mark.follows and mark.on_s == 0)
    return [
        CupStretch(
            cup=run[0].cup, readings=_readings([mark.gone_s for mark in run], [mark.temp_c for mark in run])
        )
        for run in runs
    ]


def _heated(marks: Sequence[CupMark]) -> list[CupStretch]:
    """What the stirs cost is put back, so that only the heater's own seconds count."""
    return [
        CupStretch(
            cup=run[0].cup,
            readings=_readings(
                [mark.on_s for mark in run],
                [mark.temp_c + stood_k for mark, stood_k in zip(run, _stood_k(run), strict=True)],
            ),
        )
        for run in _heated_runs(marks)
    ]


def _stood_k(run: Sequence[CupMark]) -> Iterator[float]:
    return accumulate((mark.stood_k for mark in run[1:]), initial=0.0)


def _heated_runs(marks: Sequence[CupMark]) -> Iterator[list[CupMark]]:
    return _runs(marks, of=lambda mark: mark.part, joins=lambda mark: mark.follows and mark.on_s > 0)


def _heated_readings(marks: Sequence[CupMark]) -> int:
    return sum(mark.is_read for mark in chain.from_iterable(_heated_runs(marks)))


def _stood(marks: Sequence[MouldMark], block: Block) -> list[MouldStretch]:
    runs = _runs(marks, of=lambda mark: mark.number, joins=lambda mark: mark.follows)
    return [
        MouldStretch(block=block, readings=_readings([mark.gone_s for mark in run], [mark.temp_c for mark in run]))
        for run in runs
    ]


def _runs(
    marks: Sequence[_Mark], *, of: Callable[[_Mark], object], joins: Callable[[_Mark], bool]
) -> Iterator[list[_Mark]]:
    """Marks of one thing that each join the one before, two at least."""
    for thing in dict.fromkeys(map(of, marks)):
        run: list[_Mark] = []
        for mark in (each for each in marks if of(each) == thing):
            if run and joins(mark):
                run.append(mark)
                continue
            if len(run) > 1:
                yield run
            run = [mark]
        if len(run) > 1:
            yield run


def _readings(gaps_s: Sequence[float], temps_c: Sequence[float]) -> tuple[Reading, ...]:
    """Seconds count from the first; what lay before it is not part of the stretch."""
    return tuple(zip(accumulate(gaps_s[1:], initial=0.0), temps_c, strict=True))
