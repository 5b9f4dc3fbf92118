"""How long timelines take: python -m tests.speed.timeline.

Told in milliseconds, as a number of single cooling solutions, and as what one bare schedule of the same tasks
takes of it. No limit is asserted, since that would measure the machine.
"""

from __future__ import annotations

from functools import partial

from bench.model.recipe import Build, Tail
from bench.plan.cups import working_cups
from bench.plan.rhythm import planned
from bench.plan.schedule import schedule
from bench.plan.tasks import Bench, works_of
from bench.plan.timeline import make_timeline
from tests.plan.bench_records import MOULD, PLASTIC, STATION, plan_of
from tests.speed.plan_speed import fastest_s, one_solution

MOULDS = 4


def main() -> None:
    """Prints the times."""
    one_s = fastest_s(one_solution)
    print(f"one cooling solution {1000 * one_s:.1f} ms")  # noqa: T201
    for build in Build:
        plan = plan_of(build, tail=Tail.CUT if build.has_core else Tail.KEPT, count=76, moulds=MOULDS)
        cups = working_cups(plan, plastic=PLASTIC, station=STATION)
        bench = Bench(plan=plan, mould=MOULD, station=STATION, cups=cups)
        tasks = [work.task for work in works_of(bench, moulds=MOULDS, together=1, rhythm=planned(plan))]
        bare_s = fastest_s(partial(schedule, tasks, quick=True))
        make = partial(make_timeline, plan, mould=MOULD, plastic=PLASTIC, station=STATION)
        made_s = fastest_s(make)
        print(  # noqa: T201
            f"{build:<14}{plan.rounds:>4} rounds {len(tasks):>5} tasks {1000 * made_s:>6.0f} ms, "
            f"{made_s / one_s:.0f} solutions; one quick schedule {100 * bare_s / made_s:.0f} %"
        )


if __name__ == "__main__":
    main()
