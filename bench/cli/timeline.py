"""The timeline under a plan: a chart in letters, what waiting costs, and what another mould would gain."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bench.cli.output import TIED, WIDTH, duration, wrapped
from bench.plan.chart import NUMBERED, Chart, chart, rounds_chart, used_marks
from bench.plan.jobs import PlannedJob
from bench.plan.timeline import Timeline

NAMES = 10
"""Columns before each lane."""

LEAST_COLUMNS = 40
"""A narrower chart tells nothing."""

CHART_WIDTH = WIDTH - NAMES

STRETCHES = 3
MOST_STRETCHES = 4
"""Where a job is longer than the most, the chart shows its first stretches only: after that it repeats itself."""

STRETCHES_MIN = (5, 10, 15, 20, 30, 45, 60)
COLUMN_S = 15.0
"""A stretch is the longest of these whose columns are no longer than this: about a push or a burst."""

FOLDS = 4
"""All rounds of a long job are shown in at most so many rows of half an hour or a few."""

FOLD_S = 1800.0


def chart_width(columns: int) -> int:
    """How wide the lanes are on a terminal of so many columns."""
    return max(LEAST_COLUMNS, columns) - NAMES


def as_json(job: PlannedJob, *, moulds: int) -> dict[str, object]:
    """The timeline for programs; ``moulds`` is how many were asked for."""
    made = job.timeline
    by_hand = {row.id for row in made.by_hand}
    return {
        "moulds": moulds,
        "moulds_used": made.mould_count,
        "fewer": job.fewer,
        "makespan_s": made.makespan_s,
        "end_s": made.end_s,
        "hands_busy_s": made.hands_busy_s,
        "waiting_s": made.waiting_s,
        "another_mould_gains_s": job.gain_s,
        "broken": made.broken,
        "shells_limit_s": made.shells_limit_s,
        "shells_out": [
            {"round": each.round, "mould": each.mould, "start_s": each.start_s, "out_s": each.out_s}
            for each in made.lying_out
        ],
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


def whole_lines(job: PlannedJob) -> Iterator[str]:
    """What the whole time of the job is made of; the parts add up to it."""
    plan, at_moulds_s = job.plan, job.timeline.end_s
    rest_s = max(0.0, plan.total_s - plan.warm_mould_s - at_moulds_s - plan.purge_s)
    for seconds, words in (
        (plan.warm_mould_s, "warming the moulds" if plan.moulds > 1 else "warming the mould"),
        (at_moulds_s, "weighing, heating and rounds at the moulds"),
        (plan.purge_s, "clearing the air once the heat is off"),
        (rest_s, "readying the bench, cleaning up and laying out"),
    ):
        if seconds > 0:
            yield f"  {duration(seconds):>13}  {words}"


def hands_lines(job: PlannedJob) -> Iterator[str]:
    """What the hands wait and what another mould gains, without the chart."""
    yield ""
    yield from wrapped(" ".join((_hands(job.timeline), *_gain(job))))
    yield "--moulds 1 draws the timeline, --moulds 2 plans with two in turn."


def as_lines(job: PlannedJob, *, width: int = CHART_WIDTH) -> Iterator[str]:
    """The timeline for people, its lanes ``width`` columns wide."""
    made = job.timeline
    yield ""
    yield "Side by side, from the first warm mould to the last look"
    yield from wrapped(_hands(made), bullet="  ")
    yield from wrapped(job.fewer, bullet="  ")
    for words in _gain(job):
        yield from wrapped(words, bullet="  ")
    yield from _shells(made)
    yield from _stretches(made, width)


def _hands(made: Timeline) -> str:
    """From warm moulds to the last look, as in the parts of the whole, though the last bait is out before it."""
    moulds = "one mould" if made.mould_count == 1 else f"{made.mould_count} moulds in turn"
    return f"With {moulds} your hands wait {duration(made.waiting_s)} of the {duration(made.end_s)} at the moulds."


def _shells(made: Timeline) -> Iterator[str]:
    """How long shells lie out at most, beside what the bench allows."""
    if made.lying_out:
        worst = max(made.lying_out, key=lambda each: each.out_s)
        yield from wrapped(
            f"Shells lie out {duration(worst.out_s)} at most, in round {worst.round}; this bench allows "
            f"{duration(made.shells_limit_s)}.",
            bullet="  ",
        )


def _stretches(made: Timeline, width: int) -> Iterator[str]:
    stretch_s = max(60.0 * each for each in STRETCHES_MIN if 60.0 * each <= COLUMN_S * width or each == 5)
    count = math.ceil(made.makespan_s / stretch_s)
    is_whole = count <= MOST_STRETCHES
    count = count if is_whole else STRETCHES
    if not is_whole:
        yield from _rounds(made, width)
    yield ""
    which = "The whole" if is_whole else f"The first {duration(count * stretch_s)}"
    yield f"  {which}: {_column(stretch_s / width)}."
    drawn = [
        chart(made.rows, width=width, starts_s=place * stretch_s, ends_s=(place + 1) * stretch_s)
        for place in range(count)
    ]
    for each in drawn:
        yield from _drawn(each)
    if not is_whole:
        yield "  and so on."
    yield from _legend(drawn, width)


def _rounds(made: Timeline, width: int) -> Iterator[str]:
    """Where each round begins, over the whole job."""
    fold_s = FOLD_S * math.ceil(made.makespan_s / FOLD_S / FOLDS)
    yield ""
    yield f"  All rounds, each where its first push is: {_column(fold_s / width)}."
    for place in range(math.ceil(made.makespan_s / fold_s)):
        yield from _drawn(
            rounds_chart(made.rows, width=width, starts_s=place * fold_s, ends_s=(place + 1) * fold_s)
        )


def _drawn(each: Chart) -> Iterator[str]:
    yield ""
    yield f"  minute  {each.ruler}".rstrip()
    for name, cells in each.lanes:
        yield f"  {name:7s} {cells}".rstrip()


def _legend(drawn: list[Chart], width: int) -> Iterator[str]:
    yield ""
    marks = {mark: words for each in drawn for mark, words in used_marks(each)}
    legend = ", ".join(f"{mark}{TIED}{words}" for mark, words in marks.items())
    yield from wrapped(legend, width=width + NAMES - 2, bullet="  ")
    named = {name for each in drawn for name, _ in each.lanes}
    for name, words in NUMBERED.items():
        if name in named:
            yield f"  {name:7s} {words}"


def _column(column_s: float) -> str:
    return f"one column is {duration(column_s)}"


def _gain(job: PlannedJob) -> Iterator[str]:
    """What another mould would gain, to the minute: all of it is an estimate."""
    gain_s = None if job.fewer else job.gain_s
    if gain_s is None:
        return
    if gain_s < 60:
        yield "Another mould would gain nothing worth having."
        return
    minutes = round(gain_s / 60)
    sooner = f"{minutes} min" if minutes < 60 else duration(60 * minutes)
    # What is won beyond the wait is heating: shots come closer together.
    why = ", more than they wait: the cup cools less from shot to shot" if gain_s > job.timeline.waiting_s else ""
    yield f"Another mould would have it done about {sooner} sooner{why}."
