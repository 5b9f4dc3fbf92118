"""The timeline of a job: who does what when, so that hands, heater and moulds wait as little as they can.

It begins when the moulds are warm and the first cups are weighed, and ends with the last look: opening and closing
of the job are not in it. All times are estimates.

Which number of shots should share a heating is found by trying. Where no order keeps every limit, the limits are
loosened until one does, so that there is always something to follow: it says which limit it does not keep.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from bench.errors import BenchError
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.station import Station
from bench.plan import pace
from bench.plan.cups import working_cups
from bench.plan.handwork import Handwork
from bench.plan.lying_out import LyingOut, lying_out
from bench.plan.network import EPSILON_S
from bench.plan.pours import groups, round_run
from bench.plan.records import Plan, Shot
from bench.plan.rhythm import Beat, Fire, MouldWalk, Rhythm, heat_lengths, planned
from bench.plan.rows import Row, rows_of
from bench.plan.schedule import NoOrder, Resource, Schedule, Task, TooLong, schedule
from bench.plan.tasks import Bench, works_of
from bench.plan.work import HANDS, TaskKind, Work
from bench.units import Seconds

LOOSENINGS_S = (0.0, 60.0, 300.0, 1800.0, math.inf)
"""How much later than it should a task may come, where no order keeps every limit: as little as there is one for.
The first lets come at once what even that would be too late for."""

CORRECTIONS = 3
"""How often a timeline is made again with the lengths of its own rhythm, at most."""

WORTH_SETTLING = 1.10
"""A draft longer than the shortest by more than this is not made again with its own lengths."""

ALIKE_S = 2.0
"""Lengths that change by less are not worth making it again."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Timeline:
    """Rows by their start. ``makespan_s`` is until the last bait is out of its mould, ``hands_busy_s`` how much of
    that the hands work and ``waiting_s`` how much they do not. ``mould_count`` is how many moulds are used.
    ``steps`` measures the work that finding it took. ``broken`` is a sentence about the limit that is missed by
    most, empty where all are kept. ``shells_limit_s`` is how long the station lets shells lie out."""

    rows: tuple[Row, ...]
    makespan_s: Seconds
    hands_busy_s: Seconds
    waiting_s: Seconds
    mould_count: int
    steps: int
    broken: str = ""
    shells_limit_s: Seconds = math.inf

    @property
    def lying_out(self) -> tuple[LyingOut, ...]:
        """How long the shells of each round lie out; none where there are no cores."""
        return lying_out(self.rows)

    @property
    def end_s(self) -> float:
        """The end of the last row, a look at what came out of the mould last."""
        return max((row.end_s for row in self.rows), default=0.0)

    def of(self, resource: Resource) -> tuple[Row, ...]:
        """What is done with it, in order."""
        return tuple(row for row in self.rows if resource in row.resources)

    @property
    def by_hand(self) -> tuple[Row, ...]:
        """What the hands do, in order: what a session follows."""
        return self.of(HANDS)


def make_timeline(plan: Plan, *, mould: Mould, plastic: Plastic, station: Station) -> Timeline:
    """The timeline with the plan's number of moulds. Where no order keeps what physics asks it is one that misses
    it by little, and says so."""
    maker = TimelineMaker(plan, mould=mould, plastic=plastic, station=station)
    return maker.bettered(maker.draft())


@dataclass(frozen=True, kw_only=True, slots=True)
class Draft:
    """A schedule with what it was made of: the works with at most ``together`` shots to a heating and the lengths
    of ``rhythm``. ``beats`` are the shots into each mould, ``steps`` the work so far."""

    together: int
    late_s: float | None
    rhythm: Rhythm
    works: tuple[Work, ...]
    made: Schedule
    beats: tuple[tuple[Beat, ...], ...]
    steps: int


