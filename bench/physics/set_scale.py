"""How much longer or shorter a mould needs than its reckoned set time, from what was found on opening it.

"Soft" says that the mould wanted more than it got, "could have been opened sooner" that it wanted less. Neither
says how much, so each answer is a logistic likelihood around the time of opening, together with a normal prior
around the reckoned time, both in the logarithm. That is why a surprising answer moves the factor and one that was
to be expected does not: soft after half the set time says nothing of the set time, nor does firm after an hour.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from bench.physics.fitting import Fit

SHORTEST_SCALE = 0.7
LONGEST_SCALE = 1.5
"""The factor never leaves these, whatever is answered."""

PRIOR_SPREAD = 0.15
"""Starting value: how far a mould's own set time may lie from the reckoned one."""

ANSWER_WIDTH = 0.1
"""Starting value: how sharply a maker tells soft from firm, as a share of the time."""


class Firmness(Enum):
    """What was found on opening."""

    SOFT = "soft"
    SOONER = "could have been opened sooner"


@dataclass(frozen=True, kw_only=True, slots=True)
class Opening:
    """A mould opened after ``opened_s``; ``set_s`` is the reckoned set time, before any factor, s."""

    opened_s: float
    set_s: float
    found: Firmness


def fit_set_scale(openings: Sequence[Opening]) -> Fit | None:
    """Factor on the reckoned set time of one mould, 0.7 to 1.5; None when nothing was opened.

    Soft at the reckoned time moves it from 1 to 1.08, soft again at that same time to 1.12, then 1.15 and 1.17.
    Order does not matter, and one answer of each kind at one time cancel.
    """
    told = [
        (math.log(each.opened_s / each.set_s), 1 if each.found is Firmness.SOFT else -1)
        for each in openings
        if each.opened_s > 0 and each.set_s > 0
    ]
    if not told:
        return None
    low, high = math.log(SHORTEST_SCALE), math.log(LONGEST_SCALE)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _pull(middle, told) > 0 else (low, middle)
    at = (low + high) / 2
    sharpness = sum(_surprise(at, *each) * (1 - _surprise(at, *each)) for each in told) / ANSWER_WIDTH**2
    return Fit(value=math.exp(at), spread=1 / math.sqrt(1 / PRIOR_SPREAD**2 + sharpness), readings=len(told))


_HALVINGS = 50


def _pull(at: float, told: Sequence[tuple[float, int]]) -> float:
    """Slope of the logarithm of the likelihood; it only ever falls, so it has one root."""
    return sum(side * _surprise(at, opened, side) for opened, side in told) / ANSWER_WIDTH - at / PRIOR_SPREAD**2


def _surprise(at: float, opened: float, side: int) -> float:
    """Probability of the other answer, had the mould the factor exp(at)."""
    return (1 - math.tanh(side * (at - opened) / (2 * ANSWER_WIDTH))) / 2
