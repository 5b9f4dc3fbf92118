"""What a timeline is made of: tasks that know what they are about."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from bench.model.recipe import Part
from bench.plan.records import Shot
from bench.plan.schedule import Resource, Task
from bench.units import Seconds

HANDS = Resource("hands")
HEATER = Resource("heater")

BY_HAND = frozenset({HANDS})
BY_HEATER = frozenset({HEATER})
AT_HEATER = BY_HAND | BY_HEATER
"""What tasks need. All tasks share these sets: there are thousands, and a set each would take longer to make, to
tell apart and to keep track of than all else of them."""

LEAST_HEAT_S = 5.0
"""The shortest burst worth a stir; common practice, no source, is 5 to 10 s at the end."""

HEAT_ON_S = 10.0
"""Starting value: putting a cup on the heat and setting its first burst."""

LEAST_ALONE_S = 20.0
"""Starting value: a shorter first burst is not worth turning to something else."""

STILL_ALONE_S = 10.0
"""Starting value: one that was long enough in a draft of the same timeline is left alone down to this. Otherwise a
timeline that is made again with its own lengths would go back and forth between two."""

LONGEST_WAIT_S = 120.0
"""Starting value: from the end of a first burst until its cup is finished. What the cup loses meanwhile is heated
again."""

LONGEST_BREAK_S = 10.0
"""Starting value: between two heatings of a shared shot."""


class TaskKind(StrEnum):
    """What a task is about."""

    WEIGH = "weigh"
    HEAT_ON = "heat on"
    HEAT = "heat"
    FINISH_HEAT = "finish heat"
    WARM_UP_SHOT = "warm-up shot"
    RODS_IN = "rods in"
    SHOT = "shot"
    HOLD = "hold"
    SET = "set"
    OPEN = "open"
    RODS_OUT = "rods out"
    LOOK_AT_SHELLS = "look at shells"
    TRIM = "trim"
    SHELLS_BACK = "shells back"
    LOOK_AT_BAITS = "look at baits"
    REST_MOULD = "rest mould"


@dataclass(frozen=True, kw_only=True, slots=True)
class Work:
    """A task and what it is about. ``round`` is 0 for warm-up shots and what serves them, ``mould`` 0 and ``part``
    None for what has none, ``melt`` 0 for what is done to no cup. ``heating`` is the id of the heating that it is
    part of, and a shot's task ends with ``hold_s``."""

    task: Task
    kind: TaskKind
    round: int = 0
    mould: int = 0
    part: Part | None = None
    melt: int = 0
    from_cold: bool = False
    shot: Shot | None = None
    heating: str = ""
    hold_s: Seconds = 0.0


@cache
def mould_resource(number: int) -> Resource:
    """One of the moulds, counted from 1."""
    return Resource(f"mould {number}")
