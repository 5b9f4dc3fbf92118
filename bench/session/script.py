"""The script: a plan's timeline written out as steps, once, before the session begins.

An opening (cautions, ready the bench, warm the moulds, weigh the first cups), what the hands do in the order of
the timeline, and a closing (heat off, purge the air, clean, lay out, cure). Between them stand the clocks that the
hands may have to wait for: the set before each opening, and the rest of a mould that has to cool. All lengths come
from plan, timeline and the maker's pace.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Part
from bench.model.station import Station, WarmedBy
from bench.model.step_kind import StepKind
from bench.plan import pace
from bench.plan.records import Plan
from bench.plan.rows import Row
from bench.plan.timeline import Timeline
from bench.plan.work import TaskKind
from bench.session import pacing
from bench.session.step import Ending, Step
from bench.session.words import (
    LOOKED_AT,
    Words,
    heat_on_words,
    heat_words,
    look_words,
    open_scrap_words,
    ready_words,
    shot_words,
    warm_up_words,
    warm_words,
    weigh_words,
    words_at,
    words_of,
)


def write_script(
    *, plan: Plan, timeline: Timeline, mould: Mould, plastic: Plastic, station: Station
) -> tuple[Step, ...]:
    """The steps of that plan, in order. Ids are unique: "r2.core.set" is the core setting in round 2."""
    frame = _Frame(plan, mould, station, moulds=timeline.mould_count)
    rounds = _Rounds(plan, timeline, mould, plastic)
    return (*frame.opening(), *rounds.steps(), *frame.closing())


def script_length_s(script: tuple[Step, ...]) -> float:
    """How long the script takes from end to end: what runs inside something else adds nothing."""
    return pacing.length_s(script)


def _first_weighed(plan: Plan) -> tuple[Part, ...]:
    """The parts whose first cup the timeline takes to be weighed before it begins."""
    return plan.rounds_table[0].shots[0].parts


class _Frame:
    """Writes what comes before and after the timeline."""

    def __init__(self, plan: Plan, mould: Mould, station: Station, *, moulds: int) -> None:
        self._plan = plan
        self._mould = mould
        self._pace = station.pace
        self._moulds = moulds

    def opening(self) -> Iterator[Step]:
        yield _by_hand("cautions", words_of(StepKind.CAUTIONS), StepKind.CAUTIONS, 0.0)
        ready = ready_words(self._plan.warming, shots=self._plan.warm_up_shots)
        yield _by_hand("ready", ready, StepKind.READY, pace.ready_s(self._pace))
        if self._plan.warming is not WarmedBy.SHOTS:
            yield from (self._warm_mould(number) for number in range(1, self._moulds + 1))
        yield from (self._weigh(part) for part in _first_weighed(self._plan))

    def _weigh(self, part: Part) -> Step:
        """A cup of the first shot. The plan has it weighed while the moulds warm, so that it takes no time of its
        own; but nothing of it is heated, nor reckoned to be, before it is said to be weighed."""
        words = weigh_words(part, meanwhile=True)
        return Step(
            id=f"weigh.{part}",
            kind=StepKind.WEIGH,
            title=words.title,
            do=words.do,
            ending=Ending.HAND,
            length_s=0.0,
            parts=(part,),
            melt=self._plan.melt(part, 1).number,
        )

    def _warm_mould(self, number: int) -> Step:
        """All moulds warm together; the later ones are only read."""
        words = warm_words(self._plan.warming, number=number, of=self._moulds)
        return Step(
            id="warm-mould" if number == 1 else f"warm-mould.{number}",
            kind=StepKind.WARM_MOULD,
            title=words.title,
            do=words.do,
            meanwhile=words.meanwhile if number == 1 else "",
            ending=Ending.READING,
            length_s=self._plan.warm_mould_s if number == 1 else pace.stir_s(self._pace),
            mould=number,
            band_c=self._mould.warm_c,
        )

    def closing(self) -> Iterator[Step]:
        baits = self._plan.rounds * self._plan.cavities
        yield _by_hand("heat-off", words_of(StepKind.HEAT_OFF), StepKind.HEAT_OFF, 0.0)
        words = words_of(StepKind.PURGE_AIR)
        yield Step(
            id="purge-air",
            kind=StepKind.PURGE_AIR,
            title=words.title,
            do=words.do,
            meanwhile=words.meanwhile,
            ending=Ending.CLOCK,
            length_s=self._plan.purge_s,
            since="heat-off",
        )
        yield _by_hand("clean", words_of(StepKind.CLEAN), StepKind.CLEAN, pace.clean_s(self._pace))
        yield _by_hand("lay-out", words_of(StepKind.LAY_OUT), StepKind.LAY_OUT, pace.lay_out_s(baits, self._pace))
        yield _by_hand("cure", words_of(StepKind.CURE), StepKind.CURE, 0.0)


class _Rounds:
    """Writes the timeline's rows, one after the other, and remembers what they leave behind."""

    def __init__(self, plan: Plan, timeline: Timeline, mould: Mould, plastic: Plastic) -> None:
        self._plan = plan
        self._mould = mould
        self._plastic = plastic
        self._several = timeline.mould_count > 1
        self._by_hand = timeline.by_hand
        self._rows: Mapping[str, Row] = {row.id: row for row in timeline.rows}
        self._rests = [row for row in timeline.rows if row.kind is TaskKind.REST_MOULD]
        self._shot_into: dict[int, Row] = {}
        self._scrap: dict[int, int] = {}
        self._weighed: set[tuple[Part | None, int]] = {
            (part, plan.melt(part, 1).number) for part in _first_weighed(plan)
        }
        self._heated: set[tuple[Part | None, int]] = set()
        self._steps: list[Step] = []

    def steps(self) -> tuple[Step, ...]:
        """All of them, in order."""
        writers: Mapping[TaskKind, Callable[[Row], Step]] = {
            TaskKind.WEIGH: self._weigh,
            TaskKind.HEAT_ON: self._heat_on,
            TaskKind.FINISH_HEAT: self._heat,
            TaskKind.WARM_UP_SHOT: self._warm_up_shot,
            TaskKind.SHOT: self._shot,
            TaskKind.HOLD: self._hold,
            TaskKind.OPEN: self._open,
        }
        for row in _merged(self._by_hand):
            self._rest_before(row)
            if row.kind is TaskKind.OPEN:
                self._steps.append(self._set(row))
            self._steps.append(writers.get(row.kind, self._plain)(row))
        return tuple(self._steps)

    def _plain(self, row: Row) -> Step:
        kind = _KINDS[row.kind]
        if kind in LOOKED_AT:
            words = look_words(kind, count=self._plan.cavities)
        else:
            words = words_at(kind, mould=self._number(row) if kind in _AT_THE_MOULD else 0)
        return _by_hand(row.id, words, kind, _length_s(row), row)

    def _weigh(self, row: Row) -> Step:
        part = _part(row)
        self._weighed.add((part, row.melt))
        return _at_the_cup(row, row.id, StepKind.WEIGH, weigh_words(part), Ending.HAND)

    def _heat_on(self, row: Row) -> Step:
        burst, melt = self._rows[_stem(row)], (row.part, row.melt)
        words = heat_on_words(_part(row), fresh=melt not in self._heated, weighed=melt in self._weighed)
        return _at_the_cup(row, row.id, StepKind.HEAT_ON, words, Ending.HAND, burst_s=_length_s(burst))

    def _heat(self, row: Row) -> Step:
        stem, melt = _stem(row), (row.part, row.melt)
        words = heat_words(
            _part(row),
            fresh=melt not in self._heated,
            weighed=melt in self._weighed,
            begun=any(step.id == f"{stem}.on" for step in self._steps),
        )
        self._heated.add(melt)
        step = _at_the_cup(row, stem, StepKind.HEAT, words, Ending.READING, band_c=self._plastic.band_c)
        return replace(step, waits=True)

    def _warm_up_shot(self, row: Row) -> Step:
        self._shot_into[row.mould] = row
        self._scrap[row.mould] = number = self._scrap.get(row.mould, 0) + 1
        volumes = self._plan.volumes
        parts = self._plan.rounds_table[0].shots[0].parts
        words = warm_up_words(
            self._plan.warming,
            number=number,
            of=self._plan.warm_up_shots,
            cups=len(parts),
            mould=self._number(row),
        )
        return Step(
            id=row.id,
            kind=StepKind.WARM_UP_SHOT,
            title=words.title,
            do=words.do,
            ending=Ending.HAND,
            length_s=_length_s(row),
            mould=row.mould,
            parts=parts,
            melt=self._plan.melt(parts[0], 1).number,
            shot_ml=self._plan.cavities * volumes.bait_ml + volumes.runner_ml,
        )

    def _shot(self, row: Row) -> Step:
        assert row.shot is not None, "a round's shot is the shot of something"
        self._shot_into[row.mould] = row
        shot = self._plan.rounds_table[row.round - 1].shot(row.shot)
        words = shot_words(row.shot, cups=len(shot.parts), mould=self._number(row))
        return Step(
            id=row.id,
            kind=StepKind.SHOT,
            title=words.title,
            do=words.do,
            ending=Ending.HAND,
            length_s=_length_s(row),
            round=row.round,
            mould=row.mould,
            parts=shot.parts,
            melt=self._plan.melt(shot.parts[0], row.round).number,
            shot=row.shot,
            shot_ml=shot.volume_ml,
        )

    def _hold(self, row: Row) -> Step:
        assert row.shot is not None, "a round's hold is that of its shot"
        shot = self._shot_into[row.mould]
        top_off_ml = self._plan.rounds_table[row.round - 1].shot(row.shot).top_off_ml
        return self._clock(row, row.id, StepKind.HOLD, shot, row.end_s, top_off_ml=top_off_ml)

    def _set(self, opening: Row) -> Step:
        stem = opening.id.removesuffix(".open")
        shot, setting = self._rows[f"{stem}.shot"], self._rows[f"{stem}.set"]
        return self._clock(opening, setting.id, StepKind.SET, shot, setting.end_s)

    def _open(self, row: Row) -> Step:
        number = self._number(row)
        words = words_at(StepKind.OPEN, mould=number) if row.round else open_scrap_words(number)
        shot = self._shot_into[row.mould]
        return _by_hand(row.id, words, StepKind.OPEN, _length_s(row), row, shot=shot)

    def _rest_before(self, row: Row) -> None:
        """The rest of a mould stands before what is done at it next, and before its cup is finished, for which it
        leaves the time: no hot cup waits for a mould."""
        if row.kind not in (TaskKind.RODS_IN, TaskKind.SHOT, TaskKind.WARM_UP_SHOT):
            return
        due = [each for each in self._rests if each.mould == row.mould and each.start_s <= row.start_s]
        for rest in due:
            self._rests.remove(rest)
            place, end_s = len(self._steps), rest.end_s
            while row.kind is not TaskKind.RODS_IN and self._steps[place - 1].kind is StepKind.HEAT:
                place -= 1
                end_s -= self._steps[place].length_s
            shot = self._shot_into[row.mould]
            if end_s > shot.end_s:
                step = self._clock(rest, rest.id, StepKind.REST_MOULD, shot, end_s)
                self._steps.insert(place, step)

    def _clock(
        self,
        row: Row,
        step_id: str,
        kind: StepKind,
        shot: Row,
        end_s: float,
        *,
        top_off_ml: float | None = None,
    ) -> Step:
        """A clock that counts from the end of a push."""
        words = words_at(kind, mould=self._number(row))
        is_rest = kind is StepKind.REST_MOULD
        return Step(
            id=step_id,
            kind=kind,
            title=words.title,
            do=words.do,
            meanwhile=words.meanwhile,
            ending=Ending.CLOCK,
            length_s=end_s - shot.end_s,
            since=shot.id,
            round=row.round,
            mould=row.mould,
            shot=shot.shot if row.round and not is_rest else None,
            top_off_ml=top_off_ml,
            band_c=self._mould.warm_c if is_rest else None,
            mould_c=shot.mould_c if kind is StepKind.SET else None,
            passes=kind is not StepKind.HOLD,
        )

    def _number(self, row: Row) -> int:
        """The number to say of the row's mould: none where there is one only."""
        return row.mould if self._several else 0


