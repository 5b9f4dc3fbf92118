"""The timeline of a job: who does what when, so that hands, heater and moulds wait as little as they can.

It begins when the moulds are warm and the first cups are weighed, and ends with the last look: opening and closing
of the job are not in it. All times are estimates.

With more moulds a bench need not use all of them: a timeline with fewer is given where it is sooner done. Which
number of shots should share a heating is found by trying.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bench.errors import BenchError
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.station import Station
from bench.plan import pace
from bench.plan.cups import working_cups
from bench.plan.pours import groups, round_run
from bench.plan.records import Plan, Shot
from bench.plan.rhythm import Beat, Fire, MouldWalk, Rhythm, heat_lengths, planned
from bench.plan.rows import Row, rows_of
from bench.plan.schedule import Resource, Schedule, schedule
from bench.plan.tasks import Bench, works_of
from bench.plan.work import HANDS, TaskKind, Work
from bench.units import Seconds

MOST_MOULDS = 4

NEAR_ENOUGH = 1.05
"""A timeline no longer than this many times the work of the hands is left as it is: another mould could better it
by one part in twenty at most."""

CORRECTIONS = 2
"""How often a timeline is made again with the lengths of its own rhythm."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Timeline:
    """Rows by their start. ``makespan_s`` is until the last bait is out of its mould, ``hands_busy_s`` how much of
    that the hands work and ``waiting_s`` how much they do not. ``mould_count`` is how many moulds are used.
    ``steps`` measures the work that finding it took."""

    rows: tuple[Row, ...]
    makespan_s: Seconds
    hands_busy_s: Seconds
    waiting_s: Seconds
    mould_count: int
    steps: int

    def of(self, resource: Resource) -> tuple[Row, ...]:
        """What is done with it, in order."""
        return tuple(row for row in self.rows if resource in row.resources)

    @property
    def by_hand(self) -> tuple[Row, ...]:
        """What the hands do, in order: what a session follows."""
        return self.of(HANDS)


def make_timeline(plan: Plan, *, mould: Mould, plastic: Plastic, station: Station, moulds: int = 1) -> Timeline:
    """The timeline with up to so many identical moulds.

    Raises BenchError for a number of moulds that is not 1 to 4, and where no order keeps what physics asks.
    """
    if not 1 <= moulds <= MOST_MOULDS:
        raise BenchError(f"{moulds} moulds were asked for; a timeline can be made for 1 to {MOST_MOULDS}")
    return _Maker(plan, mould=mould, plastic=plastic, station=station).best(moulds)


def what_another_mould_gains_s(
    plan: Plan, *, mould: Mould, plastic: Plastic, station: Station, moulds: int = 1
) -> float:
    """How much sooner the last bait is out with one more mould than ``moulds``; 0 where it would not help."""
    maker = _Maker(plan, mould=mould, plastic=plastic, station=station)
    return maker.best(moulds).makespan_s - maker.best(moulds + 1).makespan_s


@dataclass(frozen=True, kw_only=True, slots=True)
class _Draft:
    """A schedule with what it was made of, and the shots into each mould."""

    works: tuple[Work, ...]
    made: Schedule
    beats: tuple[tuple[Beat, ...], ...]


class _Maker:
    """Makes timelines of one plan."""

    def __init__(self, plan: Plan, *, mould: Mould, plastic: Plastic, station: Station) -> None:
        cups = working_cups(plan, plastic=plastic, station=station)
        self._bench = Bench(plan=plan, mould=mould, station=station, cups=cups)
        self._timelines: dict[int, Timeline] = {}
        self._walk = MouldWalk(plan, mould=mould, plastic=plastic, station=station)

    def best(self, moulds: int) -> Timeline:
        """The shortest with up to so many moulds. Looks at one more as long as that could be worth having: what
        the hands do with one mould they do with any number."""
        best = self.with_moulds(1)
        for number in range(2, min(moulds, self._bench.plan.rounds) + 1):
            if best.makespan_s <= best.hands_busy_s * NEAR_ENOUGH:
                break
            try:
                best = min(best, self.with_moulds(number), key=lambda timeline: timeline.makespan_s)
            except BenchError:
                # Fewer moulds keep the limits that these do not.
                continue
        return best

    def with_moulds(self, moulds: int) -> Timeline:
        """The shortest of those with exactly so many moulds."""
        if moulds not in self._timelines:
            self._timelines[moulds] = self._with_moulds(moulds)
        return self._timelines[moulds]

    def _with_moulds(self, moulds: int) -> Timeline:
        found: list[Timeline] = []
        why: BenchError | None = None
        for together in range(1, self._most_together(moulds) + 1):
            try:
                found.append(self._corrected(moulds, together))
            except BenchError as error:
                # More shots to a heating bind the hands for longer: what one of them allows, four may not.
                why = why or error
        if why is not None and not found:
            raise why
        return min(found, key=lambda timeline: timeline.makespan_s)

    def _most_together(self, moulds: int) -> int:
        """The most shots of rounds that could share a heating."""
        plan, rhythm = self._bench.plan, planned(self._bench.plan)
        push_s = pace.shot_s(self._bench.station.pace)
        runs = [
            round_run(plan, shot.shot, moulds=moulds, push_s=push_s, rhythm=rhythm)
            for shot in plan.rounds_table[0].shots
        ]
        return max(len(group) for run in runs for group in groups(run, self._bench.cups, together=moulds))

    def _corrected(self, moulds: int, together: int) -> Timeline:
        """Made with the plan's lengths and again with its own. Where no order keeps its own, it stays as it is."""
        rhythm = planned(self._bench.plan)
        draft = self._draft(moulds, together, rhythm, quick=True)
        steps = draft.made.steps
        for place in range(CORRECTIONS):
            try:
                own = self._rhythm_of(draft, rhythm)
                draft, rhythm = self._draft(moulds, together, own, quick=place < CORRECTIONS - 1), own
            except BenchError:
                break
            steps += draft.made.steps
        at_c = {key: at_c for beats in draft.beats for key, at_c in self._walk.temperatures(beats).items()}
        rows = rows_of(draft.works, draft.made, at_c=at_c, cooling_s=rhythm.cooling_s)
        return _timeline(rows, draft.made.makespan_s, moulds=moulds, steps=steps)

    def _draft(self, moulds: int, together: int, rhythm: Rhythm, *, quick: bool) -> _Draft:
        works = works_of(self._bench, moulds=moulds, together=together, rhythm=rhythm)
        made = schedule([work.task for work in works], quick=quick)
        return _Draft(works=works, made=made, beats=tuple(_beats(works, made, moulds)))

    def _rhythm_of(self, draft: _Draft, used: Rhythm) -> Rhythm:
        """The lengths that a draft itself asks for."""
        walked = [self._walk.walk(beats, used.settings) for beats in draft.beats]
        return Rhythm(
            settings={key: each for mould in walked for key, each in mould.settings.items()},
            cooling_s={key: each for mould in walked for key, each in mould.cooling_s.items()},
            heats=heat_lengths(_fires(draft), self._bench.cups),
        )


def _fires(draft: _Draft) -> Iterator[Fire]:
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


def _timeline(rows: tuple[Row, ...], makespan_s: float, *, moulds: int, steps: int) -> Timeline:
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
    )
