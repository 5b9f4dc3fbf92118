"""How the steps of a script follow one another in time.

Each takes the hands' own time; a clock that counts from an earlier step ends no sooner than it says, and a cup
that is heated by itself is not finished before its burst is over.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from bench.model.step_kind import StepKind
from bench.session.step import Ending, Step


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """What is already known, seconds from now on, by the ids of steps: ``ended`` when steps ended (negative: ago),
    ``heated`` when the burst is over that a heating waits for, ``longer`` how many times longer than planned a
    clock runs. Steps that are in none of them go as planned."""

    ended: Mapping[str, float] = field(default_factory=dict)
    heated: Mapping[str, float] = field(default_factory=dict)
    longer: Mapping[str, float] = field(default_factory=dict)


def ends_s(steps: Sequence[Step], known: Known, *, start_s: float = 0.0) -> list[float]:
    """When each of these consecutive steps ends, the first beginning at ``start_s``."""
    ended = dict(known.ended)
    heated = dict(known.heated)
    at_s = start_s
    ends = []
    for step in steps:
        at_s = max(at_s, _end_s(step, at_s, ended, heated, known.longer))
        ended[step.id] = at_s
        if step.kind is StepKind.HEAT_ON and step.burst_s is not None:
            heated[heating_of(step)] = at_s + step.burst_s
        ends.append(at_s)
    return ends


def heating_of(step: Step) -> str:
    """The id of the heating that a HEAT_ON begins."""
    return step.id.removesuffix(".on")


def length_s(steps: Sequence[Step]) -> float:
    """How long they take from end to end."""
    ends = ends_s(steps, Known())
    return ends[-1] if ends else 0.0


def _end_s(
    step: Step, at_s: float, ended: Mapping[str, float], heated: Mapping[str, float], longer: Mapping[str, float]
) -> float:
    if step.ending is Ending.CLOCK:
        return ended.get(step.since, at_s) + step.length_s * longer.get(step.id, 1.0)
    return max(at_s, heated.get(step.id, at_s)) + step.length_s
