"""How a reading and an estimate are put together.

Each counts by the inverse of its variance, so that a single reading with the noise of a hand-held thermometer does
not replace a good estimate, and an estimate that has been carried for long does not argue with a reading: the
scalar case of Kalman's filter (R. E. Kalman, J. Basic Eng. 82 (1960) 35).
"""

from __future__ import annotations

import math
from typing import NamedTuple

from bench.physics.fitting import READING_NOISE_C

FAR_SPREADS = 3.0
"""A believed reading further off than so many spreads says that the estimate was wrong: it counts alone."""


class Weighed(NamedTuple):
    """A temperature, degC, and one sigma of it, K."""

    temp_c: float
    spread_k: float


def weighed(estimate: Weighed, read_c: float, *, noise_k: float = READING_NOISE_C) -> Weighed:
    """Estimate and reading together. At 170 +- 1.5 and a reading of 173 it is 171.5 +- 1.06."""
    alone = Weighed(read_c, noise_k)
    miss_k = read_c - estimate.temp_c
    if abs(miss_k) > FAR_SPREADS * math.hypot(estimate.spread_k, noise_k):
        return alone
    trust = estimate.spread_k**2 / (estimate.spread_k**2 + noise_k**2)
    return Weighed(estimate.temp_c + trust * miss_k, math.sqrt(trust) * noise_k)
