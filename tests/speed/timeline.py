"""How long jobs with their timelines take: python -m tests.speed.timeline.

Told in milliseconds of this process, which other programs disturb less than the clock, and as a share of what the
cooling solver alone takes for the coolings of the job's plan. No limit is asserted, since that would measure the
machine.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from bench.model.recipe import Build, Tail
from bench.physics import cooling
from bench.plan import sets
from bench.plan.records import Shot
from bench.plan.scope import Scope
from tests.plan.bench_records import job_of

ROUNDS = 20
CASES = ((ROUNDS, 1), (ROUNDS, 2), (ROUNDS, 4), (4 * ROUNDS, 4))


class _Solver:
    """Counts what the solver takes inside a job."""

    def __init__(self) -> None:
        self.solve: Callable[..., cooling.Cooling] = sets.solve
        self.seconds = 0.0

    def __call__(self, scope: Scope, shot: Shot, *, mould_c: float, shell_c: float) -> cooling.Cooling:
        start_s = time.process_time()
        solved = self.solve(scope, shot, mould_c=mould_c, shell_c=shell_c)
        self.seconds += time.process_time() - start_s
        return solved


def main() -> None:
    """Prints the times, the best of three."""
    for build in Build:
        tail = Tail.CUT if build.has_core else Tail.KEPT
        for rounds, moulds in CASES:
            all_s, solver_s, used = min(_once(build, tail, rounds, moulds) for _ in range(3))
            print(  # noqa: T201
                f"{build:<14}{rounds:>4} rounds, {used} of {moulds} moulds: {1000 * all_s:>6.0f} ms, of which the "
                f"cooling solver {1000 * solver_s:>4.0f} ms; {all_s / max(solver_s, 1e-9):.1f} times its cost"
            )


def _once(build: Build, tail: Tail, rounds: int, moulds: int) -> tuple[float, float, int]:
    solver = _Solver()
    sets.solve = solver
    start_s = time.process_time()
    job = job_of(build, count=int(rounds * 4 / 1.05), tail=tail, moulds=moulds)
    all_s = time.process_time() - start_s
    sets.solve = solver.solve
    return all_s, solver.seconds, job.plan.moulds


if __name__ == "__main__":
    main()
