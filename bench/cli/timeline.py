"""The timeline under a plan: a chart in letters, what waiting costs, and what another mould would gain."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from bench.cli.output import duration
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.station import Station
from bench.plan.chart import chart, used_marks
from bench.plan.records import Plan
from bench.plan.timeline import MOST_MOULDS, Timeline, make_timeline, what_another_mould_gains_s

CHART_WIDTH = 70
"""Columns, so that a lane with its name fits a terminal of 80."""

STRETCHES = 3
"""The chart shows the first stretches only where a job is long: after that it repeats itself."""

STRETCH_S = 900.0


class Timed:
    """The timeline of a plan, with what the words about it need."""

    def __init__(self, plan: Plan, *, mould: Mould, plastic: Plastic, station: Station, moulds: int) -> None:
        self.timeline: Timeline = make_timeline(plan, mould=mould, plastic=plastic, station=station, moulds=moulds)
        self.moulds = moulds
        self.gain_s: float | None = None
        if moulds < MOST_MOULDS:
            self.gain_s = what_another_mould_gains_s(
                plan, mould=mould, plastic=plastic, station=station, moulds=moulds
            )


def as_json(timed: Timed) -> dict[str, object]:
    """The timeline for programs."""
    made = timed.timeline
    return {
        "moulds": timed.moulds,
        "moulds_used": made.mould_count,
        "makespan_s": made.makespan_s,
        "hands_busy_s": made.hands_busy_s,
        "waiting_s": made.waiting_s,
        "another_mould_gains_s": timed.gain_s,
        "tasks": [
            {
                "task": row.id,
                "what": row.words,
                "round": row.round,
                "mould": row.mould,
                "start_s": row.start_s,
                "end_s": row.end_s,
                "by_hand": row in made.by_hand,
            }
            for row in made.rows
        ],
    }


def as_lines(timed: Timed) -> Iterator[str]:
    """The timeline for people."""
    made = timed.timeline
    yield ""
    yield "Side by side, from the first warm mould to the last bait out of its mould"
    whole, waits = duration(made.makespan_s), duration(made.waiting_s)
    yield f"  {whole} with {_moulds(made.mould_count)}; your hands wait {waits} of it."
    if timed.gain_s is not None:
        yield _gain(timed.gain_s)
    yield ""
    shown_s = min(made.makespan_s, STRETCHES * STRETCH_S)
    marks: dict[str, str] = {}
    for start_s in _starts(shown_s):
        drawn = chart(made.rows, width=CHART_WIDTH, starts_s=start_s, ends_s=start_s + STRETCH_S)
        marks.update(used_marks(drawn))
        yield f"  from {duration(start_s)}" if start_s else "  from the start"
        for name, cells in drawn.lanes:
            yield f"  {name:7s} {cells}".rstrip()
    if shown_s < made.makespan_s:
        yield "  and so on."
    legend = ", ".join(f"{mark} {words}" for mark, words in marks.items())
    yield from textwrap.wrap(legend, width=78, initial_indent="  ", subsequent_indent="  ")


def _starts(shown_s: float) -> Iterator[float]:
    start_s = 0.0
    while start_s < shown_s:
        yield start_s
        start_s += STRETCH_S


def _moulds(number: int) -> str:
    return "one mould" if number == 1 else f"{number} moulds in turn"


def _gain(gain_s: float) -> str:
    if gain_s < 60:
        return "  Another mould would gain nothing worth having."
    return f"  Another mould would have it done {duration(gain_s)} sooner."