class TimelineMaker:
    """Makes timelines of one plan: drafts in a fraction of the work, one of which can be bettered."""

    def __init__(self, plan: Plan, *, mould: Mould, plastic: Plastic, station: Station) -> None:
        cups = working_cups(plan, plastic=plastic, station=station)
        handwork = Handwork(plan, mould=mould, station=station)
        self._bench = Bench(plan=plan, mould=mould, station=station, cups=cups, handwork=handwork)
        self._planned = planned(plan)
        self._walk = MouldWalk(plan, mould=mould, plastic=plastic, station=station)

    def draft(self, *, loosened: bool = True) -> Draft:
        """The shortest that is found quickly and keeps every limit; where none does it misses as little as
        possible, or NoOrder is raised unless limits may be ``loosened``."""
        for late_s in (None, *(LOOSENINGS_S if loosened else ())):
            if drafts := sorted(self._drafts(late_s), key=_makespan_s):
                return self._best_settled(drafts)
        raise NoOrder("no order of the tasks was found that keeps every limit")

    def drafted(self, draft: Draft) -> Timeline:
        """The draft's timeline as it is."""
        return self._timeline(draft)

    def bettered(self, draft: Draft) -> Timeline:
        """Searched for more thoroughly."""
        return self._timeline(self._bettered(draft))

    def _best_settled(self, drafts: Sequence[Draft]) -> Draft:
        """The shortest with their own lengths of those that are worth it, the shortest given first."""
        best = self._settled(drafts[0], passes=1)
        for draft in drafts[1:]:
            if draft.made.makespan_s <= WORTH_SETTLING * drafts[0].made.makespan_s:
                with suppress(TooLong):
                    settled = self._settled(draft, passes=1, shorter_than_s=best.made.makespan_s)
                    best = min(best, settled, key=_makespan_s)
        return best

    def _drafts(self, late_s: float | None) -> Iterator[Draft]:
        """By the number of shots that share a heating: found quickly, with the plan's lengths."""
        for together in range(1, self._most_together() + 1):
            # More shots to a heating bind the hands for longer: what one of them allows, four may not.
            with suppress(NoOrder):
                yield self._first(together, late_s)

    def _first(self, together: int, late_s: float | None) -> Draft:
        try:
            return self._draft(together, late_s, self._planned, quick=True)
        except NoOrder:
            if together > 1:
                raise
            return self._draft(together, late_s, self._planned)

    def _bettered(self, draft: Draft) -> Draft:
        """Searched for more thoroughly with its own lengths."""
        try:
            own = self._rhythm_of(draft)
            better = self._draft(draft.together, draft.late_s, own, steps=draft.steps)
        except BenchError:
            return self._settled(draft, passes=CORRECTIONS)
        better = self._settled(better, passes=CORRECTIONS)
        if better.made.makespan_s <= draft.made.makespan_s:
            return better
        draft = self._settled(draft, passes=CORRECTIONS)
        return min(better, draft, key=_makespan_s)

    def _settled(self, draft: Draft, *, passes: int, shorter_than_s: float = math.inf) -> Draft:
        """Made again in about the same order with its own lengths, until they do not change. Where there is none
        that keeps the limits with them it stays as it is. Raises TooLong where it would not be short enough."""
        for _ in range(passes):
            try:
                own = self._rhythm_of(draft)
                if _alike(own, draft.rhythm):
                    break
                draft = self._draft(
                    draft.together,
                    draft.late_s,
                    own,
                    order=draft.made.order,
                    shorter_than_s=shorter_than_s,
                    steps=draft.steps,
                )
            except TooLong:
                raise
            except BenchError:
                break
        return draft

    def _most_together(self) -> int:
        """The most shots of rounds that could share a heating."""
        plan, rhythm = self._bench.plan, planned(self._bench.plan)
        moulds = plan.moulds
        push_s = pace.shot_s(self._bench.station.pace)
        runs = [
            round_run(plan, shot.shot, moulds=moulds, push_s=push_s, rhythm=rhythm)
            for shot in plan.rounds_table[0].shots
        ]
        return max(len(group) for run in runs for group in groups(run, self._bench.cups, together=moulds))

    def _draft(
        self,
        together: int,
        late_s: float | None,
        rhythm: Rhythm,
        *,
        quick: bool = False,
        order: Sequence[str] = (),
        shorter_than_s: float = math.inf,
        steps: int = 0,
    ) -> Draft:
        works = works_of(self._bench, together=together, rhythm=rhythm)
        tasks = [work.task if late_s is None else _loosened(work, late_s) for work in works]
        made = schedule(tasks, quick=quick, order=order, shorter_than_s=shorter_than_s)
        return Draft(
            together=together,
            late_s=late_s,
            rhythm=rhythm,
            works=works,
            made=made,
            beats=tuple(_beats(works, made, self._bench.plan.moulds)),
            steps=steps + made.steps,
        )

    def _rhythm_of(self, draft: Draft) -> Rhythm:
        """The lengths that a draft itself asks for."""
        walked = [self._walk.walk(beats, draft.rhythm.settings) for beats in draft.beats]
        return Rhythm(
            settings={key: each for mould in walked for key, each in mould.settings.items()},
            cooling_s={key: each for mould in walked for key, each in mould.cooling_s.items()},
            heats=heat_lengths(_fires(draft), self._bench.cups, draft.rhythm.heats),
        )

    def _timeline(self, draft: Draft) -> Timeline:
        at_c = {key: at_c for beats in draft.beats for key, at_c in self._walk.temperatures(beats).items()}
        rows = rows_of(draft.works, draft.made, at_c=at_c, cooling_s=draft.rhythm.cooling_s)
        broken = "" if draft.late_s is None else _broken(draft)
        made = _timeline(rows, draft.made, moulds=self._bench.plan.moulds, steps=draft.steps, broken=broken)
        return replace(made, shells_limit_s=self._bench.station.shell_out_s)


