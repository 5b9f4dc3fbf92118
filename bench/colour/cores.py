"""Which core makes a shell read as a third colour: neither the shell's own nor the core's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bench.colour.layers import Medium
from bench.colour.views import CoreViews, Section, look


@dataclass(frozen=True, kw_only=True, slots=True)
class Candidate:
    """A core under a shell, and what it does."""

    name: str
    views: CoreViews


def ranked_cores(
    *, shell: Medium, base: Medium, cores: Mapping[str, Medium], section: Section
) -> tuple[Candidate, ...]:
    """The cores by name, the strongest third colour first, equal ones by visibility, then by name.

    Raises BenchError for a section that leaves no wall.
    """
    found: list[Candidate] = []
    for name, core in cores.items():
        views = look(shell=shell, base=base, core=core, section=section).core
        if views is not None:
            found.append(Candidate(name=name, views=views))
    return tuple(sorted(found, key=lambda each: (-each.views.third_colour, -each.views.visibility, each.name)))