def _merged(rows: Sequence[Row]) -> Iterator[Row]:
    """The rows; a cup that the hands would wait for in any case is heated in one step from its first burst on."""
    put_on: Row | None = None
    for row, after in zip(rows, [*rows[1:], None], strict=True):
        if put_on is not None:
            row, put_on = replace(row, start_s=put_on.start_s), None
        if row.kind is TaskKind.HEAT_ON and after is not None and _stem(after) == _stem(row):
            put_on = row
            continue
        yield row


def _stem(row: Row) -> str:
    return row.id.removesuffix(".on").removesuffix(".finish")


_KINDS: Mapping[TaskKind, StepKind] = {
    TaskKind.RODS_IN: StepKind.RODS_IN,
    TaskKind.RODS_OUT: StepKind.RODS_OUT,
    TaskKind.LOOK_AT_SHELLS: StepKind.LOOK_AT_SHELLS,
    TaskKind.TRIM: StepKind.TRIM,
    TaskKind.SHELLS_BACK: StepKind.SHELLS_BACK,
    TaskKind.LOOK_AT_BAITS: StepKind.LOOK_AT_BAITS,
}
_AT_THE_MOULD = frozenset({StepKind.RODS_IN, StepKind.RODS_OUT, StepKind.SHELLS_BACK})


