"""The timeline under a plan: a chart in letters, what waiting costs, and what another mould would gain."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from bench.cli.output import duration
from bench.plan.chart import chart, used_marks
from bench.plan.jobs import PlannedJob

CHART_WIDTH = 70
"""Columns, so that a lane with its name fits a terminal of 80."""

STRETCHES = 3
"""The chart shows the first stretches only where a job is long: after that it repeats itself."""

STRETCH_S = 900.0


def as_json(job: PlannedJob, *, moulds: int) -> dict[str, object]:
    """The timeline for programs; ``moulds`` is how many were asked for."""
    made = job.timeline
    by_hand = {row.id for row in made.by_hand}
    return {
        "moulds": moulds,
        "moulds_used": made.mould_count,
        "makespan_s": made.makespan_s,
        "hands_busy_s": made.hands_busy_s,
        "waiting_s": made.waiting_s,
        "another_mould_gains_s": job.gain_s,
        "broken": made.broken,
        "tasks": [
            {
                "task": row.id,
                "kind": row.kind.value,
                "what": row.words,
                "round": row.round,
                "mould": row.mould,
                "start_s": row.start_s,
                "end_s": row.end_s,
                "by_hand": row.id in by_hand,
            }
            for row in made.rows
        ],
    }


def as_lines(job: PlannedJob, *, width: int = CHART_WIDTH) -> Iterator[str]:
    """The timeline for people, its lanes ``width`` columns wide."""
    made = job.timeline
    yield ""
    yield "Side by side, from the first warm mould to the last bait out of its mould"
    whole, waits = duration(made.makespan_s), duration(made.waiting_s)
    yield f"  {whole} with {_moulds(made.mould_count)}; your hands wait {waits} of it."
    gain_s = job.gain_s
    if gain_s is not None:
        yield _gain(gain_s)
    yield ""
    shown_s = min(made.makespan_s, STRETCHES * STRETCH_S)
    marks: dict[str, str] = {}
    for start_s in _starts(shown_s):
        drawn = chart(made.rows, width=width, starts_s=start_s, ends_s=start_s + STRETCH_S)
        marks.update(used_marks(drawn))
        yield f"  minute  {drawn.ruler}".rstrip()
        for name, cells in drawn.lanes:
            yield f"  {name:7s} {cells}".rstrip()
        yield ""
    if shown_s < made.makespan_s:
        yield "  and so on."
    legend = ", ".join(f"{mark} {words}" for mark, words in marks.items())
    yield from textwrap.wrap(legend, width=width + 8, initial_indent="  ", subsequent_indent="  ")


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