def _makespan_s(draft: Draft) -> float:
    return draft.made.makespan_s


def _alike(one: Rhythm, other: Rhythm) -> bool:
    """Whether no length differs by as much as is worth another pass."""
    return (
        one.heats.keys() == other.heats.keys()
        and all(abs(each.total_s - other.heats[key].total_s) < ALIKE_S for key, each in one.heats.items())
        and all(abs(each.set_s - other.settings[key].set_s) < ALIKE_S for key, each in one.settings.items())
        and all(abs(each - other.cooling_s.get(key, 0.0)) < ALIKE_S for key, each in one.cooling_s.items())
    )


def _fires(draft: Draft) -> Iterator[Fire]:
    placed = {each.task.id: each for each in draft.made.tasks}
    for work in draft.works:
        if work.kind is not TaskKind.FINISH_HEAT or work.part is None:
            continue
        finish = placed[work.task.id]
        put_on, alone = placed.get(f"{work.heating}.on", finish), placed.get(work.heating)
        yield Fire(
            id=work.heating,
            part=work.part,
            melt=work.melt,
            from_cold=work.from_cold,
            start_s=put_on.start_s,
            end_s=finish.end_s,
            waits_s=0.0 if alone is None else finish.start_s - alone.end_s,
        )


def _beats(works: Sequence[Work], made: Schedule, moulds: int) -> Iterator[tuple[Beat, ...]]:
    placed = {each.task.id: each for each in made.tasks}
    for mould in range(1, moulds + 1):
        beats = [
            Beat(
                start_s=placed[work.task.id].start_s,
                end_s=placed[work.task.id].end_s,
                round=work.round,
                shot=work.shot or Shot.WHOLE,
            )
            for work in works
            if work.mould == mould and work.kind in (TaskKind.SHOT, TaskKind.WARM_UP_SHOT)
        ]
        yield tuple(sorted(beats, key=lambda beat: beat.start_s))


def _loosened(work: Work, late_s: float) -> Task:
    """The task, which may come so much too late. A burst follows the hands that set it in any case."""
    task = work.task
    if work.kind is TaskKind.HEAT:
        return task
    if late_s == math.inf:
        return replace(task, within=())
    return replace(
        task, within=tuple(replace(each, limit_s=max(0.0, each.limit_s) + late_s) for each in task.within)
    )


def _broken(draft: Draft) -> str:
    """What comes too late by most."""
    placed = {each.task.id: each for each in draft.made.tasks}
    missed = [
        (placed[work.task.id].start_s - placed[within.task].end_s - within.limit_s, work.task, within)
        for work in draft.works
        for within in work.task.within
    ]
    late_s, task, within = max(missed, key=lambda each: each[0])
    if late_s <= EPSILON_S:
        return ""
    words = task.words[0].upper() + task.words[1:]
    others = sum(each[0] > EPSILON_S for each in missed) - 1
    more = f", and {others} more come too late" if others else ""
    return (
        f"{words} comes {max(1.0, late_s):.0f} s too late after {placed[within.task].task.words}{more}: "
        "no order of the work was found that keeps the limit."
    )


def _timeline(rows: tuple[Row, ...], made: Schedule, *, moulds: int, steps: int, broken: str) -> Timeline:
    makespan_s = made.makespan_s
    busy_s = sum(
        min(row.end_s, makespan_s) - row.start_s
        for row in rows
        if HANDS in row.resources and row.start_s < makespan_s
    )
    return Timeline(
        rows=rows,
        makespan_s=makespan_s,
        hands_busy_s=busy_s,
        waiting_s=makespan_s - busy_s,
        mould_count=moulds,
        steps=steps,
        broken=broken,
    )
