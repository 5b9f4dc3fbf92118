"""What is said of moulds: one that is to be warmed before a shot, one that nobody reads where it is warmed."""

from __future__ import annotations

import math

from bench.model.settings import UnitSystem
from bench.model.station import WarmedBy
from bench.session.view import View
from bench.session.warned import BenchWarning, WarningKind
from bench.signals import spoken

READ_AGAIN_S = 300.0
"""Starting value: how long a mould that nobody reads stays where it is warmed between two calls for it."""

MAY_BE_HOT = "Read the mould: it may be too hot."


def is_to_be_warmed(warning: BenchWarning) -> bool:
    """Whether it is of a cold mould that something else than shots can warm."""
    return warning.kind is WarningKind.MOULD_COLD and warning.by is not WarmedBy.SHOTS


def cold_words(warning: BenchWarning, units: UnitSystem) -> str:
    """That it is cold, and what to warm it to."""
    which = f"Mould {spoken.whole(warning.mould)}" if warning.moulds > 1 else "The mould"
    return f"{which} is cold. Warm it until it reads {spoken.degrees(warning.limit, units)}."


def late_mark(seen: View, left_s: float, *, pace: float) -> int:
    """How many calls ago the mould of the step should have been read that may be too hot by now, below 0; 0 where
    there is nothing to call for yet. ``pace`` is how many seconds pass in one of the maker's."""
    own = (each for each in seen.moulds if each.number == seen.step.mould and each.is_warmed)
    if all(each.warmed_s is None for each in own):
        return 0
    return min(0, math.ceil(left_s / (READ_AGAIN_S * pace)))
