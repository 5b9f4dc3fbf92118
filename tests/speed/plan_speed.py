"""How long plans take, told as a number of single cooling solutions: python -m tests.speed.plan_speed.

No limit is asserted, since that would measure the machine; twenty rounds of core work hold forty set times, so a
plan that cost as much as forty solutions would march a section anew for every mould it meets.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from time import perf_counter

from bench.model.recipe import Build, Tail
from bench.physics.cooling import Section, Substance, cool_shell
from tests.plan.bench_records import plan_of

REPEATS = 5


def fastest_s(what: Callable[[], object]) -> float:
    """The best of a few runs, which is the one least disturbed."""
    times = []
    for _ in range(REPEATS):
        start = perf_counter()
        what()
        times.append(perf_counter() - start)
    return min(times)


def one_solution() -> object:
    """A shell of 10 mm round a rod of 4 mm."""
    soft = Substance(k_w_mk=0.16, rho_kg_m3=1030.0, c_j_kgk=1800.0)
    return cool_shell(
        Section(body_mm=10.0, rod_mm=4.0, tail_mm=2.0, gate_mm=4.0), soft, shot_c=170.0, mould_c=45.0
    )


def main() -> None:
    """Prints the times."""
    one_s = fastest_s(one_solution)
    print(f"one cooling solution {1000 * one_s:.1f} ms")  # noqa: T201
    for build in Build:
        for count in (76, 2000):
            tail = Tail.CUT if build.has_core else Tail.KEPT
            plan = plan_of(build, tail=tail, count=count)
            plan_s = fastest_s(partial(plan_of, build, tail=tail, count=count))
            print(  # noqa: T201
                f"{build:<14}{plan.rounds:>5} rounds {1000 * plan_s:>7.0f} ms, {plan_s / one_s:.0f} solutions"
            )


if __name__ == "__main__":
    main()
