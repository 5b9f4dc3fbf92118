"""The script: a plan written out as steps, once, before the session begins.

Order of a job, whatever the build: an opening (cautions, ready the bench, warm the moulds), for each round its
heats, shots and looks, and a closing (heat off, purge the air, clean, lay out, cure). The lengths come from the
plan and the maker's pace; their sum is the plan's total.
"""

from __future__ import annotations

from collections.abc import Iterator

from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Part
from bench.model.station import Station
from bench.model.step_kind import StepKind
from bench.plan import pace
from bench.plan.records import Heating, Plan, RoundPlan, Shot, ShotPlan
from bench.session.step import Ending, Step
from bench.session.words import SHOT_WORDS, Words, heat_words, words_of


class _Writer:
    """Writes the steps of one plan. Holds what every step needs and nothing that changes."""

    def __init__(self, plan: Plan, mould: Mould, plastic: Plastic, station: Station) -> None:
        self.plan = plan
        self.mould = mould
        self.plastic = plastic
        self.station = station
        self.pace = station.pace
        self.cut = plan.cavities if plan.build.has_core and plan.tail == "cut" else 0

    def opening(self) -> Iterator[Step]:
        yield _by_hand("cautions", StepKind.CAUTIONS, 0.0)
        yield _by_hand("ready", StepKind.READY, pace.ready_s(self.pace))
        words = words_of(StepKind.WARM_MOULD)
        yield Step(
            id="warm-mould",
            kind=StepKind.WARM_MOULD,
            title=words.title,
            do=words.do,
            meanwhile=words.meanwhile,
            ending=Ending.READING,
            length_s=self.plan.warm_mould_s,
            band_c=self.mould.warm_c,
        )

    def round(self, round_plan: RoundPlan) -> Iterator[Step]:
        number = round_plan.round
        first, *later = round_plan.shots
        if number == 1:
            yield from self._warm_up(first)
        if round_plan.rest_s > 0:
            yield self._rest(number, round_plan.rest_s)
        if self.plan.build.has_core:
            yield _by_hand(f"r{number}.rods-in", StepKind.RODS_IN, pace.rods_in_s(self.mould, self.pace), number)
        yield from self._heats(f"r{number}", number, first.heats)
        yield from self._shot(number, first)
        for shot in later:
            yield from self._between(number)
            yield from self._heats(f"r{number}", number, shot.heats)
            yield from self._shot(number, shot)
        yield _by_hand(f"r{number}.look", StepKind.LOOK_AT_BAITS, pace.look_s(self.pace), number)

    def closing(self) -> Iterator[Step]:
        baits = self.plan.rounds * self.plan.cavities
        yield _by_hand("heat-off", StepKind.HEAT_OFF, 0.0)
        words = words_of(StepKind.PURGE_AIR)
        yield Step(
            id="purge-air",
            kind=StepKind.PURGE_AIR,
            title=words.title,
            do=words.do,
            meanwhile=words.meanwhile,
            ending=Ending.CLOCK,
            length_s=self.plan.purge_s,
            since="heat-off",
        )
        yield _by_hand("clean", StepKind.CLEAN, pace.clean_s(self.pace))
        yield _by_hand("lay-out", StepKind.LAY_OUT, pace.lay_out_s(baits, self.pace))
        yield _by_hand("cure", StepKind.CURE, 0.0)

    def _rest(self, number: int, length_s: float) -> Step:
        words = words_of(StepKind.REST_MOULD)
        return Step(
            id=f"r{number}.rest",
            kind=StepKind.REST_MOULD,
            title=words.title,
            do=words.do,
            meanwhile=words.meanwhile,
            ending=Ending.CLOCK,
            length_s=length_s,
            round=number,
            band_c=self.mould.warm_c,
        )

    def _heats(self, prefix: str, number: int, heats: tuple[Heating, ...]) -> Iterator[Step]:
        seen: set[Part] = set()
        for heating in heats:
            again = ".again" if heating.part in seen else ""
            seen.add(heating.part)
            words = heat_words(heating.part, fresh=heating.from_cold)
            yield Step(
                id=f"{prefix}.heat.{heating.part}{again}",
                kind=StepKind.HEAT,
                title=words.title,
                do=words.do,
                meanwhile=words.meanwhile,
                ending=Ending.READING,
                length_s=heating.total_s,
                round=number,
                parts=(heating.part,),
                melt=heating.melt,
                band_c=self.plastic.band_c,
            )

    def _warm_up(self, first: ShotPlan) -> Iterator[Step]:
        yield from self._heats("warm-up", 0, self.plan.warm_up_heats)
        volumes, cavities = self.plan.volumes, self.plan.cavities
        whole_ml = cavities * volumes.bait_ml + volumes.runner_ml
        words, setting = words_of(StepKind.WARM_UP_SHOT), words_of(StepKind.SET)
        for shot in range(1, self.plan.warm_up_shots + 1):
            shot_id = f"warm-up{shot}.shot"
            yield Step(
                id=shot_id,
                kind=StepKind.WARM_UP_SHOT,
                title=words.title,
                do=words.do,
                ending=Ending.HAND,
                length_s=pace.shot_s(self.pace),
                parts=first.parts,
                melt=1,
                shot_ml=whole_ml,
            )
            yield Step(
                id=f"warm-up{shot}.set",
                kind=StepKind.SET,
                title=setting.title,
                do=setting.do,
                meanwhile=setting.meanwhile,
                ending=Ending.CLOCK,
                length_s=self.plan.warm_up_set_s,
                since=shot_id,
            )
            yield _by_hand(f"warm-up{shot}.open", StepKind.OPEN, pace.open_s(self.mould, self.pace))

    def _shot(self, number: int, shot: ShotPlan) -> Iterator[Step]:
        prefix = f"r{number}.{shot.shot}"
        words = SHOT_WORDS[shot.shot]
        yield Step(
            id=f"{prefix}.shot",
            kind=StepKind.SHOT,
            title=words.title,
            do=words.do,
            ending=Ending.HAND,
            length_s=pace.shot_s(self.pace),
            round=number,
            parts=shot.parts,
            melt=self.plan.melt(shot.parts[0], number).number,
            shot=shot.shot,
            shot_ml=shot.volume_ml,
        )
        yield self._clock(f"{prefix}.hold", StepKind.HOLD, shot.hold_s, number, shot)
        yield self._clock(f"{prefix}.set", StepKind.SET, max(shot.set_s, shot.hold_s), number, shot)
        yield _by_hand(f"{prefix}.open", StepKind.OPEN, pace.open_s(self.mould, self.pace), number, shot.shot)

    def _clock(self, step_id: str, kind: StepKind, length_s: float, number: int, shot: ShotPlan) -> Step:
        words = words_of(kind)
        return Step(
            id=step_id,
            kind=kind,
            title=words.title,
            do=words.do,
            meanwhile=words.meanwhile,
            ending=Ending.CLOCK,
            length_s=length_s,
            since=f"r{number}.{shot.shot}.shot",
            round=number,
            shot=shot.shot,
            top_off_ml=shot.top_off_ml if kind is StepKind.HOLD else None,
        )

    def _between(self, number: int) -> Iterator[Step]:
        yield _by_hand(f"r{number}.rods-out", StepKind.RODS_OUT, pace.rods_out_s(self.mould, self.pace), number)
        yield _by_hand(f"r{number}.look-at-shells", StepKind.LOOK_AT_SHELLS, pace.look_s(self.pace), number)
        if self.plan.volumes.tail_ml > 0:
            yield _by_hand(f"r{number}.trim", StepKind.TRIM, pace.trim_s(self.cut, self.pace), number)
        yield _by_hand(
            f"r{number}.shells-back", StepKind.SHELLS_BACK, pace.shells_back_s(self.mould, self.pace), number
        )


def write_script(*, plan: Plan, mould: Mould, plastic: Plastic, station: Station) -> tuple[Step, ...]:
    """The steps of that plan, in order. Ids are unique: "r2.core.set" is the core setting in round 2."""
    writer = _Writer(plan, mould, plastic, station)
    steps = list(writer.opening())
    for round_plan in plan.rounds_table:
        steps.extend(writer.round(round_plan))
    steps.extend(writer.closing())
    return tuple(steps)


def script_length_s(script: tuple[Step, ...]) -> float:
    """How long the script takes from end to end: a hold runs inside its set, so it adds nothing."""
    return sum(step.length_s for step in script if step.kind is not StepKind.HOLD)


def _by_hand(step_id: str, kind: StepKind, length_s: float, number: int = 0, shot: Shot | None = None) -> Step:
    words: Words = words_of(kind)
    return Step(
        id=step_id,
        kind=kind,
        title=words.title,
        do=words.do,
        meanwhile=words.meanwhile,
        ending=Ending.HAND,
        length_s=length_s,
        round=number,
        shot=shot,
    )
