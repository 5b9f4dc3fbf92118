"""What this machine takes for plain arithmetic now, so that a test of speed holds on a slow or busy one too."""

from __future__ import annotations

import math
import time
from collections.abc import Callable

RUNS = 10


def best_s(work: Callable[[], object]) -> float:
    """Processor time of the work, the best of some runs."""
    took = []
    for _ in range(RUNS):
        began = time.process_time()
        work()
        took.append(time.process_time() - began)
    return min(took)


def floors(work: Callable[[], object]) -> float:
    """The work's processor time in that of ten thousand exponentials, the best of some runs each."""
    return best_s(work) / best_s(_exponentials)


def _exponentials() -> float:
    return sum(math.exp(-number / 1000.0) for number in range(10_000))
