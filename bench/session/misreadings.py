"""What a doubted reading was probably meant to be: asked of the maker, never acted upon by itself."""

from __future__ import annotations

from dataclasses import replace

from bench.model.settings import UnitSystem
from bench.physics.misreading import Misreading, Slip, likely_unit
from bench.session.aside import with_the_old
from bench.session.events import CupRead, MouldRead
from bench.session.readings import is_plausible, likely_c, meant_c
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.units import fahrenheit

_ROUNDING = 6

_OTHER = {UnitSystem.METRIC: Slip.FAHRENHEIT, UnitSystem.US: Slip.CELSIUS}
"""What a figure that was typed in those units was meant as, if it was read on the other scale."""


def suggestion(session: Session, now: Stamp, units: UnitSystem) -> Misreading | None:
    """What the doubted reading was probably meant to be, when it was typed in those units; None without a good
    guess. A suggestion is one that would be believed if it were typed now, and about what is expected."""
    if session.doubted is None:
        return None
    doubted, session = replace(session.doubted, at=now), with_the_old(session, now)
    other_c = meant_c(session, doubted)
    if other_c is not None:
        return Misreading(value_c=other_c, why=_OTHER[doubted.typed_in or units])
    guess = likely_as_typed(doubted.temp_c, likely_c(session, doubted), units)
    if guess is None or not is_plausible(session, replace(doubted, temp_c=guess.value_c)):
        return None
    return guess


def likely_as_typed(temp_c: float, likely: tuple[float, float], units: UnitSystem) -> Misreading | None:
    """What a temperature typed in those units was probably meant to be, where it is not in the likely range."""
    if units is UnitSystem.METRIC:
        return likely_unit(temp_c, expected_c=likely)
    return _typed_in_fahrenheit(temp_c, likely)


def suggested(session: Session, now: Stamp, units: UnitSystem) -> CupRead | MouldRead | None:
    """The reading as it was probably meant, taken now; None without a good guess."""
    meant = suggestion(session, now, units)
    if meant is None or session.doubted is None:
        return None
    return replace(session.doubted, at=now, temp_c=meant.value_c, typed_in=None)


def _typed_in_fahrenheit(temp_c: float, likely: tuple[float, float]) -> Misreading | None:
    """The same slips of a figure in degF: 170 in a field for degF is 76.7 degC and was meant as 170 degC."""
    low, high = likely
    figure = round(fahrenheit(temp_c), _ROUNDING)
    if not low <= temp_c <= high and low <= figure <= high:
        return Misreading(value_c=figure, why=Slip.CELSIUS)
    slipped = likely_unit(figure, expected_c=(fahrenheit(low), fahrenheit(high)))
    if slipped is None or slipped.why is Slip.FAHRENHEIT:
        return None
    return replace(slipped, value_c=(slipped.value_c - 32) / 1.8)
