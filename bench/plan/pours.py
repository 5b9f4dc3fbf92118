"""The pours of a job: every push from a cup, dealt over the moulds, and which of them share a heating.

Rounds are dealt in turn: with two moulds, round 1 goes into mould 1, round 2 into mould 2, round 3 into mould 1.
Every mould has its warm-up shots. Consecutive pours from the same melts share a heating while their pushes, done
without a break, all end inside the time that the cup stays in band, and they go once through the moulds at most.
A shot of two sides has its heatings to itself: the side that is heated first has waited for the other.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.model.recipe import Part
from bench.plan.cups import WorkingCup
from bench.plan.records import Melt, Plan, Shot
from bench.plan.rhythm import Rhythm
from bench.units import Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class Pour:
    """One push. ``round`` is 0 for a warm-up shot, ``number`` which of its mould's. The hands are at it for
    ``push_s`` and then ``hold_s``; the mould may be opened ``set_s`` after the push."""

    id: str
    words: str
    round: int
    mould: int
    number: int
    shot: Shot
    melts: tuple[Melt, ...]
    push_s: Seconds
    hold_s: Seconds
    set_s: Seconds

    @property
    def length_s(self) -> float:
        """How long it binds the hands."""
        return self.push_s + self.hold_s

    def sibling(self, what: str) -> str:
        """The id of another task that belongs to it."""
        return f"{self.id.removesuffix('.shot')}.{what}"


def mould_of(round_number: int, moulds: int) -> int:
    """The mould of that round, counted from 1."""
    return (round_number - 1) % moulds + 1


def warm_up_runs(plan: Plan, *, moulds: int, push_s: float) -> list[list[Pour]]:
    """The first warm-up shots of all moulds, the second ones, and so on."""
    first = plan.rounds_table[0].shots[0]
    return [
        [
            Pour(
                id=f"m{mould}.warm-up{number}.shot",
                words=f"warm-up shot {number} into mould {mould}",
                round=0,
                mould=mould,
                number=number,
                shot=first.shot,
                melts=tuple(plan.melt(part, 1) for part in first.parts),
                push_s=push_s,
                hold_s=0.0,
                set_s=plan.warm_up_set_s,
            )
            for mould in range(1, moulds + 1)
        ]
        for number in range(1, plan.warm_up_shots + 1)
    ]


def round_run(plan: Plan, shot: Shot, *, moulds: int, push_s: float, rhythm: Rhythm) -> list[Pour]:
    """That shot of all rounds."""
    pours = []
    serving = {part.part: part.melt_by_round for part in plan.parts}
    for each in plan.rounds_table:
        setting = rhythm.settings[each.round, shot]
        name = "shot" if shot is Shot.WHOLE else f"{shot} shot"
        pours.append(
            Pour(
                id=shot_id(each.round, shot),
                words=f"the {name} of round {each.round}",
                round=each.round,
                mould=mould_of(each.round, moulds),
                number=0,
                shot=shot,
                melts=tuple(serving[part][each.round] for part in each.shot(shot).parts),
                push_s=push_s,
                hold_s=setting.hold_s,
                set_s=setting.set_s,
            )
        )
    return pours


def shot_id(round_number: int, shot: Shot) -> str:
    """The id of that shot's task."""
    return f"r{round_number}.{shot}.shot"


def groups(
    run: Sequence[Pour], cups: Mapping[tuple[Part, int], WorkingCup], *, together: int
) -> list[tuple[Pour, ...]]:
    """The run in groups that share a heating, of at most ``together`` pours."""
    done: list[tuple[Pour, ...]] = []
    for pour in run:
        if done and len(done[-1]) < together and _joins(pour, done[-1], cups):
            done[-1] = (*done[-1], pour)
        else:
            done.append((pour,))
    return done


def _joins(pour: Pour, group: tuple[Pour, ...], cups: Mapping[tuple[Part, int], WorkingCup]) -> bool:
    # A group that went on from the last mould to the first would wait for that mould's core, and the core for it.
    if pour.melts != group[0].melts or len(pour.melts) > 1 or pour.mould <= group[-1].mould:
        return False
    cup = cups[pour.melts[0].part, pour.melts[0].number]
    return sum(each.length_s for each in group) + pour.push_s <= cup.in_band_s
