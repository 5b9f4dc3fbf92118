"""Which core shows best under a shell, and which makes it read as a third colour, that of neither."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from bench.colour.flake import Flaked
from bench.colour.lab import Lab
from bench.colour.layers import Medium
from bench.colour.views import CoreViews, Section, look
from bench.colour.window import VISIBLE_AT_LEAST

THIRD_AT_LEAST = 8.0
"""Starting value, CIEDE2000, by which a third colour is off both the shell alone and the core alone: clearly more
than a colour that is plainly another one; common practice, no source."""

OTHER_HUE_DEGREES = 20.0
"""Starting value for another hue, degrees of hue angle: about a fifth of the way between two of the four plain
hues; common practice, no source."""

GREY_BELOW = 6.0
"""Chroma below which a colour has no hue to speak of; starting value."""


class Ranking(StrEnum):
    """What cores are ranked by."""

    SHOWS = "shows"
    THIRD = "third"


class Reads(StrEnum):
    """What one sees of a core: a third colour has a hue that is neither the shell's nor the core's own."""

    HIDDEN = "hidden"
    LIGHTER = "the shell, lighter"
    DARKER = "the shell, darker"
    OWN = "its own colour"
    THIRD = "a third colour"


@dataclass(frozen=True, kw_only=True, slots=True)
class Candidate:
    """A core under a shell, and what it does."""

    name: str
    views: CoreViews
    reads: Reads


def ranked_cores(
    *,
    shell: Medium,
    base: Medium,
    cores: Mapping[str, Medium],
    section: Section,
    flaked: Flaked | None = None,
    by: Ranking = Ranking.SHOWS,
) -> tuple[Candidate, ...]:
    """The cores by name: the one that shows best first, or the strongest third colour; equal ones by name.

    Raises BenchError for a section that leaves no wall.
    """
    found: list[Candidate] = []
    for name, core in cores.items():
        all_views = look(shell=shell, base=base, core=core, section=section, flaked=flaked)
        if all_views.core is not None:
            reads = reads_as(all_views.core, shell=all_views.shell_alone.lab)
            found.append(Candidate(name=name, views=all_views.core, reads=reads))
    return tuple(sorted(found, key=lambda each: (*_strength(each, by), each.name)))


def _strength(each: Candidate, by: Ranking) -> tuple[float, ...]:
    """Negative where it should come first. What reads as a third colour comes before what only differs."""
    if by is Ranking.SHOWS:
        return -each.views.visibility, -each.views.third_colour
    return float(each.reads is not Reads.THIRD), -each.views.third_colour, -each.views.visibility


def reads_as(views: CoreViews, *, shell: Lab) -> Reads:
    """What one sees of a core under a shell whose own colour, without a core, is ``shell``."""
    over, core = views.over_core.lab, views.core_alone.lab
    if views.visibility < VISIBLE_AT_LEAST:
        return Reads.HIDDEN
    from_shell, from_core = hue_off_degrees(over, shell), hue_off_degrees(over, core)
    if views.third_colour >= THIRD_AT_LEAST and min(from_shell, from_core) >= OTHER_HUE_DEGREES:
        return Reads.THIRD
    if from_core < OTHER_HUE_DEGREES and from_core <= from_shell:
        return Reads.OWN
    return Reads.LIGHTER if over.lightness >= shell.lightness else Reads.DARKER


def hue_off_degrees(one: Lab, other: Lab) -> float:
    """How far apart two hues are, 0 to 180 degrees; 0 between two greys, 180 between a grey and a colour."""
    chromas = [math.hypot(each.a, each.b) for each in (one, other)]
    if min(chromas) < GREY_BELOW:
        return 0.0 if max(chromas) < 2 * GREY_BELOW else 180.0
    turn = math.degrees(math.atan2(one.b, one.a) - math.atan2(other.b, other.a)) % 360
    return min(turn, 360 - turn)
