"""One step of a session, as the script writes it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.plan.records import Shot
from bench.units import Celsius, Millilitres, Seconds

HEATING = frozenset({StepKind.WARM_MOULD, StepKind.HEAT_ON, StepKind.HEAT})
"""Steps that put heat into something: none is entered before the opening cautions are acknowledged."""


class Ending(StrEnum):
    """How a step ends when nobody interferes. By hand always works as well."""

    HAND = "hand"
    CLOCK = "clock"
    READING = "reading"


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """What to do, how it ends and how long that should take.

    ``length_s`` comes from the plan. For a step that ends by clock it counts from the end of the step ``since``
    (from its own beginning where that is empty): a mould sets from the shot on, whatever was done in between.
    ``parts`` are the cups it is about, ``melt`` which melt of them; a reading inside ``band_c`` ends the step,
    whatever else may. ``mould`` is which of the moulds it is about, counted from 1.
    ``meanwhile`` is what the hands can do while a clock runs. Numbers are left to the screen, which knows the
    user's units. ``burst_s`` is how long the burst is planned to be that runs by itself from the end of a HEAT_ON
    on, ``mould_c`` the mould for which a set was reckoned. A clock that ``passes`` is passed over where it is over
    when the step before it ends. A heating that ``waits`` begins when the maker says that its cup is on the heat.
    """

    id: str
    kind: StepKind
    title: str
    do: str
    ending: Ending
    length_s: Seconds
    since: str = ""
    round: int = 0
    mould: int = 1
    parts: tuple[Part, ...] = ()
    melt: int = 0
    shot: Shot | None = None
    shot_ml: Millilitres | None = None
    top_off_ml: Millilitres | None = None
    band_c: tuple[Celsius, Celsius] | None = None
    meanwhile: str = ""
    burst_s: Seconds | None = None
    mould_c: Celsius | None = None
    passes: bool = False
    waits: bool = False

    @property
    def heats(self) -> bool:
        """Whether it puts heat into something."""
        return self.kind in HEATING