def _length_s(row: Row) -> float:
    return row.end_s - row.start_s


def _part(row: Row) -> Part:
    assert row.part is not None, "what is done to a cup is done to that of a part"
    return row.part


def _at_the_cup(
    row: Row,
    step_id: str,
    kind: StepKind,
    words: Words,
    ending: Ending,
    *,
    burst_s: float | None = None,
    band_c: tuple[float, float] | None = None,
) -> Step:
    return Step(
        id=step_id,
        kind=kind,
        title=words.title,
        do=words.do,
        meanwhile=words.meanwhile,
        ending=ending,
        length_s=_length_s(row),
        round=row.round,
        mould=max(1, row.mould),
        parts=(_part(row),),
        melt=row.melt,
        burst_s=burst_s,
        band_c=band_c,
    )


def _by_hand(
    step_id: str, words: Words, kind: StepKind, length_s: float, row: Row | None = None, *, shot: Row | None = None
) -> Step:
    return Step(
        id=step_id,
        kind=kind,
        title=words.title,
        do=words.do,
        meanwhile=words.meanwhile,
        ending=Ending.HAND,
        length_s=length_s,
        round=row.round if row else 0,
        mould=max(1, row.mould) if row else 1,
        shot=shot.shot if shot and shot.round else None,
    )
