"""What a screen needs of a reading that is asked for again."""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.settings import UnitSystem
from bench.physics.misreading import Misreading
from bench.session.aside import is_of_the_old, with_the_old
from bench.session.events import CupRead, MouldRead
from bench.session.misreadings import suggestion
from bench.session.readings import Expected, expected
from bench.session.rises import did_not_rise
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.thermometer import cannot_be


@dataclass(frozen=True, kw_only=True, slots=True)
class Doubt:
    """A reading far from what was expected, waiting for a second one. ``expected`` is None where nothing is known
    of its cup, so that only what no cup ever is was doubted. ``suggestion`` is what it was probably meant
    to be, None without a good guess; ``did_not_rise`` that the cup is no hotter for a burst, and that it is to be
    asked whether the heater was on. ``drive.accept_suggestion`` is the yes to either. ``heat_off`` says that it is
    over the scorch limit: if it may be true, the heat goes off before it is read again; ``cannot_be`` that it will
    not be believed if it is read again either: the thermometer is at fault."""

    reading: CupRead | MouldRead
    expected: Expected | None
    suggestion: Misreading | None
    did_not_rise: bool = False
    heat_off: bool = False
    cannot_be: bool = False


def doubt_of(session: Session, now: Stamp, units: UnitSystem) -> Doubt | None:
    """The question about the doubted reading, whose figures are typed in those units; None where none is."""
    if session.doubted is None:
        return None
    meant = suggestion(session, now, units)
    return Doubt(
        reading=session.doubted,
        expected=expected(with_the_old(session, session.doubted.at), session.doubted),
        suggestion=meant,
        did_not_rise=meant is None and did_not_rise(session, session.doubted),
        heat_off=_may_be_on_the_heat(session, session.doubted),
        cannot_be=cannot_be(session, session.doubted),
    )


def _may_be_on_the_heat(session: Session, doubted: CupRead | MouldRead) -> bool:
    """Whether it is over the scorch limit of a cup that may be on the heat: an old one is not."""
    if not isinstance(doubted, CupRead) or is_of_the_old(session, doubted.part):
        return False
    return doubted.temp_c > session.job.plastic.scorch_c
