"""How long jobs with their timelines take: python -m tests.speed.timeline.

Told in milliseconds of this process, which other programs disturb less than the clock, and in bare cooling
solutions of the same run, beside what the cooling solver takes of it and how many orders were searched for and how
many only followed; then what four times the rounds cost. Each is the best of some runs, which take turns with
those of the other sizes, so that a busy spell does not fall on one of them alone. What a run leaves to the
collector of rings counts as its own, what the runs before have left does not. Other numbers of rounds are given as
arguments: python -m tests.speed.timeline 10 40. No limit is asserted, since that would measure the machine.
"""

from __future__ import annotations

import argparse
import gc
import time
from collections.abc import Callable, Sequence
from typing import Any

from bench.model.recipe import Build, Tail
from bench.plan import schedule, sets
from tests.plan.bench_records import job_of
from tests.speed.plan_speed import one_solution

ROUNDS = 20
MOULDS = (1, 2, 4)
TIMES = 5


class _Counted:
    """Counts the calls of a module's function inside a job, and what they take."""

    def __init__(self, module: Any, name: str) -> None:
        self._module, self._name = module, name
        self._function: Callable[..., Any] = getattr(module, name)
        self.calls, self.seconds = 0, 0.0

    def __enter__(self) -> _Counted:
        setattr(self._module, self._name, self)
        return self

    def __exit__(self, *_: object) -> None:
        setattr(self._module, self._name, self._function)

    def __call__(self, *args: Any, **named: Any) -> Any:
        self.calls += 1
        start_s = time.process_time()
        try:
            return self._function(*args, **named)
        finally:
            self.seconds += time.process_time() - start_s


def main() -> None:
    """Prints the times, the best of five."""
    parser = argparse.ArgumentParser()
    parser.add_argument("rounds", type=int, nargs="?", default=ROUNDS)
    parser.add_argument("more", type=int, nargs="?", default=4 * ROUNDS)
    args = parser.parse_args()
    cases = [*((args.rounds, moulds) for moulds in MOULDS), (args.more, MOULDS[-1])]
    bare_s = min(_bare_s() for _ in range(TIMES))
    print(f"one bare cooling solution {1000 * bare_s:.1f} ms")  # noqa: T201
    for build in Build:
        best = {case: min(runs) for case, runs in _runs(build, cases).items()}
        for (rounds, moulds), (all_s, told) in best.items():
            size, cost = f"{rounds:>3} rounds, {moulds} moulds", f"{1000 * all_s:>5.0f} ms"
            print(f"{build:<14}{size}: {cost}, {all_s / bare_s:>4.0f} bare solutions, {told}")  # noqa: T201
        growth = best[cases[-1]][0] / best[cases[-2]][0]
        times = args.more / args.rounds
        print(f"{build:<14}{times:g} times the rounds take {growth:.1f} times as long")  # noqa: T201


def _runs(build: Build, cases: Sequence[tuple[int, int]]) -> dict[tuple[int, int], list[tuple[float, str]]]:
    """Of each case as many runs, in turns."""
    runs: dict[tuple[int, int], list[tuple[float, str]]] = {case: [] for case in cases}
    for _ in range(TIMES):
        for case in cases:
            runs[case].append(_once(build, *case))
    return runs


def _bare_s() -> float:
    """One solution of a shell round its rod, as a verb solves it."""
    start_s = time.process_time()
    one_solution()
    return time.process_time() - start_s


def _once(build: Build, rounds: int, moulds: int) -> tuple[float, str]:
    tail = Tail.CUT if build.has_core else Tail.KEPT
    solver, searches, follows = (
        _Counted(sets, "solve"),
        _Counted(schedule, "search"),
        _Counted(schedule, "follow"),
    )
    gc.collect()
    with solver, searches, follows:
        start_s = time.process_time()
        job = job_of(build, count=int(rounds * 4 / 1.05), tail=tail, moulds=moulds)
        gc.collect(0)
        all_s = time.process_time() - start_s
    told = ((solver, "coolings"), (searches, "searches"), (follows, "followed"))
    shares = ", ".join(f"{each.calls} {words} {1000 * each.seconds:.0f} ms" for each, words in told)
    return all_s, f"{job.plan.moulds} used; {shares}"


if __name__ == "__main__":
    main()
