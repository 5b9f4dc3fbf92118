"""Cautions: words that keep a maker from harm, with their source and when they are shown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bench.errors import Fault
from bench.model.step_kind import StepKind
from bench.units import Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class Caution:
    """``words`` is the line on screen, ``brief`` the same for a window that has no room for it (empty: the words
    stand there too), ``more`` the sentence behind it, ``source`` who says so.

    ``at_start`` cautions are acknowledged, group by group, before anything is heated. ``steps`` shows it as the
    caution of the moment at those steps. ``above_scorch`` shows it when a reading passes the scorch limit.
    ``every_s`` brings it back as a reminder while anything is hot.
    """

    name: str
    group: str
    words: str
    more: str
    source: str
    at_start: bool = False
    steps: tuple[StepKind, ...] = ()
    above_scorch: bool = False
    every_s: Seconds | None = None
    brief: str = ""

    def faults(self) -> Iterator[Fault]:
        """A caution that nothing shows protects nobody."""
        if not (self.at_start or self.steps or self.above_scorch or self.every_s):
            yield Fault(
                key="at_start",
                found=f"no moment at which to show {self.name}",
                wanted="at_start, steps, above_scorch or every",
            )
        if self.every_s is not None and self.every_s <= 0:
            yield Fault(key="every", found=f"{self.every_s:g} s", wanted="more than 0 s")
