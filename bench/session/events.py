"""What can happen in a session. Each event is a fact with its own time, named in the past tense."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.session.corrections import Corrected
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.verdicts import Subject, Verdict
from bench.units import Celsius


class SkipReason(StrEnum):
    """Why a step was skipped, one digit each."""

    ALREADY_DONE = "already done"
    NOT_NEEDED = "not needed here"
    NO_TIME = "no time for it"
    SOMETHING_BROKE = "something broke"


class StopReason(StrEnum):
    """Why a session was stopped early, one digit each."""

    ENOUGH_MADE = "enough made"
    OUT_OF_PLASTIC = "out of plastic"
    OUT_OF_TIME = "out of time"
    SOMETHING_WRONG = "something is wrong"
    DANGER = "danger: left at once"


@dataclass(frozen=True, kw_only=True, slots=True)
class Event:
    """Anything that happened, at its moment."""

    at: Stamp


@dataclass(frozen=True, kw_only=True, slots=True)
class Started(Event):
    """The session began."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StepDone(Event):
    """The step of that id ended. The id makes a late or doubled press harmless: it no longer fits. ``as_it_is``
    says that its cup was taken as it is, though nobody had read it fit."""

    step: str
    by: Ending
    as_it_is: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class StepSkipped(Event):
    """The step of that id was left out."""

    step: str
    reason: SkipReason


@dataclass(frozen=True, kw_only=True, slots=True)
class WentBack(Event):
    """The last step forward was taken back."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ReheatWanted(Event):
    """A cup of the present shot goes back on the heat; the shot follows once it is in its band."""

    part: Part


@dataclass(frozen=True, kw_only=True, slots=True)
class CupRead(Event):
    """A thermometer was read in a part's cup. ``typed_in`` is the units whose scale the figure was typed on, None
    where nobody typed it or its scale was asked about already."""

    part: Part
    temp_c: Celsius
    typed_in: UnitSystem | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class ReadingWithdrawn(Event):
    """The reading over the scorch limit was wrong: that figure counts for nothing any more."""

    part: Part
    temp_c: Celsius


@dataclass(frozen=True, kw_only=True, slots=True)
class CupThrown(Event):
    """What was read over its scorch limit is thrown away, and its melt is weighed into a new cup. ``stays`` says
    that the old cup is still hot and stands where it was."""

    part: Part
    stays: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class HeatBegun(Event):
    """The old cup is off the heater and the new one on it: the heat of the step of that id counts from here."""

    step: str


@dataclass(frozen=True, kw_only=True, slots=True)
class MouldRead(Event):
    """A thermometer was read on a mould, counted from 1; ``typed_in`` as of a cup."""

    temp_c: Celsius
    mould: int = 1
    typed_in: UnitSystem | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class CautionsAcknowledged(Event):
    """The maker has read these cautions."""

    cautions: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Held(Event):
    """The guidance was held. The plastic was not: every physical clock runs on."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Resumed(Event):
    """The guidance goes on."""


@dataclass(frozen=True, kw_only=True, slots=True)
class VerdictGiven(Event):
    """A round was judged."""

    round: int
    subject: Subject
    verdict: Verdict


@dataclass(frozen=True, kw_only=True, slots=True)
class TailsChosen(Event):
    """How many of this round's tails were cut; 0 keeps them all."""

    round: int
    cut: int


@dataclass(frozen=True, kw_only=True, slots=True)
class CoreChosen(Event):
    """Another recipe's core goes into the shells from now on. ``weigh_anew`` says that a core cup that is mixed
    already is set aside and another is weighed at a step of its own."""

    recipe: str
    weigh_anew: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class CorrectionRefused(Event):
    """The maker does not want that correction used."""

    of: Corrected


@dataclass(frozen=True, kw_only=True, slots=True)
class CorrectionRestored(Event):
    """A refused correction is used again."""

    of: Corrected


@dataclass(frozen=True, kw_only=True, slots=True)
class Noted(Event):
    """The maker wrote something down."""

    text: str


@dataclass(frozen=True, kw_only=True, slots=True)
class FileHealed(Event):
    """Another program changed the session's file, which was made whole again. ``kept_in`` names the file that
    keeps what the other one wrote, empty where it wrote nothing."""

    kept_in: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Left(Event):
    """The screen was left, or closed, with the session to be gone on with: from here nobody was called."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StopRequested(Event):
    """The maker stops early: the closing steps follow."""

    reason: StopReason


@dataclass(frozen=True, kw_only=True, slots=True)
class Aborted(Event):
    """The maker left at once: nothing follows."""

    reason: StopReason


@dataclass(frozen=True, kw_only=True, slots=True)
class Completed(Event):
    """The last step was done."""
